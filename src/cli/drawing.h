/* drawing.h - one drawing of a call of cutlint check, with all its jobs. */
#ifndef CLI_DRAWING_H
#define CLI_DRAWING_H

#include "cli/session.h"

/* A drawing as the user names it. */
struct drawing {
	const char *path;  /* "-" for standard input */
	const char *name;  /* as shown */
	const char *place; /* the path that finds its job and that stretches of files see */
};

/* `stdin_name` may be NULL. */
struct drawing drawing_named(const char *path, const char *stdin_name);

bool drawing_is_standard_input(const struct drawing *drawing);

/* What a drawing's check says of one job file. */
struct drawing_job {
	const struct source *source; /* NULL: the built-in one */
	struct findings findings;
};

/* Start from {.check = {.findings.arena = ..., .troubles.arena = ...}}. */
struct drawing_result {
	struct check_result check; /* of all jobs; without what is said of the job files */
	struct drawing_job *jobs;  /* those that could be used */
	uint32_t job_count;
	const char *unchecked; /* why it is not checked, or not with all jobs; NULL */
};

/* Checks it with each job. Returns 0, or -1 if it could not be checked in full. */
int drawing_check(struct session *session, const struct drawing *drawing,
		  const struct check_options *options, struct drawing_result *result);

#endif
