/* command.h - runs the real cutlint, or any program, and keeps what it prints. */
#ifndef TESTS_COMMAND_H
#define TESTS_COMMAND_H

#include <stddef.h>

/* How a program ended. Free with ran_finish. */
struct ran {
	int status; /* its exit status; 128 and the signal's number if one ended it; -1: not run */
	char *out, *err;
	size_t out_length, err_length;
};

/* How to run it. All may be left out. */
struct surroundings {
	const char *folder;             /* where it runs */
	const char *input;              /* its standard input; nothing by default */
	const char *const *environment; /* "NAME=value", ends with NULL: added to the test's own */
	const char *out_file;           /* standard output goes here instead: "/dev/full" */
	int closed;                     /* a stream to close before it starts; 0 for none */
};

/* `arguments` begins with the program's path and ends with NULL. */
struct ran run(const char *const *arguments, const struct surroundings *surroundings);
void ran_finish(struct ran *ran);

#endif
