/* What stands twice in a job file. Sorted, so that a long file takes no quadratic time. */
#include <stdlib.h>
#include <string.h>

#include "job/reading.h"
#include "job/word.h"

static int compare_bytes(uint32_t a, uint32_t b)
{
	return (a > b) - (a < b);
}

static int compare_names(const struct job_section *a, const struct job_section *b)
{
	int kinds = strcmp(a->kind, b->kind);
	return kinds ? kinds : strcmp(a->name ? a->name : "", b->name ? b->name : "");
}

static int compare_sections(const void *left, const void *right)
{
	const struct job_section *a = *(const struct job_section *const *)left;
	const struct job_section *b = *(const struct job_section *const *)right;
	int names = compare_names(a, b);
	return names ? names : compare_bytes(a->byte, b->byte);
}

static int compare_entries(const void *left, const void *right)
{
	const struct job_entry *a = *(const struct job_entry *const *)left;
	const struct job_entry *b = *(const struct job_entry *const *)right;
	int keys = strcmp(a->key, b->key);
	return keys ? keys : compare_bytes(a->key_byte, b->key_byte);
}

static unsigned line_of(const struct reading *reading, uint32_t byte)
{
	return source_position(&reading->job->source, byte).line;
}

static void find_sections(struct reading *reading)
{
	const struct job *job = reading->job;
	const struct job_section **sorted =
		ARENA_ARRAY(reading->arena, const struct job_section *, job->section_count);
	if (!sorted) {
		job_mistake(reading, 0, 0, "out of memory");
		return;
	}
	for (uint32_t i = 0; i < job->section_count; i++)
		sorted[i] = &job->sections[i];
	qsort(sorted, job->section_count, sizeof(const struct job_section *), compare_sections);
	for (uint32_t i = 1, first = 0; i < job->section_count; i++) {
		if (compare_names(sorted[first], sorted[i]) != 0) {
			first = i;
			continue;
		}
		job_mistake(reading, sorted[i]->byte, sorted[i]->length,
			    "section %s stands twice, first in line %u",
			    word_shown(job->source.bytes + sorted[i]->byte, sorted[i]->length).text,
			    line_of(reading, sorted[first]->byte));
	}
}

/* Several patterns may give one role, and several modules may be required. */
static bool may_repeat(const struct job_section *section, const char *key)
{
	if (strcmp(section->kind, "roles") == 0)
		return strcmp(key, "default-words") != 0;
	return strcmp(section->kind, "modules") == 0;
}

static void find_keys(struct reading *reading, const struct job_section *section)
{
	const struct job_entry **sorted =
		ARENA_ARRAY(reading->arena, const struct job_entry *, section->entry_count);
	if (!sorted) {
		job_mistake(reading, section->byte, section->length, "out of memory");
		return;
	}
	for (uint32_t i = 0; i < section->entry_count; i++)
		sorted[i] = &section->entries[i];
	qsort(sorted, section->entry_count, sizeof(const struct job_entry *), compare_entries);
	for (uint32_t i = 1, first = 0; i < section->entry_count; i++) {
		const struct job_entry *entry = sorted[i];
		if (strcmp(sorted[first]->key, entry->key) != 0) {
			first = i;
			continue;
		}
		if (!may_repeat(section, entry->key))
			job_mistake(reading, entry->key_byte, entry->key_length,
				    "key '%s' stands twice in its section, first in line %u",
				    word_shown(entry->key, entry->key_length).text,
				    line_of(reading, sorted[first]->key_byte));
	}
}

void job_find_repeats(struct reading *reading)
{
	find_sections(reading);
	for (uint32_t i = 0; i < reading->job->section_count; i++)
		find_keys(reading, &reading->job->sections[i]);
}
