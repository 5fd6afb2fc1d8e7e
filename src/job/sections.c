/* The sections of a job file, each to its reader. */
#include <stdio.h>
#include <string.h>

#include "job/lettering.h"
#include "job/reading.h"
#include "job/word.h"

/* By name only: a job file may come from a stranger, and must not say what code is loaded. */
static bool check_module(struct reading *reading, const struct job_entry *entry)
{
	const char *slash = strchr(entry->value, '/');
	if (!slash)
		return true;
	char message[160];
	snprintf(message, sizeof(message), "a module is required by its name, not by a path: '%s'",
		 word_shown(entry->value, strlen(entry->value)).text);
	job_mistake_value(reading, entry, (unsigned)(slash - entry->value), 1, message);
	return false;
}

static void read_modules(struct reading *reading, const struct job_section *section)
{
	struct job *job = reading->job;
	const char **names = ARENA_ARRAY(reading->arena, const char *, section->entry_count);
	const struct job_entry **entries =
		ARENA_ARRAY(reading->arena, const struct job_entry *, section->entry_count);
	if (!names || !entries) {
		job_mistake(reading, section->byte, section->length, "out of memory");
		return;
	}
	job->modules = names;
	job->module_entries = entries;
	job->module_count = 0;
	for (uint32_t i = 0; i < section->entry_count; i++) {
		const struct job_entry *entry = &section->entries[i];
		if (strcmp(entry->key, "require") != 0) {
			job_refuse_key(reading, section, entry);
		} else if (check_module(reading, entry)) {
			names[job->module_count] = entry->value;
			entries[job->module_count++] = entry;
		}
	}
}

typedef void read_section(struct reading *reading, const struct job_section *section);

static const struct {
	const char *kind;
	read_section *read;
	bool named;
} KINDS[] = {
	{"stock", job_read_plain, false},         {"burn", job_read_plain, false},
	{"card", job_read_plain, false},          {"machine", job_read_plain, false},
	{"drawing", job_read_plain, false},       {"roles", job_read_roles, false},
	{"lettering", job_read_lettering, false}, {"recipe", job_read_recipe, true},
	{"modules", read_modules, false},         {"rule", job_read_rule, true},
};
#define KIND_COUNT (sizeof(KINDS) / sizeof(*KINDS))

static void read_any(struct reading *reading, const struct job_section *section)
{
	const char *kinds[KIND_COUNT];
	for (size_t i = 0; i < KIND_COUNT; i++)
		kinds[i] = KINDS[i].kind;
	size_t kind = word_find(section->kind, kinds, KIND_COUNT);
	if (kind == KIND_COUNT)
		job_mistake_word(reading, section->byte, section->length, "section", section->kind,
				 "", kinds, KIND_COUNT);
	else if (section->name && !KINDS[kind].named)
		job_mistake(reading, section->byte, section->length, "[%s] takes no name: '%s'",
			    section->kind, word_shown(section->name, strlen(section->name)).text);
	else
		KINDS[kind].read(reading, section);
}

void job_read_facts(struct reading *reading)
{
	for (uint32_t i = 0; i < reading->job->section_count; i++)
		read_any(reading, &reading->job->sections[i]);
}
