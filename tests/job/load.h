/* load.h - job files out of a test's text. */
#ifndef TESTS_LOAD_H
#define TESTS_LOAD_H

#include "job/job.h"

struct loaded {
	struct arena *arena;
	struct notices notices;
	struct job *job;
	int result;
};

/* Writes the text to a file of its own and loads that; the embedded default for NULL. */
struct loaded load_bytes(const char *bytes, size_t length);
struct loaded load_text(const char *text);
void load_finish(struct loaded *loaded);

/* Loads a text that has no mistake; fails the test with the first one else. */
struct loaded load_good(const char *text);

#endif
