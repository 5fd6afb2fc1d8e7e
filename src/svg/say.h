/* say.h - the loader's notices, each kind up to a limit. */
#ifndef SVG_SAY_H
#define SVG_SAY_H

#include <stdbool.h>

#include "base/notice.h"
#include "cutlint/model.h"
#include "svg/load.h"

/*
 * Start from {.notices = ..., .limits = ...}. Codes are string constants; a code is known by its
 * text.
 */
struct svg_say {
	struct notices *notices;
	const struct svg_limits *limits;
	bool failed; /* memory ran out: a notice is missing or lacks its text */
	bool quiet;  /* what stands here was said before: an element that is placed once more */
	struct svg_heard heard[SVG_MOST_CODES];
};

/*
 * Adds a notice about an element (NULL: none) at a span of the source. Returns NULL where it was
 * held back; notice_suggest takes that. A fatal notice is never held back.
 */
struct notice *svg_say(struct svg_say *say, enum notice_level level, const char *code,
		       const struct cutlint_element *element, struct cutlint_span at,
		       const char *format, ...) CUTLINT_PRINTF(6, 7);

/* A fatal notice `too-large` about a limit, which its message names. */
void svg_say_limit(struct svg_say *say, enum svg_limit limit, const struct cutlint_element *element,
		   struct cutlint_span at, const char *format, ...) CUTLINT_PRINTF(5, 6);

/* Sets a notice's suggestion. Takes NULL for the notice. */
void svg_suggest(struct svg_say *say, struct notice *notice, const char *format, ...)
	CUTLINT_PRINTF(3, 4);

/* Says how many were held back. */
void svg_say_rest(struct svg_say *say);

/* The span of a start tag; empty for NULL. */
struct cutlint_span svg_tag_span(const struct cutlint_element *element);

#endif
