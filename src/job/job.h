/* job.h - the job file: what is cut, from what, and how. */
#ifndef JOB_JOB_H
#define JOB_JOB_H

#include <stdbool.h>

#include "base/arena.h"
#include "base/notice.h"
#include "base/source.h"
#include "cutlint/job.h"

/* One `key = value` line, with where it stands. */
struct job_entry {
	const char *key, *value;
	uint32_t key_byte, key_length, value_byte, value_length;
};

/* One `[kind]` or `[kind name]` section. */
struct job_section {
	const char *kind, *name; /* name NULL without one */
	uint32_t byte, length;   /* of the line with the brackets */
	const struct job_entry *entries;
	uint32_t entry_count;
};

struct job_roles; /* the compiled patterns */
struct pattern;

/* A `[rule NAME LABEL]` section: what holds for one rule in a stretch of files. */
struct job_stretch {
	const struct job_section *section;
	const char *rule, *reason;
	struct pattern *files; /* seen against a drawing's path: see job_stretch_takes */
};

/* The keys of such a section that are no options of the rule. */
#define JOB_FILES_KEY  "files"
#define JOB_REASON_KEY "reason"

struct job {
	struct cutlint_job facts;
	struct source source; /* of the embedded default, if no file was given */
	const struct job_section *sections;
	uint32_t section_count;
	struct job_roles *roles;
	const char *const *modules; /* names of modules that the job requires */
	const struct job_entry *const *module_entries;
	uint32_t module_count;
	struct pattern *lettering;     /* NULL: no [lettering] section */
	struct job_stretch *stretches; /* in the order of the file */
	uint32_t stretch_count;
	double unit_mm; /* of a user unit in drawings without physical size; 0: not named */
};

/*
 * Reads a job file, or the embedded default for path NULL. All mistakes in it that need no rule
 * module to be seen become fatal notices. Sections `[rule NAME]` are kept unread: see
 * engine/configure.h. Returns 0, or -1 where there was a fatal notice. `out` is set in both cases,
 * so that notices can be given their line: NULL only where memory ran out. Free with job_finish,
 * then with the arena. Mistakes come in the order of the file.
 */
int job_load(struct arena *arena, const char *path, struct notices *notices, struct job **out);
/* Takes NULL. */
void job_finish(struct job *job);

/*
 * The job file for a design: `cutlint.job` in the design's folder or the nearest parent; the search
 * stops at a folder that holds `.git`. NULL without one. For "-" the search starts in the current
 * folder.
 */
const char *job_find(struct arena *arena, const char *design_path);

/*
 * Whether a drawing is one of the stretch's files: its pattern is seen against the drawing's path
 * from the job file's folder on ("drafts/a.svg"), or the whole path where it lies elsewhere; `/`
 * parts names. Returns 0, or -1 with a fatal notice.
 */
int job_stretch_takes(const struct job *job, const struct job_stretch *stretch, const char *drawing,
		      struct notices *notices, bool *takes);

/* The entry with a key, NULL without one. */
const struct job_entry *job_find_entry(const struct job_section *section, const char *key);

/* The section `[rule NAME]`, NULL without one. */
const struct job_section *job_rule_section(const struct job *job, const char *rule);

/*
 * The source byte of a place in an entry's value, which may be quoted and hold escapes: a place of
 * which value_error speaks.
 */
uint32_t job_value_byte(const struct source *source, const struct job_entry *entry,
			unsigned offset);

/* How a job file writes them: by enum cutlint_spine, by enum cutlint_side; NULL behind the last. */
extern const char *const job_spine_words[];
extern const char *const job_side_words[];

/* The text of the embedded default job. */
extern const char job_default_text[];

#endif
