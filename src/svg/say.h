/* say.h - the loader's notices, each kind up to a limit. */
#ifndef SVG_SAY_H
#define SVG_SAY_H

#include <stdbool.h>

#include "base/notice.h"
#include "cutlint/model.h"

/* Notices of one code that are kept; the rest is counted. */
#define SVG_SAY_MOST 200u

/* Codes are string constants; a code is known by its text. */
struct svg_heard {
	const char *code;
	uint32_t count;
	enum notice_level level; /* the gravest among them */
};

/* Start from {.notices = ...}. */
struct svg_say {
	struct notices *notices;
	bool failed; /* memory ran out: a notice is missing or lacks its text */
	bool quiet;  /* what stands here was said before: an element that is placed once more */
	struct svg_heard heard[32];
};

/*
 * Adds a notice about an element (NULL: none) at a span of the source. Returns NULL where it was
 * held back; notice_suggest takes that. A fatal notice is never held back.
 */
struct notice *svg_say(struct svg_say *say, enum notice_level level, const char *code,
		       const struct cutlint_element *element, struct cutlint_span at,
		       const char *format, ...) CUTLINT_PRINTF(6, 7);

/* Sets a notice's suggestion. Takes NULL for the notice. */
void svg_suggest(struct svg_say *say, struct notice *notice, const char *format, ...)
	CUTLINT_PRINTF(3, 4);

/* Says how many were held back. */
void svg_say_rest(struct svg_say *say);

/* The span of a start tag; empty for NULL. */
struct cutlint_span svg_tag_span(const struct cutlint_element *element);

#endif
