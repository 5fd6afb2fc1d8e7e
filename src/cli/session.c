#include "cli/session.h"

#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "cli/command.h"
#include "engine/check.h"
#include "engine/grow.h"
#include "job/job.h"
#include "job/value.h"
#include "report/report.h"

int session_init(struct session *session)
{
	*session = (struct session){.arena = arena_create()};
	session->registry.arena = session->arena;
	if (session->arena)
		return 0;
	say_error("out of memory");
	return -1;
}

void session_finish(struct session *session)
{
	for (uint32_t i = 0; i < session->job_count; i++)
		job_finish(session->jobs[i]->job);
	arena_destroy(session->arena);
	*session = (struct session){0};
}

static void say_all(struct session *session, const struct troubles *troubles)
{
	say_troubles(troubles, session->colour);
	if (session->sarif)
		sarif_add_troubles(session->sarif, troubles);
	session->failed = session->failed || troubles_any(troubles);
}

/* A folder that the user names must not be passed over without a word. */
static void load_folder(struct session *session, const char *folder, struct troubles *troubles)
{
	uint32_t rules = session->registry.count, faults = troubles->count;
	registry_add_folder(&session->registry, folder, troubles);
	if (session->registry.count == rules && troubles->count == faults && !session->quiet)
		say_note("there is no rule module (*.so) in '%s'", folder);
}

void session_load_rules(struct session *session)
{
	struct troubles troubles = {.arena = session->arena};
	const char *own = registry_own_folder(session->arena);
	if (own)
		registry_add_folder(&session->registry, own, &troubles);
	else
		troubles.failed = true;
	for (size_t i = 0; i < session->rule_folder_count; i++)
		load_folder(session, session->rule_folders[i], &troubles);
	if (!session->registry.count)
		trouble_add(&troubles, "there is no rule to check with");
	say_all(session, &troubles);
}

/* What the built-in job takes for granted must be seen. */
static void say_no_job(const struct session *session, const struct job *job)
{
	const struct cutlint_job *facts = &job->facts;
	char kerf[48], thickness[48];
	if (session->quiet)
		return;
	value_format(facts->kerf_mm, VALUE_LENGTH, kerf);
	value_format(facts->stock_thickness_mm, VALUE_LENGTH, thickness);
	say_note("no cutlint.job found: taking the built-in job, %s of %s, a kerf of %s, cut from "
		 "the %s",
		 facts->stock_name ? facts->stock_name : "card", thickness, kerf,
		 facts->side == CUTLINT_SIDE_BACK ? "back" : "front");
}

/* What a job says without being unusable is still worth reading. */
static void say_warnings(struct session *session, const struct source *source,
			 const struct notices *notices)
{
	struct findings findings = {.arena = session->arena};
	struct troubles troubles = {.arena = session->arena};
	struct text text = {0};
	check_take_notices(notices, source, source->name, &findings, &troubles);
	report_findings(&text, &findings, session->colour);
	if (session->sarif && findings.count)
		sarif_add_job(session->sarif, source, &findings);
	if (text.bytes)
		fwrite(text.bytes, 1, text.length, stderr);
	text_finish(&text);
}

/* Reads the job and configures the rules, so that all its mistakes are said in one go. */
static int read_job(struct session *session, struct session_job *out)
{
	struct notices notices = {.arena = session->arena};
	struct troubles troubles = {.arena = session->arena};
	const struct source nowhere = {.name = out->path};

	int result = job_load(session->arena, out->path, &notices, &out->job);
	if (out->job && session->roles_only)
		out->setup =
			(struct setup){.job = out->job, .flatness_mm = out->job->facts.flatness_mm};
	else if (out->job &&
		 configure(session->arena, &session->registry, out->job, &notices, &out->setup) < 0)
		result = -1;
	const struct source *source = out->job ? &out->job->source : &nowhere;
	trouble_add_fatal(&troubles, source, &notices);
	say_all(session, &troubles);
	if (result == 0)
		say_warnings(session, source, &notices);
	return result;
}

static void load(struct session *session, struct session_job *out)
{
	if (read_job(session, out) < 0) {
		job_finish(out->job);
		out->job = NULL;
		session->failed = true;
	} else if (!out->path) {
		say_no_job(session, out->job);
	} else if (session->verbose) {
		say_note("job: %s", out->path);
	}
}

static bool same_path(const char *a, const char *b)
{
	return a == b || (a && b && strcmp(a, b) == 0);
}

static struct session_job *add(struct session *session, const char *path)
{
	struct session_job **jobs = list_grow(session->arena, session->jobs, session->job_count,
					      &session->job_capacity, sizeof(struct session_job *));
	struct session_job *job = ARENA_NEW(session->arena, struct session_job);
	if (!jobs || !job)
		return NULL;
	job->path = path;
	session->jobs = jobs;
	session->jobs[session->job_count++] = job;
	return job;
}

const struct setup *session_setup_for(struct session *session, const char *drawing)
{
	const char *path =
		session->job_path ? session->job_path : job_find(session->arena, drawing);
	for (uint32_t i = 0; i < session->job_count; i++) {
		const struct session_job *job = session->jobs[i];
		if (same_path(job->path, path))
			return job->job ? &job->setup : NULL;
	}
	struct session_job *job = add(session, path);
	if (!job) {
		say_error("out of memory");
		session->failed = true;
		return NULL;
	}
	load(session, job);
	return job->job ? &job->setup : NULL;
}
