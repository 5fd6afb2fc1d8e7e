/* check.c - cutlint check: drawings in, findings out. */
#include "engine/check.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "cli/check_arguments.h"
#include "cli/command.h"
#include "cli/progress.h"
#include "cli/session.h"
#include "report/report.h"
#include "report/sarif.h"

/* The state of one call: arguments, session, and what was counted. */
struct run {
	const struct check_arguments *arguments;
	struct session session;
	struct tally tally;
	FILE *out;
	const char *out_name;
	bool colour;         /* of `out` */
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

static void print_findings(const struct run *run, const char *name,
			   const struct check_result *result)
{
	struct text text = {0};
	report_findings(&text, &result->findings, run->colour);
	output_text(run->out, run->out_name, &text);
	if (text.failed || result->findings.failed)
		say_error("out of memory: not all findings in '%s' are shown", name);
	text_finish(&text);
}

static void log_drawing(const struct run *run, const struct setup *setup, bool standard,
			const struct check_result *result)
{
	struct sarif_input input = {.drawing = &result->reading.source,
				    .standard_input = standard,
				    .job = setup->job->facts.file ? &setup->job->source : NULL,
				    .design = result->design,
				    .findings = &result->findings};
	sarif_add_drawing(run->sarif, &input);
	sarif_add_troubles(run->sarif, &result->troubles);
}

static void print(const struct run *run, const char *name, const struct setup *setup, bool standard,
		  const struct check_result *result)
{
	if (run->sarif)
		log_drawing(run, setup, standard, result);
	else
		print_findings(run, name, result);
	say_troubles(&result->troubles, run->session.colour);
	if (run->arguments->verbose && result->usable)
		say_coverage(name, result);
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
	bool standard = strcmp(path, "-") == 0;
	const char *stdin_name = run->arguments->stdin_name;
	const char *name = !standard ? path : stdin_name ? stdin_name : "<stdin>";
	const struct setup *setup =
		session_setup_for(&run->session, standard && stdin_name ? stdin_name : path);
	if (!setup) {
		say_unchecked(run, name, "its job can't be used");
		return -1;
	}
	struct arena *arena = arena_create();
	if (!arena) {
		say_unchecked(run, name, "out of memory");
		return -1;
	}
	struct check_result result = {.findings.arena = arena, .troubles.arena = arena};
	struct check_options options = run->arguments->options;
	options.progress = progress_hook(run->progress);
	progress_set_file(run->progress, name, run->tally.file_count, run->file_count);
	check_drawing(arena, path, name, setup, &options, &result);
	progress_clear(run->progress);
	print(run, name, setup, standard, &result);
	tally_add(&run->tally, &result.findings);
	bool failed = check_failed(&result);
	arena_destroy(arena);
	return failed ? -1 : 0;
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

/* Returns the status, or STATUS_FAILED where the log can't be made. */
static int print_log(const struct run *run, int status)
{
	struct text text = {0};
	if (sarif_add_log(&text, run->sarif, status) < 0) {
		say_error("out of memory: the log is not written");
		status = STATUS_FAILED;
	} else {
		output_text(run->out, run->out_name, &text);
	}
	text_finish(&text);
	return status;
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
	int status = status_of(run);
	if (run->sarif)
		status = print_log(run, status);
	status = output_close(run->out, run->out_name, status);
	if (!run->arguments->quiet) {
		struct text text = {0};
		report_tally(&text, &run->tally);
		if (text.bytes)
			fwrite(text.bytes, 1, text.length, stderr);
		text_finish(&text);
	}
	return status;
}

static bool same_file(const struct stat *a, const char *path)
{
	struct stat b;
	return path && stat(path, &b) == 0 && a->st_dev == b.st_dev && a->st_ino == b.st_ino;
}

/* A drawing that is named as the output by mistake must not be lost. */
static bool is_input(const struct check_arguments *arguments, char **files, int count)
{
	struct stat output;
	if (stat(arguments->output, &output) < 0)
		return false;
	for (int i = 0; i < count; i++) {
		if (same_file(&output, files[i]))
			return true;
	}
	return same_file(&output, arguments->job);
}

static FILE *open_output(const struct check_arguments *arguments, char **files, int count)
{
	if (is_input(arguments, files, count)) {
		say_error("cannot write '%s': it is to be read", arguments->output);
		return NULL;
	}
	FILE *out = fopen(arguments->output, "we");
	if (!out)
		say_error("cannot write '%s': %s", arguments->output, strerror(errno));
	return out;
}

static int start(const struct check_arguments *arguments, char **files, int count)
{
	if (!count) {
		say_error("no drawing given; '-' reads standard input");
		return STATUS_FAILED;
	}
	struct run run = {.arguments = arguments, .out = stdout, .out_name = "standard output"};
	if (arguments->output) {
		run.out = open_output(arguments, files, count);
		run.out_name = arguments->output;
	}
	if (!run.out)
		return STATUS_FAILED;
	run.colour = arguments->output ? arguments->colour == COLOUR_ALWAYS
				       : colour_wanted(arguments->colour, STDOUT_FILENO);
	if (arguments->format == FORMAT_SARIF)
		run.sarif = sarif_create(CUTLINT_VERSION);
	if (arguments->format == FORMAT_SARIF && !run.sarif) {
		say_error("out of memory");
		return output_close(run.out, run.out_name, STATUS_FAILED);
	}
	if (session_init(&run.session) < 0) {
		sarif_destroy(run.sarif);
		return output_close(run.out, run.out_name, STATUS_FAILED);
	}
	run.session.sarif = run.sarif;
	run.session.job_path = arguments->job;
	run.session.rule_folders = arguments->rule_folders;
	run.session.rule_folder_count = arguments->rule_folder_count;
	run.session.quiet = arguments->quiet;
	run.session.verbose = arguments->verbose;
	run.session.colour = colour_wanted(arguments->colour, STDERR_FILENO);
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
		"  --job FILE          the job file; else the cutlint.job beside the drawing or "
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
