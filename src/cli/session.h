/* session.h - what one call of the command loads: rule modules, and the job of each drawing. */
#ifndef CLI_SESSION_H
#define CLI_SESSION_H

#include <stdbool.h>

#include "engine/check.h"
#include "engine/configure.h"
#include "engine/trouble.h"
#include "report/sarif.h"

/* A job that was looked for, once for all drawings that it serves. */
struct session_job {
	const char *path; /* NULL: the built-in one */
	struct job *job;  /* NULL: it can't be used, which was said */
	struct setup setup;
	struct findings findings; /* of the job file itself, met so far: each once */
	uint32_t *taken, *met; /* for each stretch of files: drawings, and those with a finding */
};

struct session {
	struct arena *arena;
	struct registry registry;
	const char *job_path;         /* --job; NULL: look beside the drawing */
	const char *const *job_paths; /* several of them, where a command takes them */
	size_t job_path_count;
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

/* How many jobs each drawing is checked with. */
size_t session_job_count(const struct session *session);

/* The same for the job of this number, in the order of the command line. */
struct session_job *session_job_for(struct session *session, const char *drawing, size_t number);

/*
 * The job's setup for one drawing: stretches of files that take it are followed. It lives in
 * `arena`. NULL if it can't be used, which was said.
 */
const struct setup *session_configure(struct session *session, const struct session_job *job,
				      const char *drawing, struct arena *arena);

/*
 * Keeps what a drawing says of its job file for the end, and which stretches of files were of use.
 */
void session_keep(struct session_job *job, const struct setup *setup,
		  const struct check_result *result, const struct findings *of_job);

/*
 * Adds a finding for each stretch of files that sets a severity, takes drawings of this run, and
 * met no finding in any of them. One that took none may be right: that can't be told here.
 */
void session_find_unused(const struct session_job *job, struct findings *findings);

#endif
