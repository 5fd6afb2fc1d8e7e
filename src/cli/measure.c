/* measure.c - cutlint measure: the figures of every outline of a drawing. */
#include "report/measure.h"

#include <unistd.h>

#include "cli/command.h"
#include "cli/drawing.h"
#include "cli/limit.h"
#include "engine/check.h"
#include "report/report.h"

struct arguments {
	const char *job, *stdin_name;
	enum { FORMAT_TEXT, FORMAT_JSON } format;
	bool quiet, help;
	struct svg_limits limits;
};

static const char *const FORMAT_WORDS[] = {[FORMAT_TEXT] = "text", [FORMAT_JSON] = "json", NULL};

static const struct option OPTIONS[] = {
	{"job", required_argument, NULL, 'j'},
	{"format", required_argument, NULL, 'f'},
	{"stdin-name", required_argument, NULL, 'n'},
	{"limit", required_argument, NULL, 'l'},
	{"quiet", no_argument, NULL, 'q'},
	{"help", no_argument, NULL, 'h'},
	{NULL, 0, NULL, 0},
};

static int take_option(struct arguments *arguments, int option)
{
	int word;
	switch (option) {
	case 'j':
		arguments->job = optarg;
		return 0;
	case 'n':
		arguments->stdin_name = optarg;
		return 0;
	case 'l':
		return limit_take(&arguments->limits, optarg);
	case 'q':
		arguments->quiet = true;
		return 0;
	case 'h':
		arguments->help = true;
		return 0;
	case 'f':
		word = option_word("--format", optarg, FORMAT_WORDS);
		arguments->format = word == FORMAT_JSON ? FORMAT_JSON : FORMAT_TEXT;
		return word < 0 ? -1 : 0;
	default:
		return -1;
	}
}

static int print(struct arena *arena, const struct arguments *arguments,
		 const struct cutlint_design *design, const struct svg_report *reading, int status)
{
	struct measures measures;
	struct text text = {0};
	int result = measure_design(&measures, arena, design, reading);
	if (result == 0 && arguments->format == FORMAT_JSON)
		result = measure_add_json(&text, &measures);
	else if (result == 0)
		measure_add_text(&text, &measures);
	text.failed = text.failed || result < 0;
	return output_all(&text, status);
}

/* The reader's findings go to standard error: standard output has the figures only. */
static int say_findings(const struct check_result *result, bool colour)
{
	struct tally tally = {0};
	struct text text = {0};
	tally_add(&tally, &result->findings);
	report_findings(&text, &result->findings, colour);
	say_text(&text);
	say_troubles(&result->troubles, colour);
	return tally.by_severity[CUTLINT_ERROR] ? STATUS_FINDINGS : STATUS_CLEAN;
}

static int measure(struct session *session, struct arena *arena, const struct arguments *arguments,
		   const char *path)
{
	struct drawing drawing = drawing_named(path, arguments->stdin_name);
	const struct setup *setup = session_setup_for(session, drawing.place);
	if (!setup)
		return STATUS_FAILED;
	struct check_result result = {.findings.arena = arena, .troubles.arena = arena};
	const struct cutlint_design *design =
		check_read(arena, path, drawing.name, setup, &arguments->limits, &result);
	int status = say_findings(&result, session->colour);
	if (check_failed(&result))
		status = STATUS_FAILED;
	return design ? print(arena, arguments, design, &result.reading, status) : STATUS_FAILED;
}

static int start(const struct arguments *arguments, char **files, int count)
{
	struct session session;
	if (count != 1) {
		say_error(count ? "'cutlint measure' takes one drawing at a time"
				: "no drawing given; '-' reads standard input");
		return STATUS_FAILED;
	}
	if (session_init(&session) < 0)
		return STATUS_FAILED;
	session.job_path = arguments->job;
	session.quiet = arguments->quiet;
	session.colour = colour_wanted(COLOUR_AUTO, STDERR_FILENO);
	session.roles_only = true;

	struct arena *arena = arena_create();
	int status = STATUS_FAILED;
	if (arena)
		status = measure(&session, arena, arguments, files[0]);
	else
		say_error("out of memory");
	arena_destroy(arena);
	session_finish(&session);
	return status;
}

static int run_measure(int argc, char **argv)
{
	struct arguments arguments = {0};
	int option;
	option_start();
	while ((option = option_next(argc, argv, ":qh", OPTIONS)) != -1) {
		if (take_option(&arguments, option) < 0)
			return STATUS_FAILED;
	}
	if (arguments.help)
		return command_help.run(2, (char *[]){"help", "measure", NULL});
	return start(&arguments, argv + optind, argc - optind);
}

const struct command command_measure = {
	.name = "measure",
	.summary = "print length, area and box of every outline",
	.usage = "usage: cutlint measure [OPTION]... FILE\n"
		 "\n"
		 "Prints the figures of every outline of a drawing, and their totals by role. '-'\n"
		 "reads standard input.\n"
		 "\n"
		 "  --format FORMAT    text (default) or json\n"
		 "  --job FILE         the job file, which gives the roles; else as for check\n"
		 "  --limit NAME=N     a limit of the reader; docs/drawings.md lists them\n"
		 "  --stdin-name NAME  the name to show and to find the job for standard input\n"
		 "  -q, --quiet        figures and errors only\n"
		 "  -h, --help         print this\n"
		 "\n"
		 "Exit status: 0 measured, 1 measured but the drawing has errors, 2 could not\n"
		 "measure.\n",
	.run = run_measure,
};
