/* proof.c - cutlint proof: what a drawing will become, as a page or a picture. */
#include "proof/proof.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

#include "base/number.h"
#include "cli/command.h"
#include "cli/draw_png.h"
#include "cli/drawing.h"
#include "cli/limit.h"
#include "cli/progress.h"
#include "cli/replace.h"
#include "cli/session.h"
#include "cli/timeout.h"
#include "engine/check.h"
#include "job/job.h"
#include "report/report.h"

typedef int write_proof(struct text *out, const struct proof *proof);

struct arguments {
	const char *job, *stdin_name, *output;
	const char **rule_folders;
	size_t rule_folder_count;
	write_proof *write;
	bool png;   /* what `write` gives is drawn as one */
	double dpi; /* 0: the option is not given */
	bool quiet, help;
	struct check_options options;
};

static const struct option OPTIONS[] = {
	{"output", required_argument, NULL, 'o'},
	{"dpi", required_argument, NULL, 'd'},
	{"job", required_argument, NULL, 'j'},
	{"rules", required_argument, NULL, 'r'},
	{"stdin-name", required_argument, NULL, 'n'},
	{"rule-timeout", required_argument, NULL, 't'},
	{"limit", required_argument, NULL, 'l'},
	{"no-isolation", no_argument, NULL, 'I'},
	{"quiet", no_argument, NULL, 'q'},
	{"help", no_argument, NULL, 'h'},
	{NULL, 0, NULL, 0},
};

/* Pixels per inch. At the least a card is a thumbnail, at the most a kerf is seven pixels wide. */
static const double DPI_DEFAULT = 300, DPI_LEAST = 30, DPI_MOST = 1200;

static int take_dpi(struct arguments *arguments, const char *value)
{
	const char *end = value + strlen(value);
	size_t length = number_parse(value, end, &arguments->dpi);
	if (length && value + length == end && arguments->dpi >= DPI_LEAST &&
	    arguments->dpi <= DPI_MOST)
		return 0;
	say_error("option '--dpi' takes pixels per inch from %g to %g, not '%s'", DPI_LEAST,
		  DPI_MOST, value);
	return -1;
}

static int take_option(struct arguments *arguments, int option)
{
	switch (option) {
	case 'o':
		arguments->output = optarg;
		return 0;
	case 'd':
		return take_dpi(arguments, optarg);
	case 'j':
		arguments->job = optarg;
		return 0;
	case 'r':
		arguments->rule_folders[arguments->rule_folder_count++] = optarg;
		return 0;
	case 'n':
		arguments->stdin_name = optarg;
		return 0;
	case 't':
		return timeout_take(&arguments->options.rule_limit_s, optarg);
	case 'l':
		return limit_take(&arguments->options.limits, optarg);
	case 'I':
		arguments->options.isolated = false;
		return 0;
	case 'q':
		arguments->quiet = true;
		return 0;
	case 'h':
		arguments->help = true;
		return 0;
	default:
		return -1;
	}
}

static bool ends_with(const char *name, const char *ending)
{
	size_t length = strlen(name), tail = strlen(ending);
	return length > tail && strcasecmp(name + length - tail, ending) == 0;
}

/* The form follows from the name: card.html, card.svg, card.png; standard output gets the page. */
static int choose_form(struct arguments *arguments)
{
	const char *output = arguments->output;
	if (!output) {
		say_error("no output given; write -o card.html, or -o - for standard output");
		return -1;
	}
	arguments->png = ends_with(output, ".png");
	if (strcmp(output, "-") == 0 || ends_with(output, ".html") || ends_with(output, ".htm") ||
	    ends_with(output, ".xhtml"))
		arguments->write = proof_page;
	else if (ends_with(output, ".svg") || arguments->png)
		arguments->write = proof_drawing;
	else
		say_error("cannot tell the form of the proof from '%s': it ends in .html, .svg or "
			  ".png",
			  output);
	if (arguments->write && arguments->dpi > 0 && !arguments->png) {
		say_error("option '--dpi' is for a proof that ends in .png");
		return -1;
	}
	return arguments->write ? 0 : -1;
}

/* A drawing or job that is named as the output by mistake must not be lost. */
static int refuse_input(const struct arguments *arguments, const struct setup *setup,
			const char *path)
{
	if (!replace_is_same(arguments->output, path) &&
	    !replace_is_same(arguments->output, setup->job->facts.file))
		return 0;
	say_error("cannot write '%s': it is to be read", arguments->output);
	return -1;
}

static int write_out(const struct arguments *arguments, struct text *text, int status)
{
	if (strcmp(arguments->output, "-") == 0)
		return output_all(text, status);
	int written = replace_file(arguments->output, text);
	text_finish(text);
	return written < 0 ? STATUS_FAILED : status;
}

/* The picture's text becomes its PNG. */
static int draw(const struct arguments *arguments, struct text *text)
{
	struct progress_line *progress = progress_start(arguments->quiet);
	struct text png = {0};
	const struct png_order order = {.name = arguments->output,
					.dpi = arguments->dpi > 0 ? arguments->dpi : DPI_DEFAULT,
					.progress = progress_hook(progress)};
	progress_set_file(progress, arguments->output, 1, 1);
	int drawn = png_draw(&order, text, &png);
	progress_stop(progress);
	text_finish(text);
	*text = png;
	return drawn;
}

