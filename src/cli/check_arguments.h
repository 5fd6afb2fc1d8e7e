/* check_arguments.h - the options of cutlint check. */
#ifndef CLI_CHECK_ARGUMENTS_H
#define CLI_CHECK_ARGUMENTS_H

#include <stdbool.h>
#include <stddef.h>

#include "engine/check.h"
#include "report/colour.h"

enum check_format { FORMAT_TEXT, FORMAT_SARIF };

struct check_arguments {
	const char *stdin_name, *output;
	const char **jobs; /* in the order given, each once */
	size_t job_count;
	const char **rule_folders;
	size_t rule_folder_count;
	int fail_on; /* enum cutlint_severity, or FAIL_NEVER */
	enum check_format format;
	enum colour_when colour;
	bool quiet, verbose, help;
	struct check_options options;
};

#define FAIL_NEVER ((int)CUTLINT_ERROR + 1)

/*
 * Reads the options; the drawings stand behind them, from argv[optind] on. Returns 0, or -1 for
 * wrong ones, which was said. Free with check_arguments_finish in both cases.
 */
int check_arguments_init(struct check_arguments *arguments, int argc, char **argv);
void check_arguments_finish(struct check_arguments *arguments);

#endif
