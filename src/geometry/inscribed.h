/* inscribed.h - the largest circle inside a region. */
#ifndef GEOMETRY_INSCRIBED_H
#define GEOMETRY_INSCRIBED_H

#include "geometry/lines.h"

struct geo_circle {
	struct geo_vector centre;
	double radius;        /* nm */
	uint32_t segments[3]; /* segments that it touches; GEO_NONE beyond those found */
};

/*
 * The largest circle inside the region that the closed chains of `lines` bound (even-odd: outer
 * boundaries with their holes), to `tolerance` nm in the radius (less in regions narrower than
 * that; only a region of endless hairs may get a coarser answer). Of several equally large ones,
 * one is chosen deterministically. Where a circle has a radius of `enough` or more, the search
 * stops at the first such one found, and its segments are not looked up; INFINITY asks for the
 * largest in any case. Returns 0, or -1 where memory ran out; radius 0 for an empty region.
 */
int geo_inscribed_circle(const struct geo_lines *lines, double tolerance, double enough,
			 struct geo_circle *out);

/* Whether a circle of more than that radius (nm) fits inside such a region, to a nanometre. */
int geo_inscribed_fits(const struct geo_lines *lines, double radius, bool *fits);

#endif
