/* touch.h - curves that come near each other only where they touch. */
#ifndef SHEET_TOUCH_H
#define SHEET_TOUCH_H

#include <stdbool.h>

#include "cutlint/model.h"
#include "geometry/match.h"

/*
 * Whether two short stretches lie near each other only since two curves touch, or nearly do, and
 * bend away from each other: the distance grows with the square of the way from the middle, on one
 * side. Such curves cross or touch; they are not one line drawn twice. Measured on the true curves.
 */
bool touch_is_all(const struct cutlint_design *design, const struct geo_lines *lines,
		  const double *along, const struct geo_overlap *found);

#endif
