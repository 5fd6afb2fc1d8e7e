#include "job/job.h"

#include <string.h>

#include "job/lettering.h"
#include "job/pattern.h"
#include "job/reading.h"
#include "job/stock.h"

/* A job file is a page of text; more is some other file by mistake. */
#define FILE_MOST ((uint32_t)1 << 20)

static int read_text(struct reading *reading)
{
	if (job_read_sections(reading) < 0)
		return -1;
	job_find_repeats(reading);
	job_read_facts(reading);
	return 0;
}

static int read_defaults(struct reading *reading)
{
	struct job *job = reading->job;
	job->facts = (struct cutlint_job){.stock_colour = CUTLINT_NO_COLOUR,
					  .inset_colour = CUTLINT_NO_COLOUR};
	if (source_index(&job->source, reading->arena, "the built-in job", job_default_text,
			 (uint32_t)strlen(job_default_text)) < 0 ||
	    read_text(reading) < 0)
		return -1;
	job->facts.side_given = job->facts.spine_given = false;
	return 0;
}

/* What the stock's thickness and grammage are when a job names one of them, or none. */
static void settle_stock(struct cutlint_job *facts, const struct cutlint_job *defaults)
{
	if (facts->stock_thickness_mm == 0 && facts->stock_grammage == 0) {
		facts->stock_thickness_mm = defaults->stock_thickness_mm;
		facts->stock_grammage = defaults->stock_grammage;
	} else if (facts->stock_thickness_mm == 0) {
		facts->stock_thickness_mm =
			stock_caliper_mm(facts->stock_grammage, facts->stock_coated);
	}
}

static int read_file(struct reading *reading, const char *path)
{
	struct job *job = reading->job;
	const struct cutlint_job defaults = job->facts;
	const char *name = arena_copy(reading->arena, path, strlen(path));
	job->sections = NULL;
	job->section_count = 0;
	if (!name || source_index(&job->source, reading->arena, name, "", 0) < 0)
		return -1;
	job->facts.file = name;
	if (source_read(&job->source, reading->arena, path, name,
			(struct source_limit){FILE_MOST, NULL}, reading->notices) < 0)
		return 0;

	job->facts.stock_thickness_mm = job->facts.stock_grammage = 0;
	int result = read_text(reading);
	settle_stock(&job->facts, &defaults);
	return result;
}

/* By place: mistakes of syntax are met before those of meaning. At most some hundred. */
static void sort_mistakes(struct notices *notices, uint32_t first)
{
	struct notice *items = notices->items;
	for (uint32_t i = first + 1; i < notices->count; i++) {
		struct notice moved = items[i];
		uint32_t at = i;
		for (; at > first && items[at - 1].byte > moved.byte; at--)
			items[at] = items[at - 1];
		items[at] = moved;
	}
}

int job_load(struct arena *arena, const char *path, struct notices *notices, struct job **out)
{
	int fatal = notices->fatal_count;
	uint32_t first = notices->count;
	struct job *job = *out = ARENA_NEW(arena, struct job);
	struct reading reading = {.job = job, .arena = arena, .notices = notices};
	if (job)
		job->roles = ARENA_NEW(arena, struct job_roles);
	if (!job || !job->roles || read_defaults(&reading) < 0 ||
	    (path && read_file(&reading, path) < 0))
		notice_add(notices, NOTICE_FATAL, "job", 0, 0, "out of memory");
	sort_mistakes(notices, first);
	return notices->fatal_count > fatal ? -1 : 0;
}

void job_finish(struct job *job)
{
	if (!job)
		return;
	job_roles_finish(job->roles);
	job_stretches_finish(job);
	job_lettering_finish(job);
}

const struct job_entry *job_find_entry(const struct job_section *section, const char *key)
{
	for (uint32_t i = 0; i < section->entry_count; i++) {
		if (strcmp(section->entries[i].key, key) == 0)
			return &section->entries[i];
	}
	return NULL;
}

const struct job_section *job_rule_section(const struct job *job, const char *rule)
{
	for (uint32_t i = 0; i < job->section_count; i++) {
		const struct job_section *section = &job->sections[i];
		if (strcmp(section->kind, "rule") == 0 && section->name &&
		    strcmp(section->name, rule) == 0)
			return section;
	}
	return NULL;
}
