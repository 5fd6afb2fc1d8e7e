/*
 * predicates.h - exact answers about integer points: which side, whether segments meet, where.
 * All are exact for coordinates in [-2^31, 2^31); products are taken in 128
 * bits.
 */
#ifndef GEOMETRY_PREDICATES_H
#define GEOMETRY_PREDICATES_H

#include <stdbool.h>

#include "geometry/lines.h"

/* +1 if c lies left of the directed line a to b, -1 if right, 0 if a, b and c are collinear. */
int geo_orientation(struct cutlint_point a, struct cutlint_point b, struct cutlint_point c);

/* How two segments meet. */
enum geo_meeting {
	GEO_APART,
	GEO_CROSS,  /* in one point inside both */
	GEO_TOUCH,  /* in one point that is an end of at least one */
	GEO_OVERLAP /* along a stretch of positive length */
};

enum geo_meeting geo_meet(struct cutlint_point a, struct cutlint_point b, struct cutlint_point c,
			  struct cutlint_point d);

/*
 * The point where a-b crosses c-d, rounded to the nearest integers (halves up). Precondition:
 * geo_meet gives GEO_CROSS.
 */
struct cutlint_point geo_crossing(struct cutlint_point a, struct cutlint_point b,
				  struct cutlint_point c, struct cutlint_point d);

/*
 * Whether segment a-b passes through the hot pixel of p: the square of side 1 round p, open above
 * and on the right (Hobby 1999).
 */
bool geo_hits_pixel(struct cutlint_point a, struct cutlint_point b, struct cutlint_point p);

/*
 * The sign of |c - m|² - (|b - a|/2)² with m the middle of a-b: +1 if c lies outside the circle on
 * the diameter a-b, 0 on it, -1 inside.
 */
int geo_diametral(struct cutlint_point a, struct cutlint_point b, struct cutlint_point c);

/* A place rounded to the steps of 2^-20 nm in which geo_side takes it. */
struct geo_vector geo_fine(struct geo_vector at);

/*
 * As geo_orientation, for a place that is no integer point: exact for geo_fine(at), which must lie
 * within 2^32 nm of the origin.
 */
int geo_side(struct cutlint_point a, struct cutlint_point b, struct geo_vector at);

#endif
