/* glob.h - file name patterns as a shell takes them, where a PCRE2 pattern is wanted. */
#ifndef JOB_GLOB_H
#define JOB_GLOB_H

#include <stdbool.h>

#include "base/text.h"

/*
 * Whether a pattern looks like a shell's: it begins with a `*`, or a `*` stands behind a plain
 * letter, digit, `/`, `-` or `_` and before a plain dot, a `/` or another `*`. As a PCRE2 pattern
 * that repeats the letter or the slash, which nobody means in a path of names.
 */
bool glob_is_meant(const char *pattern);

/* Adds the PCRE2 pattern that takes the same paths: for "*.svg", "[.]svg$". */
void glob_add_pattern(struct text *out, const char *glob);

#endif
