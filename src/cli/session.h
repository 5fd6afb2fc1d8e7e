/* session.h - what one call of the command loads: rule modules, and the job of each drawing. */
#ifndef CLI_SESSION_H
#define CLI_SESSION_H

#include <stdbool.h>

#include "engine/configure.h"
#include "engine/trouble.h"
#include "report/sarif.h"

/* A job that was looked for, once for all drawings that it serves. */
struct session_job {
	const char *path; /* NULL: the built-in one */
	struct job *job;  /* NULL: it can't be used, which was said */
	struct setup setup;
};

struct session {
	struct arena *arena;
	struct registry registry;
	const char *job_path;            /* --job; NULL: look beside the drawing */
	const char *const *rule_folders; /* --rules */
	size_t rule_folder_count;
	bool quiet, verbose, colour; /* colour: of standard error */
	bool roles_only;             /* no rules are loaded; the job's rule sections wait unread */
	bool failed;                 /* something was said on standard error that makes exit 2 */
	struct sarif *sarif; /* hears all that is said on standard error, too; NULL: no such log */
	struct session_job **jobs;
	uint32_t job_count, job_capacity;
};

/* Returns 0, or -1 where memory ran out (said). Free with session_finish. */
int session_init(struct session *session);
void session_finish(struct session *session);

/*
 * Loads the modules that belong to cutlint, then those of the folders that the user named. What
 * can't be loaded is said and makes the session failed.
 */
void session_load_rules(struct session *session);

/*
 * The job for a drawing, with the rules as it wants them. Its mistakes are said once, and that
 * there is none, too. NULL if it can't be used: then the session is failed.
 */
const struct setup *session_setup_for(struct session *session, const char *drawing);

#endif
