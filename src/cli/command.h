/* command.h - what all of the command's parts share. */
#ifndef CLI_COMMAND_H
#define CLI_COMMAND_H

#include <getopt.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "base/text.h"
#include "engine/trouble.h"
#include "report/colour.h"

enum { STATUS_CLEAN = 0, STATUS_FINDINGS = 1, STATUS_FAILED = 2 };

/* One word after "cutlint". */
struct command {
	const char *name;
	const char *summary;
	const char *usage; /* all that --help prints */
	/* argv[0] is the command's own word. Returns the exit status. */
	int (*run)(int argc, char **argv);
};

extern const struct command command_check, command_rules, command_measure, command_proof,
	command_job, command_kerf, command_help;

/* All of them; ends with NULL. */
extern const struct command *const commands[];

/* The command of this name, NULL without one. */
const struct command *command_find(const char *name);

/* The name nearest to a misspelt one, NULL without one. */
const char *command_nearest(const char *name);

/*
 * The next option, as getopt_long returns it; -1 at their end. What is no option, or lacks its
 * value, is said on standard error with the nearest valid one and gives OPTION_FAULT.
 */
int option_next(int argc, char **argv, const char *letters, const struct option *options);
#define OPTION_FAULT '?'

/* Starts afresh: call before the first option_next of a command. */
void option_start(void);

/*
 * The place of `value` among the words of an option; says the nearest and gives -1 for none of
 * them. `words` ends with NULL.
 */
int option_word(const char *option, const char *value, const char *const *words);

extern const char *const colour_words[]; /* enum colour_when */

/* The command's own voice on standard error: "cutlint: error: ...". */
void say_error(const char *format, ...) CUTLINT_PRINTF(1, 2);
void say_note(const char *format, ...) CUTLINT_PRINTF(1, 2);

/* Writes text to standard error as it is, and frees it. */
void say_text(struct text *text);

/* Says troubles on standard error. */
void say_troubles(const struct troubles *troubles, bool colour);

/* Writes and flushes text. The first failure of a stream, called `name`, is said. */
void output_text(FILE *out, const char *name, const struct text *text);

/*
 * Flushes standard output, or closes another stream. Returns the status, or STATUS_FAILED if not
 * all could be written.
 */
int output_close(FILE *out, const char *name, int status);

/* output_text and output_close for all that a command has to say. Frees the text. */
int output_all(struct text *text, int status);

#endif
