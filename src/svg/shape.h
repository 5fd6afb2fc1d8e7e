/* shape.h - the segments of the basic shapes (SVG 2, chapter 10). */
#ifndef SVG_SHAPE_H
#define SVG_SHAPE_H

#include "svg/geometry.h"
#include "svg/segment.h"

/*
 * Gives the segments of a rect, circle, ellipse or line to the sink. A size of 0 draws nothing; a
 * negative one is said, and draws nothing.
 */
void svg_shape_draw(const struct svg_subject *subject, enum svg_kind kind, struct svg_sink sink);

#endif
