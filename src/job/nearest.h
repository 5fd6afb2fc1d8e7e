/* nearest.h - the valid word that a misspelt one may stand for. */
#ifndef JOB_NEAREST_H
#define JOB_NEAREST_H

#include <stddef.h>

/*
 * The word at the smallest edit distance (insertions, deletions, substitutions and swaps of
 * neighbours), if that is at most a third of the longer word's length, rounded up; else NULL. The
 * first of equals.
 */
const char *nearest_word(const char *word, const char *const *words, size_t count);

#endif
