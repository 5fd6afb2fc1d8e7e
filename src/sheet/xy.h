/* xy.h - places on the sheet as vectors. */
#ifndef SHEET_XY_H
#define SHEET_XY_H

#include <math.h>

#include "cutlint/point.h"

static inline struct cutlint_xy xy_minus(struct cutlint_xy a, struct cutlint_xy b)
{
	return (struct cutlint_xy){a.x - b.x, a.y - b.y};
}

static inline double xy_dot(struct cutlint_xy a, struct cutlint_xy b)
{
	return a.x * b.x + a.y * b.y;
}

static inline double xy_cross(struct cutlint_xy a, struct cutlint_xy b)
{
	return a.x * b.y - a.y * b.x;
}

static inline double xy_length(struct cutlint_xy a)
{
	return hypot(a.x, a.y);
}

static inline double xy_distance(struct cutlint_xy a, struct cutlint_xy b)
{
	return hypot(b.x - a.x, b.y - a.y);
}

static inline struct cutlint_xy xy_middle(struct cutlint_xy a, struct cutlint_xy b)
{
	return (struct cutlint_xy){(a.x + b.x) / 2, (a.y + b.y) / 2};
}

/* The order from the top down, then from the left: -1, 0 or 1. */
static inline int xy_compare(struct cutlint_xy a, struct cutlint_xy b)
{
	if (a.y != b.y)
		return a.y < b.y ? -1 : 1;
	return a.x < b.x ? -1 : a.x > b.x;
}

#endif
