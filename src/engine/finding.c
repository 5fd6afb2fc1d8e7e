#include "engine/finding.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "base/permute.h"
#include "base/text.h"
#include "engine/grow.h"

struct finding *findings_add(struct findings *findings)
{
	struct finding *items = list_grow(findings->arena, findings->items, findings->count,
					  &findings->capacity, sizeof(*items));
	if (!items) {
		findings->failed = true;
		return NULL;
	}
	findings->items = items;
	struct finding *finding = &items[findings->count++];
	*finding = (struct finding){0};
	return finding;
}

static const char *format_copy(struct findings *findings, const char *format, va_list arguments)
{
	const char *copy = text_vkeep(findings->arena, format, arguments);
	findings->failed = findings->failed || !copy;
	return copy;
}

struct finding *findings_say(struct findings *findings, const char *code,
			     enum cutlint_severity severity, const struct finding_place *place,
			     const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	const char *message = format_copy(findings, format, arguments);
	va_end(arguments);
	struct finding *finding = message ? findings_add(findings) : NULL;
	if (finding)
		*finding = (struct finding){
			.rule = code, .severity = severity, .message = message, .place = *place};
	return finding;
}

void findings_suggest(struct findings *findings, struct finding *finding, const char *format, ...)
{
	if (!finding)
		return;
	va_list arguments;
	va_start(arguments, format);
	finding->suggestion = format_copy(findings, format, arguments);
	va_end(arguments);
}

/* What the sort looks at; `file` counts the files in the order in which they were first named. */
struct sorted {
	const struct finding *finding;
	uint32_t file, before;
};

static int compare_numbers(double a, double b)
{
	return (a > b) - (a < b);
}

static int compare(const void *left, const void *right)
{
	const struct sorted *a = left, *b = right;
	if (a->finding->place.in_job != b->finding->place.in_job)
		return a->finding->place.in_job ? 1 : -1;
	if (a->file != b->file)
		return a->file < b->file ? -1 : 1;
	if (a->finding->place.byte != b->finding->place.byte)
		return a->finding->place.byte < b->finding->place.byte ? -1 : 1;
	int order = strcmp(a->finding->rule, b->finding->rule);
	if (!order)
		order = strcmp(a->finding->message, b->finding->message);
	if (!order)
		order = compare_numbers(a->finding->place.at.x, b->finding->place.at.x);
	if (!order)
		order = compare_numbers(a->finding->place.at.y, b->finding->place.at.y);
	return order ? order : compare_numbers(a->before, b->before);
}

static bool same_file(const char *a, const char *b)
{
	return a == b || (a && b && strcmp(a, b) == 0);
}

/* Findings of one file come together, so the search from the last one is short. */
static uint32_t number_of_file(const struct sorted *items, uint32_t count, const char *file,
			       uint32_t *file_count)
{
	for (uint32_t i = count; i-- > 0;) {
		if (same_file(items[i].finding->place.file, file))
			return items[i].file;
	}
	return (*file_count)++;
}

static void put_in_order(const struct findings *findings, struct sorted *items, uint32_t *from)
{
	uint32_t file_count = 0;
	for (uint32_t i = 0; i < findings->count; i++) {
		const char *file = findings->items[i].place.file;
		items[i].finding = &findings->items[i];
		items[i].before = i;
		items[i].file = number_of_file(items, i, file, &file_count);
	}
	qsort(items, findings->count, sizeof(*items), compare);
	for (uint32_t i = 0; i < findings->count; i++)
		from[i] = items[i].before;
}

void findings_sort(struct findings *findings)
{
	if (findings->count < 2)
		return;
	struct sorted *items = calloc(findings->count, sizeof(*items));
	uint32_t *from = calloc(findings->count, sizeof(*from));
	if (items && from) {
		put_in_order(findings, items, from);
		permute(findings->items, sizeof(*findings->items), from, findings->count);
	} else {
		findings->failed = true;
	}
	free(items);
	free(from);
}

const char *severity_word(enum cutlint_severity severity)
{
	switch (severity) {
	case CUTLINT_NOTE:
		return "note";
	case CUTLINT_WARNING:
		return "warning";
	case CUTLINT_ERROR:
		break;
	}
	return "error";
}
