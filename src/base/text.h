/* text.h - a growing string. */
#ifndef BASE_TEXT_H
#define BASE_TEXT_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "cutlint/export.h"

/* Start from {0}. `bytes` is NUL-terminated once anything was added. */
struct text {
	char *bytes;
	size_t length, capacity;
	bool failed; /* memory ran out: what follows was dropped */
};

void text_finish(struct text *text);
void text_add(struct text *text, const char *bytes, size_t length);
void text_add_string(struct text *text, const char *string);
void text_format(struct text *text, const char *format, ...) CUTLINT_PRINTF(2, 3);
void text_vformat(struct text *text, const char *format, va_list arguments) CUTLINT_PRINTF(2, 0);

/* Finishes a text: what it held, in an arena. NULL where memory ran out, now or before. */
char *text_keep(struct text *text, struct arena *arena);

/* Formats into an arena. NULL where memory ran out. */
char *text_vkeep(struct arena *arena, const char *format, va_list arguments) CUTLINT_PRINTF(2, 0);

/* Adds a phrase (not empty) as a sentence: with its capital and its full stop. */
void text_add_sentence(struct text *text, const char *phrase);

/*
 * Adds a string that came from outside (a file name, an id) so that it can neither forge a line nor
 * steer a terminal: control characters, marks of writing direction and bytes that are not UTF-8
 * become \xHH.
 */
void text_add_escaped(struct text *text, const char *string);

#endif
