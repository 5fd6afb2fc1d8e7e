/* check_output.h - where cutlint check puts what it finds. */
#ifndef CLI_CHECK_OUTPUT_H
#define CLI_CHECK_OUTPUT_H

#include "base/text.h"

/* Start from {.path = ...}. */
struct check_output {
	const char *path; /* a file; NULL: standard output, which gets all as it comes */
	struct text held; /* for the file, which is written whole or not at all */
};

void check_output_add(struct check_output *output, const struct text *text);

/* Writes a file. Returns the status, or STATUS_FAILED where not all could be written. */
int check_output_close(struct check_output *output, int status);

/* Throws away what is held: the file stays as it was. */
void check_output_drop(struct check_output *output);

#endif
