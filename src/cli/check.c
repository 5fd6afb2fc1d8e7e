/* check.c - cutlint check: drawings in, findings out. */
#include "engine/check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli/check_arguments.h"
#include "cli/check_output.h"
#include "cli/command.h"
#include "cli/drawing.h"
#include "cli/progress.h"
#include "cli/replace.h"
#include "engine/keep.h"
#include "report/report.h"
#include "report/sarif.h"

/* The state of one call: arguments, session, and what was counted. */
struct run {
	const struct check_arguments *arguments;
	struct session session;
	struct tally tally;
	struct check_output output;
	bool colour;         /* of the findings */
	struct sarif *sarif; /* the log; NULL for text */
	struct progress_line *progress;
	uint32_t file_count; /* of the call */
};

static void say_coverage(const char *name, const struct check_result *result)
{
	struct text left_out = {0};
	coverage_add_left_out(&left_out, &result->coverage);
	say_note("%s: %u %s burned, flattened within %.4f mm%s%s", name, result->coverage.burned,
		 result->coverage.burned == 1 ? "shape is" : "shapes are", result->flatness_mm,
		 left_out.length ? "; left out: " : "", left_out.length ? left_out.bytes : "");
	text_finish(&left_out);
}

/* A few at a time: many findings take far more room as text. */
static void print_findings(struct run *run, const char *name, const struct findings *findings)
{
	enum { TOGETHER = 64 };
	struct text text = {0};
	for (uint32_t i = 0; i < findings->count; i += TOGETHER) {
		struct findings some = *findings;
		uint32_t left = findings->count - i;
		some.items = &findings->items[i];
		some.count = left < TOGETHER ? left : TOGETHER;
		text.length = 0;
		report_findings(&text, &some, run->colour);
		check_output_add(&run->output, &text);
	}
	if (text.failed || findings->failed)
		say_error("out of memory: not all findings in '%s' are shown", name);
	text_finish(&text);
}

static void log_findings(const struct run *run, const struct drawing *drawing,
			 const struct drawing_result *result, const struct source *job,
			 const struct findings *findings)
{
	struct sarif_input input = {.drawing = &result->check.reading.source,
				    .standard_input = drawing_is_standard_input(drawing),
				    .job = job,
				    .design = result->check.design,
				    .findings = findings};
	sarif_add_drawing(run->sarif, &input);
}

static void log_drawing(const struct run *run, const struct drawing *drawing,
			const struct drawing_result *result)
{
	const struct source *job = result->job_count == 1 ? result->jobs[0].source : NULL;
	log_findings(run, drawing, result, job, &result->check.findings);
	for (uint32_t i = 0; i < result->job_count; i++)
		log_findings(run, drawing, result, result->jobs[i].source,
			     &result->jobs[i].findings);
	sarif_add_troubles(run->sarif, &result->check.troubles);
}

static void print(struct run *run, const struct drawing *drawing,
		  const struct drawing_result *result)
{
	if (run->sarif)
		log_drawing(run, drawing, result);
	else
		print_findings(run, drawing->name, &result->check.findings);
	say_troubles(&result->check.troubles, run->session.colour);
	if (run->arguments->verbose && result->check.usable)
		say_coverage(drawing->name, &result->check);
}

static void say_unchecked(const struct run *run, const char *name, const char *why)
{
	struct text text = {0};
	text_format(&text, "'%s' is not checked: %s", name, why);
	say_error("%s", text.failed ? why : text.bytes);
	if (run->sarif)
		sarif_add_error(run->sarif, text.failed ? why : text.bytes);
	text_finish(&text);
}

/* Returns 0, or -1 if the drawing could not be checked in full. */
static int check_file(struct run *run, const char *path)
{
	struct drawing drawing = drawing_named(path, run->arguments->stdin_name);
	struct arena *arena = arena_create();
	if (!arena) {
		say_unchecked(run, drawing.name, "out of memory");
		return -1;
	}
	struct drawing_result result = {
		.check = {.findings.arena = arena, .troubles.arena = arena}};
	struct check_options options = run->arguments->options;
	options.progress = progress_hook(run->progress);
	progress_set_file(run->progress, drawing.name, run->tally.file_count, run->file_count);
	int checked = drawing_check(&run->session, &drawing, &options, &result);
	progress_clear(run->progress);
	if (result.unchecked)
		say_unchecked(run, drawing.name, result.unchecked);
	if (result.job_count)
		print(run, &drawing, &result);
	tally_add(&run->tally, &result.check.findings);
	arena_destroy(arena);
	return checked;
}

/* What is wrong with a job file is said once, behind all drawings; the log has it already. */
static void print_job(struct run *run, struct session_job *job)
{
	struct findings unused = {.arena = run->session.arena};
	session_find_unused(job, &unused);
	if (run->sarif && unused.count)
		sarif_add_job(run->sarif, &job->job->source, &unused);
	findings_keep_job(&job->findings, &unused);
	findings_sort(&job->findings);
	if (!run->sarif)
		print_findings(run, job->job->source.name, &job->findings);
	tally_add(&run->tally, &job->findings);
	run->session.failed = run->session.failed || job->findings.failed;
}

static int status_of(const struct run *run)
{
	if (run->session.failed || run->tally.failed_count)
		return STATUS_FAILED;
	for (int i = run->arguments->fail_on; i <= CUTLINT_ERROR; i++) {
		if (run->tally.by_severity[i])
			return STATUS_FINDINGS;
	}
	return STATUS_CLEAN;
}

static int add_log(struct run *run, int status)
{
	struct text text = {0};
	int added = sarif_add_log(&text, run->sarif, status);
	if (added < 0)
		say_error("out of memory: the log is not written");
	else
		check_output_add(&run->output, &text);
	text_finish(&text);
	return added;
}

