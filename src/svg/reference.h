/* reference.h - url() in values: to what of the drawing it points. */
#ifndef SVG_REFERENCE_H
#define SVG_REFERENCE_H

#include "svg/document.h"

enum svg_reference {
	SVG_REFERENCE_NONE,    /* no url() stands here */
	SVG_REFERENCE_MISSING, /* the drawing has no such element */
	SVG_REFERENCE_OUTSIDE, /* to another file, which is never read */
	SVG_REFERENCE_FOUND
};

/* Takes a url() if one stands next, with or without quotes. */
enum svg_reference svg_take_reference(const struct svg_document *document, struct svg_scan *scan,
				      uint32_t *target);

/* Of the names that paint may come from. */
bool svg_is_gradient(const struct cutlint_element *element);
bool svg_is_pattern(const struct cutlint_element *element);

/*
 * A paint with its reference followed (SVG 2, 13.2): where that leads to nothing, the fallback
 * behind it, or none.
 */
struct svg_paint svg_paint_resolve(const struct svg_document *document, struct svg_paint paint);

#endif
