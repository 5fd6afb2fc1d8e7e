/* notice.h - what the readers of drawings and job files have to say about their input. */
#ifndef BASE_NOTICE_H
#define BASE_NOTICE_H

#include <stdint.h>

#include "base/arena.h"
#include "cutlint/export.h"

struct cutlint_element;

enum notice_level {
	NOTICE_NOTE,
	NOTICE_WARNING,
	NOTICE_ERROR,
	NOTICE_FATAL /* the input can't be used: exit 2 */
};

struct notice {
	enum notice_level level;
	const char *code;                      /* what kind of thing: "path-data" */
	uint32_t byte, length;                 /* the place in the source text */
	const struct cutlint_element *element; /* may be NULL */
	const char *message;                   /* lower case, no full stop */
	const char *suggestion;                /* NULL without one */
};

/* A list of them; start from {.arena = ...}. */
struct notices {
	struct arena *arena;
	struct notice *items;
	uint32_t count, capacity;
	int fatal_count;
};

/* Adds one. Its message is formatted into the arena. NULL only where memory ran out. */
struct notice *notice_add(struct notices *notices, enum notice_level level, const char *code,
			  uint32_t byte, uint32_t length, const char *format, ...)
	CUTLINT_PRINTF(6, 7);

/* Sets its suggestion. Takes NULL for the notice. */
void notice_suggest(struct notices *notices, struct notice *notice, const char *format, ...)
	CUTLINT_PRINTF(3, 4);

#endif
