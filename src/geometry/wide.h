/* wide.h - integers of 128 bits, and exact products of differences of coordinates. */
#ifndef GEOMETRY_WIDE_H
#define GEOMETRY_WIDE_H

#include <stdbool.h>
#include <stdint.h>

#include "cutlint/point.h"

__extension__ typedef __int128 geo_wide;

static inline int geo_sign(geo_wide value)
{
	return (value > 0) - (value < 0);
}

static inline int64_t geo_dx(struct cutlint_point a, struct cutlint_point b)
{
	return (int64_t)b.x - a.x;
}

static inline int64_t geo_dy(struct cutlint_point a, struct cutlint_point b)
{
	return (int64_t)b.y - a.y;
}

/*
 * The cross product of b - a and d - c. A difference of two coordinates has |value| < 2^32, so each
 * product stays below 2^64 and the result below 2^65.
 */
static inline geo_wide geo_cross(struct cutlint_point a, struct cutlint_point b,
				 struct cutlint_point c, struct cutlint_point d)
{
	return (geo_wide)geo_dx(a, b) * geo_dy(c, d) - (geo_wide)geo_dy(a, b) * geo_dx(c, d);
}

/* Order of points by x, then y: -1, 0 or +1. */
static inline int geo_order(struct cutlint_point a, struct cutlint_point b)
{
	if (a.x != b.x)
		return a.x < b.x ? -1 : 1;
	return (a.y > b.y) - (a.y < b.y);
}

static inline bool geo_same(struct cutlint_point a, struct cutlint_point b)
{
	return a.x == b.x && a.y == b.y;
}

#endif
