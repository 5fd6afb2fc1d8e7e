#include "engine/merge.h"

#include <string.h>

#include "base/text.h"

static bool same(const struct finding *a, const struct finding *b)
{
	return a->place.byte == b->place.byte && a->place.in_job == b->place.in_job &&
	       a->place.at.x == b->place.at.x && a->place.at.y == b->place.at.y &&
	       a->severity == b->severity && !a->silence == !b->silence &&
	       strcmp(a->rule, b->rule) == 0 && strcmp(a->message, b->message) == 0;
}

/* Whether a job stands among the first `count` of a group. */
static bool has_job(const struct finding *group, uint32_t count, const char *job)
{
	for (uint32_t i = 0; i < count; i++) {
		if (group[i].job == job)
			return true;
	}
	return false;
}

static uint32_t count_jobs(const struct finding *group, uint32_t count)
{
	uint32_t jobs = 0;
	for (uint32_t i = 0; i < count; i++)
		jobs += !has_job(group, i, group[i].job);
	return jobs;
}

static const char *join_jobs(struct findings *out, const struct finding *group, uint32_t count)
{
	struct text text = {0};
	uint32_t jobs = count_jobs(group, count), listed = 0;
	for (uint32_t i = 0; i < count; i++) {
		if (has_job(group, i, group[i].job))
			continue;
		const char *before = listed == 0 ? "" : listed + 1 == jobs ? " and " : ", ";
		text_format(&text, "%s%s", before, group[i].job);
		listed++;
	}
	const char *joined = text_keep(&text, out->arena);
	out->failed = out->failed || !joined;
	return joined;
}

/* Findings that are the same stand together: turns each such group into one. */
static void fold_groups(struct findings *out, uint32_t job_count)
{
	uint32_t kept = 0, next;
	for (uint32_t i = 0; i < out->count; i = next) {
		struct finding *group = &out->items[i];
		for (next = i + 1; next < out->count && same(group, &out->items[next]);)
			next++;
		bool all = count_jobs(group, next - i) == job_count;
		struct finding one = *group;
		one.job = all ? NULL : join_jobs(out, group, next - i);
		out->items[kept++] = one;
	}
	out->count = kept;
}

/* The first list is taken as it is, the others are added to it. */
static void add_all(struct findings *out, const struct findings *added, const char *job)
{
	uint32_t first = out->count;
	out->failed = out->failed || added->failed;
	if (first == 0) {
		out->items = added->items;
		out->count = added->count;
		out->capacity = added->capacity;
	}
	for (uint32_t i = 0; i < added->count && first > 0; i++) {
		struct finding *finding = findings_add(out);
		if (!finding)
			return;
		*finding = added->items[i];
	}
	for (uint32_t i = first; i < out->count; i++)
		out->items[i].job = job;
}

void findings_merge(struct findings *out, const struct findings *each, const char *const *names,
		    uint32_t count)
{
	for (uint32_t i = 0; i < count; i++)
		add_all(out, &each[i], names[i]);
	findings_sort(out);
	fold_groups(out, count);
}