static int write_result(const struct arguments *arguments, const struct setup *setup,
			const struct check_result *result, int status)
{
	struct text text = {0};
	struct proof proof = {.design = result->design,
			      .job = &setup->job->facts,
			      .sheet = result->sheet,
			      .picture = &result->picture,
			      .findings = &result->findings,
			      .maker = "cutlint " CUTLINT_VERSION,
			      .incomplete = status != STATUS_CLEAN};
	if (arguments->write(&text, &proof) < 0)
		say_error("out of memory");
	else if (!arguments->png || draw(arguments, &text) == 0)
		return write_out(arguments, &text, status);
	text_finish(&text);
	return STATUS_FAILED;
}

/* Where there is nothing to draw, the findings say why. */
static int say_unusable(const struct check_result *result, const char *name, bool colour)
{
	struct text text = {0};
	report_findings(&text, &result->findings, colour);
	say_text(&text);
	say_error("there is no proof of '%s': it can't be used", name);
	return STATUS_FAILED;
}

static void check(struct arena *arena, const char *path, const char *name,
		  const struct setup *setup, const struct arguments *arguments,
		  struct check_result *result)
{
	struct progress_line *progress = progress_start(arguments->quiet);
	struct check_options options = arguments->options;
	options.progress = progress_hook(progress);
	progress_set_file(progress, name, 1, 1);
	check_drawing(arena, path, name, setup, &options, result);
	progress_stop(progress);
}

static int prove(struct session *session, struct arena *arena, const struct arguments *arguments,
		 const char *path)
{
	if (arguments->png && png_look_for_module(arena, arguments->output) < 0)
		return STATUS_FAILED;
	struct drawing drawing = drawing_named(path, arguments->stdin_name);
	const char *name = drawing.name;
	session_load_rules(session);
	struct session_job *job = session_job_for(session, drawing.place, 0);
	const struct setup *setup =
		job ? session_configure(session, job, drawing.place, arena) : NULL;
	bool standard = drawing_is_standard_input(&drawing);
	if (!setup || refuse_input(arguments, setup, standard ? NULL : path) < 0)
		return STATUS_FAILED;
	struct check_result result = {.findings.arena = arena, .troubles.arena = arena};
	check(arena, path, name, setup, arguments, &result);
	say_troubles(&result.troubles, session->colour);
	if (!result.design || !result.sheet)
		return say_unusable(&result, name, session->colour);
	bool failed = session->failed || check_failed(&result);
	return write_result(arguments, setup, &result, failed ? STATUS_FAILED : STATUS_CLEAN);
}

static int start(const struct arguments *arguments, char **files, int count)
{
	struct session session;
	if (count != 1) {
		say_error(count ? "'cutlint proof' takes one drawing at a time"
				: "no drawing given; '-' reads standard input");
		return STATUS_FAILED;
	}
	if (session_init(&session) < 0)
		return STATUS_FAILED;
	session.job_path = arguments->job;
	session.rule_folders = arguments->rule_folders;
	session.rule_folder_count = arguments->rule_folder_count;
	session.quiet = arguments->quiet;
	session.colour = colour_wanted(COLOUR_AUTO, STDERR_FILENO);

	struct arena *arena = arena_create();
	int status = STATUS_FAILED;
	if (arena)
		status = prove(&session, arena, arguments, files[0]);
	else
		say_error("out of memory");
	arena_destroy(arena);
	session_finish(&session);
	return status;
}

static int read_arguments(struct arguments *arguments, int argc, char **argv)
{
	int option;
	option_start();
	while ((option = option_next(argc, argv, ":o:qh", OPTIONS)) != -1) {
		if (take_option(arguments, option) < 0)
			return -1;
	}
	return arguments->help ? 0 : choose_form(arguments);
}

static int run_proof(int argc, char **argv)
{
	struct arguments arguments = {
		.options = {.rule_limit_s = TIMEOUT_DEFAULT_S, .isolated = true, .pictured = true},
		.rule_folders = calloc((size_t)argc, sizeof(*arguments.rule_folders))};
	int status = STATUS_FAILED;
	if (!arguments.rule_folders)
		say_error("out of memory");
	else if (read_arguments(&arguments, argc, argv) == 0)
		status = arguments.help ? command_help.run(2, (char *[]){"help", "proof", NULL})
					: start(&arguments, argv + optind, argc - optind);
	free(arguments.rule_folders);
	return status;
}

const struct command command_proof = {
	.name = "proof",
	.summary = "draw what a drawing will become, with its findings",
	.usage =
		"usage: cutlint proof [OPTION]... -o OUTPUT FILE\n"
		"\n"
		"Checks a drawing and writes a proof: the finished card, the lines as they will "
		"be\n"
		"burned, the findings in their places, heat, and what it costs to cut. The form\n"
		"follows from the name of OUTPUT: a page for .html, a plain picture for .svg or\n"
		".png; '-' writes the page to standard output. '-' for FILE reads standard input.\n"
		"\n"
		"  -o, --output FILE   what to write; an old file is replaced when all is done\n"
		"  --dpi N             pixels per inch of a .png, 30 to 1200 (default 300)\n"
		"  --job FILE          the job file; else as for check\n"
		"  --rules DIR         load the rule modules of this folder, too (repeatable)\n"
		"  --stdin-name NAME   the name to show and to find the job for standard input\n"
		"  --rule-timeout S    seconds that one rule may take (default 60; 0: no limit)\n"
		"  --limit NAME=N      a limit of the reader; docs/drawings.md lists them\n"
		"  --no-isolation      run rules in this process, for debuggers\n"
		"  -q, --quiet         errors only\n"
		"  -h, --help          print this\n"
		"\n"
		"Exit status: 0 written, whatever was found; 2 not written, or not all rules "
		"could\n"
		"look.\n",
	.run = run_proof,
};
