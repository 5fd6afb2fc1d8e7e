#include "cli/drawing.h"

#include <string.h>

#include "engine/keep.h"
#include "engine/merge.h"

bool drawing_is_standard_input(const struct drawing *drawing)
{
	return strcmp(drawing->path, "-") == 0;
}

struct drawing drawing_named(const char *path, const char *stdin_name)
{
	struct drawing drawing = {path, path, path};
	if (!drawing_is_standard_input(&drawing))
		return drawing;
	return (struct drawing){path, stdin_name ? stdin_name : "<stdin>",
				stdin_name ? stdin_name : path};
}

/* The jobs that were used, with their findings in the drawing. */
struct found {
	struct findings *each;
	const char **names;
	struct drawing_result *result;
};

/* Returns 0, or -1 where the job can't be used. */
static int check_with(struct session *session, const struct drawing *drawing, size_t number,
		      const struct check_options *options, struct check_result *out,
		      struct drawing_job *used)
{
	struct arena *arena = out->findings.arena;
	struct session_job *job = session_job_for(session, drawing->place, number);
	const struct setup *setup =
		job ? session_configure(session, job, drawing->place, arena) : NULL;
	if (!setup)
		return -1;
	check_drawing(arena, drawing->path, drawing->name, setup, options, out);
	*used = (struct drawing_job){.source = job->job->facts.file ? &job->job->source : NULL,
				     .findings.arena = arena};
	findings_keep_job(&used->findings, &out->findings);
	session_keep(job, setup, out, &used->findings);
	return 0;
}

/* What does not depend on the job is the first usable one's; troubles are everyone's. */
static void take_rest(struct check_result *result, const struct check_result *one)
{
	struct check_result taken = result->usable ? *result : *one;
	taken.findings = result->findings;
	taken.troubles = result->troubles;
	taken.unreadable = result->unreadable || one->unreadable;
	*result = taken;
	troubles_append(&result->troubles, &one->troubles);
}

static int check_with_all(struct session *session, const struct drawing *drawing,
			  const struct check_options *options, const struct found *found)
{
	struct drawing_result *result = found->result;
	struct arena *arena = result->check.findings.arena;
	size_t count = session_job_count(session);
	for (size_t i = 0; i < count; i++) {
		struct check_result one = {.findings.arena = arena, .troubles.arena = arena};
		struct drawing_job *job = &result->jobs[result->job_count];
		if (check_with(session, drawing, i, options, &one, job) < 0)
			continue;
		take_rest(&result->check, &one);
		found->each[result->job_count] = one.findings;
		found->names[result->job_count++] = job->source ? job->source->name : "";
	}
	if (result->job_count < count)
		result->unchecked = "its job can't be used";
	findings_merge(&result->check.findings, found->each, found->names, result->job_count);
	return result->unchecked || check_failed(&result->check) ? -1 : 0;
}

int drawing_check(struct session *session, const struct drawing *drawing,
		  const struct check_options *options, struct drawing_result *result)
{
	struct arena *arena = result->check.findings.arena;
	size_t count = session_job_count(session);
	struct found found = {ARENA_ARRAY(arena, struct findings, count),
			      ARENA_ARRAY(arena, const char *, count), result};
	result->jobs = ARENA_ARRAY(arena, struct drawing_job, count);
	if (found.each && found.names && result->jobs)
		return check_with_all(session, drawing, options, &found);
	result->unchecked = "out of memory";
	return -1;
}
