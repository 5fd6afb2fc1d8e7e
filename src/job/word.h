/* word.h - words out of a job file, made fit for messages. */
#ifndef JOB_WORD_H
#define JOB_WORD_H

#include <stddef.h>

struct shown_word {
	char text[64];
};

/* A word as a message may show it: escaped, and cut with "..." where it is long. */
struct shown_word word_shown(const char *word, size_t length);

/*
 * Writes what to do instead of a word that is not valid: "did you mean 'kerf'?", or without a near
 * one all that are: "write kerf, cut-from or machine-power".
 */
void word_hint(char *out, size_t size, const char *word, const char *const *words, size_t count);

/* The place of `word` among `words`, `count` where it is none of them. */
size_t word_find(const char *word, const char *const *words, size_t count);

#endif
