/*
 * point.h - places on the sheet.
 *
 * The sheet's axes are those of SVG: x to the right, y down, the origin at the page's top left
 * corner. Vertices are integer nanometres, so that orientation and comparison are exact; every
 * measure that a person reads is millimetres.
 */
#ifndef CUTLINT_POINT_H
#define CUTLINT_POINT_H

#include <stdint.h>

/* No such outline, part, card, vertex. */
#define CUTLINT_NONE UINT32_MAX

/* The farthest that a vertex may lie from the origin, in nanometres: 2 m. */
#define CUTLINT_FARTHEST_NM 2000000000

/* A vertex on the sheet, in nanometres. */
struct cutlint_point {
	int32_t x, y;
};

/* A place on the sheet, in millimetres. */
struct cutlint_xy {
	double x, y;
};

/* An upright box on the sheet, in millimetres. Empty where left > right. */
struct cutlint_box {
	double left, top, right, bottom;
};

static inline double cutlint_mm(int64_t nanometres)
{
	return (double)nanometres * 1e-6;
}

static inline struct cutlint_xy cutlint_point_mm(struct cutlint_point point)
{
	return (struct cutlint_xy){cutlint_mm(point.x), cutlint_mm(point.y)};
}

#endif
