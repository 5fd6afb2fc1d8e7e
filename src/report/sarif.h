/*
 * sarif.h - findings as a log in the Static Analysis Results Interchange Format (SARIF) Version
 * 2.1.0, OASIS Standard. Numbers such as 3.27.12 name its sections.
 *
 * One log has one run, with all drawings of a call. Two calls give the same bytes: there is no
 * time, user, command line or absolute path in it, but for drawings outside the current folder.
 */
#ifndef REPORT_SARIF_H
#define REPORT_SARIF_H

#include <stdbool.h>

#include "base/source.h"
#include "base/text.h"
#include "engine/finding.h"
#include "engine/registry.h"
#include "engine/trouble.h"

struct sarif;

/* NULL where memory ran out. Destroy with sarif_destroy, which takes NULL. */
struct sarif *sarif_create(const char *version);
void sarif_destroy(struct sarif *sarif);

/* Adds the descriptors of all rules. */
void sarif_add_rules(struct sarif *sarif, const struct registry *registry);

/* One input with what was found in it. */
struct sarif_input {
	const struct source *drawing; /* its text; only the name is set where it was not read */
	bool standard_input;
	const struct source *job;            /* NULL: none, or the built-in one */
	const struct cutlint_design *design; /* NULL where it could not be built */
	const struct findings *findings;     /* NULL for none */
};

/*
 * Adds results. What is found in the job file is added once, however many drawings the job serves
 * (occurrenceCount, 3.27.22, counts them).
 */
void sarif_add_drawing(struct sarif *sarif, const struct sarif_input *input);

/* Adds what a job's reader said, for which there is no drawing. */
void sarif_add_job(struct sarif *sarif, const struct source *job, const struct findings *findings);

/* Adds notifications (3.58): what kept the command from checking. */
void sarif_add_troubles(struct sarif *sarif, const struct troubles *troubles);
void sarif_add_error(struct sarif *sarif, const char *message);

/* Adds the log. Returns 0, or -1 where memory ran out now or before. */
int sarif_add_log(struct text *out, struct sarif *sarif, int exit_status);

#endif
