/* reading.h - a job file while it is read: what the parts of the reader share. */
#ifndef JOB_READING_H
#define JOB_READING_H

#include <stdbool.h>

#include "job/job.h"
#include "job/value.h"

struct reading {
	struct job *job;
	struct arena *arena;
	struct notices *notices;
	unsigned mistakes;
};

/* Adds a fatal notice at a place of the job's source; past the hundredth, one that says so. */
void job_mistake(struct reading *reading, uint32_t byte, uint32_t length, const char *format, ...)
	CUTLINT_PRINTF(4, 5);

/* The same, for a part of an entry's value, given by its place in the value without quotes. */
void job_mistake_value(struct reading *reading, const struct job_entry *entry, unsigned offset,
		       unsigned length, const char *message);

/* "unknown WHAT 'WORD'WHERE", with the word nearest to it, or all that could stand there. */
void job_mistake_word(struct reading *reading, uint32_t byte, uint32_t length, const char *what,
		      const char *word, const char *where, const char *const *words, size_t count);

/* Reads the source's lines to sections and entries. Returns 0, or -1 where memory ran out. */
int job_read_sections(struct reading *reading);

/* Reports sections that stand twice, and keys that stand twice in one section. */
void job_find_repeats(struct reading *reading);

/* Reads a section of single facts: [stock], [burn], [card], [machine], [drawing]. */
void job_read_plain(struct reading *reading, const struct job_section *section);

/* A key that stands in a section where it does not belong may be right in another. */
void job_refuse_key(struct reading *reading, const struct job_section *section,
		    const struct job_entry *entry);

/* Reads the sections into the job's facts, modules and roles. */
void job_read_facts(struct reading *reading);

/* Reads an entry's value; one that is wrong or outside least..most is a mistake. */
bool job_read_figure(struct reading *reading, const struct job_entry *entry, enum value_kind kind,
		     double least, double most, double *out);

/* Reads a `[recipe ROLE]` section. */
void job_read_recipe(struct reading *reading, const struct job_section *section);

/* Reads the `[roles]` section into job->roles. */
void job_read_roles(struct reading *reading, const struct job_section *section);

/* Reads a `[rule NAME]` or `[rule NAME LABEL]` section, as far as no rule module is needed. */
void job_read_rule(struct reading *reading, const struct job_section *section);

/* Frees what the stretches own outside the arena. */
void job_stretches_finish(struct job *job);

/* Frees what the roles own outside the arena. Takes NULL. */
void job_roles_finish(struct job_roles *roles);

#endif
