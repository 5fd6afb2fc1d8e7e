#include "cli/session.h"

#include <string.h>

#include "base/text.h"
#include "cli/command.h"
#include "engine/check.h"
#include "engine/grow.h"
#include "engine/keep.h"
#include "engine/place.h"
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
	say_text(&text);
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

/* Returns 0, or -1 where memory ran out. */
static int count_stretches(struct session *session, struct session_job *out)
{
	uint32_t count = out->job->stretch_count;
	out->taken = ARENA_ARRAY(session->arena, uint32_t, count);
	out->met = ARENA_ARRAY(session->arena, uint32_t, count);
	return out->taken && out->met ? 0 : -1;
}

static void load(struct session *session, struct session_job *out)
{
	if (read_job(session, out) < 0 || count_stretches(session, out) < 0) {
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
	job->findings.arena = session->arena;
	session->jobs = jobs;
	session->jobs[session->job_count++] = job;
	return job;
}

/* The job of this path, read on its first use. NULL where memory ran out (said). */
static struct session_job *find_or_load(struct session *session, const char *path)
{
	for (uint32_t i = 0; i < session->job_count; i++) {
		if (same_path(session->jobs[i]->path, path))
			return session->jobs[i];
	}
	struct session_job *job = add(session, path);
	if (!job) {
		say_error("out of memory");
		session->failed = true;
		return NULL;
	}
	load(session, job);
	return job;
}

size_t session_job_count(const struct session *session)
{
	return session->job_path_count ? session->job_path_count : 1;
}

struct session_job *session_job_for(struct session *session, const char *drawing, size_t number)
{
	const char *path = session->job_path_count ? session->job_paths[number] : session->job_path;
	struct session_job *job =
		find_or_load(session, path ? path : job_find(session->arena, drawing));
	return job && job->job ? job : NULL;
}

const struct setup *session_setup_for(struct session *session, const char *drawing)
{
	const struct session_job *job = session_job_for(session, drawing, 0);
	return job ? &job->setup : NULL;
}

const struct setup *session_configure(struct session *session, const struct session_job *job,
				      const char *drawing, struct arena *arena)
{
	struct notices notices = {.arena = arena};
	struct troubles troubles = {.arena = arena};
	struct setup *setup = ARENA_NEW(arena, struct setup);
	int result = setup ? configure_for(arena, &job->setup, drawing, &notices, setup) : -1;
	troubles.failed = !setup;
	trouble_add_fatal(&troubles, &job->job->source, &notices);
	say_all(session, &troubles);
	return result < 0 ? NULL : setup;
}

void session_keep(struct session_job *job, const struct setup *setup,
		  const struct check_result *result, const struct findings *of_job)
{
	for (uint32_t i = 0; i < of_job->count; i++)
		findings_keep(&job->findings, &of_job->items[i]);
	if (check_failed(result))
		return;
	for (uint32_t i = 0; i < setup->stretch_count; i++) {
		job->taken[setup->stretches[i].number] += setup->stretches[i].judges;
		job->met[setup->stretches[i].number] += result->met[i];
	}
}

void session_find_unused(const struct session_job *job, struct findings *findings)
{
	for (uint32_t i = 0; i < job->job->stretch_count; i++) {
		const struct job_stretch *stretch = &job->job->stretches[i];
		if (!job->taken[i] || job->met[i])
			continue;
		struct finding_place place;
		struct cutlint_place named = {.span = {.byte = stretch->section->byte,
						       .length = stretch->section->length}};
		place_set_job(&place, job->job, &named, NULL);
		struct finding *finding = findings_say(
			findings, "unused-silence", CUTLINT_WARNING, &place,
			"this severity for '%s' meets no finding in %u file%s that it takes",
			stretch->rule, job->taken[i], job->taken[i] == 1 ? "" : "s");
		findings_suggest(findings, finding,
				 "remove it, or look whether its files still need it");
	}
}
