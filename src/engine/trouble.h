/*
 * trouble.h - what kept the command from checking: said on standard error, exit 2. Findings are
 * about the drawing; troubles are about all that is needed to look at it.
 */
#ifndef ENGINE_TROUBLE_H
#define ENGINE_TROUBLE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/notice.h"
#include "base/source.h"
#include "cutlint/export.h"

struct trouble {
	const char *file;      /* NULL: no place */
	uint32_t line, column; /* 0: no line */
	const char *message;
	const char *suggestion; /* NULL without one */
};

/* A list of them; start from {.arena = ...}. */
struct troubles {
	struct arena *arena;
	struct trouble *items;
	uint32_t count, capacity;
	bool failed; /* memory ran out, so the list is not whole; a trouble of its own */
};

/* Adds one without a place. */
void trouble_add(struct troubles *troubles, const char *format, ...) CUTLINT_PRINTF(2, 3);

/* Adds a reader's notice about a source; what could not be read at all has no place. */
void trouble_add_notice(struct troubles *troubles, const struct source *source,
			const struct notice *notice);

/* Adds all fatal notices about a source. */
void trouble_add_fatal(struct troubles *troubles, const struct source *source,
		       const struct notices *notices);

/* Adds all of a list that lives as long; a message without a place that is there already only once.
 */
void troubles_append(struct troubles *troubles, const struct troubles *more);

/* Whether anything kept the command from checking. */
bool troubles_any(const struct troubles *troubles);

/* The code of a notice about an input that could not be read at all. */
#define NOTICE_UNREADABLE "unreadable"

#endif
