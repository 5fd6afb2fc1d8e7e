/* arc.h - elliptical arcs of path data in the form of centre and half-axes. */
#ifndef SVG_ARC_H
#define SVG_ARC_H

#include <stdbool.h>

#include "cutlint/point.h"

/* An arc as path data gives it, in user units; the rotation in degrees. */
struct svg_arc {
	double rx, ry, rotation;
	bool large, sweep;
};

/* The point at angle a is centre + u cos a + v sin a, for a from `start` to `start + sweep`. */
struct svg_centre_arc {
	struct cutlint_xy centre, u, v;
	double start, sweep; /* radians */
};

/*
 * SVG 2, appendix B.2 (Elliptical arc implementation notes): out-of-range radii are corrected.
 * False where the arc is a straight line (a radius of 0) or nothing (both ends the same). Radii
 * that are too large for doubles give a centre that is not finite.
 */
bool svg_arc_centre(struct cutlint_xy from, struct cutlint_xy to, const struct svg_arc *arc,
		    struct svg_centre_arc *out);

#endif