/* A drawing or a job that is named as the output by mistake must not be lost. */
static bool is_input(const struct run *run, char **files, int count)
{
	const char *output = run->arguments->output;
	bool same = false;
	for (size_t i = 0; i < run->arguments->job_count; i++)
		same = same || replace_is_same(output, run->arguments->jobs[i]);
	for (int i = 0; i < count; i++)
		same = same || replace_is_same(output, files[i]);
	for (uint32_t i = 0; i < run->session.job_count; i++)
		same = same || replace_is_same(output, run->session.jobs[i]->path);
	if (same)
		say_error("cannot write '%s': it is to be read", output);
	return same;
}

/* Which jobs there are is known only now. */
static int close_output(struct run *run, char **files, int count)
{
	int status = status_of(run);
	if (is_input(run, files, count) || (run->sarif && add_log(run, status) < 0)) {
		check_output_drop(&run->output);
		return STATUS_FAILED;
	}
	return check_output_close(&run->output, status);
}

static void set_session(struct run *run)
{
	const struct check_arguments *arguments = run->arguments;
	run->session.sarif = run->sarif;
	run->session.job_paths = arguments->jobs;
	run->session.job_path_count = arguments->job_count;
	run->session.rule_folders = arguments->rule_folders;
	run->session.rule_folder_count = arguments->rule_folder_count;
	run->session.quiet = arguments->quiet;
	run->session.verbose = arguments->verbose;
	run->session.colour = colour_wanted(arguments->colour, STDERR_FILENO);
}

static int check_files(struct run *run, char **files, int count)
{
	run->file_count = (uint32_t)count;
	run->progress = progress_start(run->arguments->quiet);
	session_load_rules(&run->session);
	if (run->sarif)
		sarif_add_rules(run->sarif, &run->session.registry);
	for (int i = 0; i < count; i++) {
		run->tally.file_count++;
		if (check_file(run, files[i]) < 0)
			run->tally.failed_count++;
	}
	progress_stop(run->progress);
	for (uint32_t i = 0; i < run->session.job_count; i++) {
		if (run->session.jobs[i]->job)
			print_job(run, run->session.jobs[i]);
	}
	int status = close_output(run, files, count);
	if (!run->arguments->quiet) {
		struct text text = {0};
		report_tally(&text, &run->tally);
		say_text(&text);
	}
	return status;
}

static bool has_standard_input(char **files, int count)
{
	for (int i = 0; i < count; i++) {
		if (strcmp(files[i], "-") == 0)
			return true;
	}
	return false;
}

static int start(const struct check_arguments *arguments, char **files, int count)
{
	if (!count) {
		say_error("no drawing given; '-' reads standard input");
		return STATUS_FAILED;
	}
	if (arguments->job_count > 1 && has_standard_input(files, count)) {
		say_error("standard input can be read once, so it takes one --job only");
		return STATUS_FAILED;
	}
	struct run run = {.arguments = arguments, .output = {.path = arguments->output}};
	if (is_input(&run, files, count))
		return STATUS_FAILED;
	run.colour = arguments->output ? arguments->colour == COLOUR_ALWAYS
				       : colour_wanted(arguments->colour, STDOUT_FILENO);
	if (arguments->format == FORMAT_SARIF && !(run.sarif = sarif_create(CUTLINT_VERSION))) {
		say_error("out of memory");
		return STATUS_FAILED;
	}
	if (session_init(&run.session) < 0) {
		sarif_destroy(run.sarif);
		return STATUS_FAILED;
	}
	set_session(&run);
	int status = check_files(&run, files, count);
	session_finish(&run.session);
	sarif_destroy(run.sarif);
	return status;
}

static int run_check(int argc, char **argv)
{
	struct check_arguments arguments;
	int status = STATUS_FAILED;
	if (check_arguments_init(&arguments, argc, argv) == 0)
		status = arguments.help ? command_help.run(2, (char *[]){"help", "check", NULL})
					: start(&arguments, argv + optind, argc - optind);
	check_arguments_finish(&arguments);
	return status;
}

const struct command command_check = {
	.name = "check",
	.summary = "check drawings before they are cut",
	.usage =
		"usage: cutlint check [OPTION]... FILE...\n"
		"\n"
		"Checks SVG drawings and prints what will go wrong, one finding a line. '-' reads\n"
		"standard input.\n"
		"\n"
		"  --job FILE          the job file (repeatable: the drawings are checked with "
		"each);\n"
		"                      else the cutlint.job beside the drawing or "
		"in\n"
		"                      the nearest folder above it\n"
		"  --rules DIR         load the rule modules of this folder, too (repeatable)\n"
		"  --fail-on LEVEL     exit 1 from this severity on: error, warning (default),\n"
		"                      note, never\n"
		"  --format FORMAT     text (default) or sarif: SARIF 2.1.0, one log for all "
		"drawings\n"
		"  --output FILE       write the findings there\n"
		"  --stdin-name NAME   the name to show and to find the job for standard input\n"
		"  --color WHEN        always, never, auto (default: on a terminal)\n"
		"  --rule-timeout S    seconds that one rule may take (default 60; 0: no limit)\n"
		"  --limit NAME=N      a limit of the reader; docs/drawings.md lists them\n"
		"  --no-isolation      run rules in this process, for debuggers\n"
		"  -q, --quiet         findings and errors only\n"
		"  -v, --verbose       say which job is used and what is not burned\n"
		"  -h, --help          print this\n"
		"\n"
		"Exit status: 0 nothing at or above the level, 1 findings, 2 could not check.\n",
	.run = run_check,
};
