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

/*
 * Writes the nearest words, at most three, as "'a', 'b' and 'c'", however far they are; the nearest
 * first, equals in the order of the list.
 */
void nearest_list(char *out, size_t size, const char *word, const char *const *words, size_t count);

#endif
