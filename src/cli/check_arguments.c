#include "cli/check_arguments.h"

#include <stdlib.h>
#include <string.h>

#include "cli/command.h"
#include "cli/limit.h"
#include "cli/timeout.h"

static const char *const FAIL_WORDS[] = {[CUTLINT_NOTE] = "note",
					 [CUTLINT_WARNING] = "warning",
					 [CUTLINT_ERROR] = "error",
					 "never",
					 NULL};

static const char *const FORMAT_WORDS[] = {[FORMAT_TEXT] = "text", [FORMAT_SARIF] = "sarif", NULL};

static const struct option OPTIONS[] = {
	{"job", required_argument, NULL, 'j'},
	{"rules", required_argument, NULL, 'r'},
	{"fail-on", required_argument, NULL, 'f'},
	{"format", required_argument, NULL, 'F'},
	{"output", required_argument, NULL, 'o'},
	{"color", required_argument, NULL, 'c'},
	{"rule-timeout", required_argument, NULL, 't'},
	{"no-isolation", no_argument, NULL, 'I'},
	{"stdin-name", required_argument, NULL, 'n'},
	{"limit", required_argument, NULL, 'l'},
	{"quiet", no_argument, NULL, 'q'},
	{"verbose", no_argument, NULL, 'v'},
	{"help", no_argument, NULL, 'h'},
	{NULL, 0, NULL, 0},
};

/* A job that is named again is the same job. */
static void take_job(struct check_arguments *arguments, const char *path)
{
	for (size_t i = 0; i < arguments->job_count; i++) {
		if (strcmp(arguments->jobs[i], path) == 0)
			return;
	}
	arguments->jobs[arguments->job_count++] = path;
}

static int take_word(const char *option, const char *const *words, int *out)
{
	int word = option_word(option, optarg, words);
	if (word >= 0)
		*out = word;
	return word < 0 ? -1 : 0;
}

static int take_option(struct check_arguments *arguments, int option)
{
	int word = 0, result = 0;
	switch (option) {
	case 'j':
		take_job(arguments, optarg);
		break;
	case 'r':
		arguments->rule_folders[arguments->rule_folder_count++] = optarg;
		break;
	case 'f':
		return take_word("--fail-on", FAIL_WORDS, &arguments->fail_on);
	case 'F':
		result = take_word("--format", FORMAT_WORDS, &word);
		arguments->format = (enum check_format)word;
		break;
	case 'c':
		result = take_word("--color", colour_words, &word);
		arguments->colour = (enum colour_when)word;
		break;
	case 't':
		return timeout_take(&arguments->options.rule_limit_s, optarg);
	case 'I':
		arguments->options.isolated = false;
		break;
	case 'o':
		arguments->output = optarg;
		break;
	case 'n':
		arguments->stdin_name = optarg;
		break;
	case 'l':
		return limit_take(&arguments->options.limits, optarg);
	case 'q':
		arguments->quiet = true;
		break;
	case 'v':
		arguments->verbose = true;
		break;
	case 'h':
		arguments->help = true;
		break;
	default:
		return -1;
	}
	return result;
}

int check_arguments_init(struct check_arguments *arguments, int argc, char **argv)
{
	*arguments = (struct check_arguments){
		.fail_on = CUTLINT_WARNING,
		.options = {.rule_limit_s = TIMEOUT_DEFAULT_S, .isolated = true},
		.jobs = calloc((size_t)argc, sizeof(*arguments->jobs)),
		.rule_folders = calloc((size_t)argc, sizeof(*arguments->rule_folders))};
	if (!arguments->jobs || !arguments->rule_folders) {
		say_error("out of memory");
		return -1;
	}
	int option;
	option_start();
	while ((option = option_next(argc, argv, ":qvh", OPTIONS)) != -1) {
		if (take_option(arguments, option) < 0)
			return -1;
	}
	return 0;
}

void check_arguments_finish(struct check_arguments *arguments)
{
	free(arguments->jobs);
	free(arguments->rule_folders);
}
