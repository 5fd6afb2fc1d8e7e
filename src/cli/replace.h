/* replace.h - a file written whole or not at all. */
#ifndef CLI_REPLACE_H
#define CLI_REPLACE_H

#include <stdbool.h>

#include "base/text.h"

/*
 * Writes the text to a new file beside `path`, which then takes its place, so that a run that fails
 * leaves an old file as it was. What is no regular file (/dev/null, a FIFO) is written to as it is.
 * Returns 0, or -1, which was said.
 */
int replace_file(const char *path, const struct text *text);

/* Whether two paths lead to one file. Takes NULL, and paths of no file: those are none. */
bool replace_is_same(const char *path, const char *other);

#endif
