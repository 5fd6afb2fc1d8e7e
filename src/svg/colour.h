/* colour.h - CSS colours (CSS Color 4, sections 4 to 7 and 16), and SVG's paint values. */
#ifndef SVG_COLOUR_H
#define SVG_COLOUR_H

#include <stdint.h>

#include "svg/scan.h"

enum svg_paint_kind {
	SVG_PAINT_NONE,
	SVG_PAINT_COLOUR,
	SVG_PAINT_CURRENT, /* currentColor */
	SVG_PAINT_SERVER   /* url(), context-fill, or a colour space that is not read */
};

struct svg_paint {
	enum svg_paint_kind kind;
	uint32_t rgb;
	double alpha;           /* 0 to 1 */
	struct svg_scan server; /* of a url(): the text from there on, its fallback included */
};

/* A whole value of `color`, or of `fill` and `stroke`. False where it is none. */
bool svg_paint_parse(struct svg_scan text, struct svg_paint *out);

/* The colour of a CSS named colour in lower or upper case. */
bool svg_colour_named(struct svg_scan word, uint32_t *out);

#endif
