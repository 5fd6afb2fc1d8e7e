/*
 * curve.h - the true curves of a drawing and their chords.
 *
 * Coordinates here are millimetres on the sheet, as doubles. An arc is kept as a centre, two
 * conjugate half-axes and a range of angles, which stays exact under every affine transform.
 */
#ifndef GEOMETRY_CURVE_H
#define GEOMETRY_CURVE_H

#include <stdint.h>

#include "cutlint/point.h"

enum curve_kind { CURVE_QUADRATIC, CURVE_CUBIC, CURVE_ARC };

struct curve {
	enum curve_kind kind;
	uint32_t pieces; /* equal steps of the parameter into which it is flattened; at least 1 */
	/*
	 * Quadratic: p[0..2]. Cubic: p[0..3]. Arc: p[0] centre, p[1] and p[2] half-axes u and v,
	 * p[3] = {start angle, sweep}, in radians: the point at angle a is centre + u cos a + v sin
	 * a.
	 */
	struct cutlint_xy p[4];
};

/* The point at parameter t, 0 to 1. At 0 and 1 of a Bézier curve exactly its ends. */
struct cutlint_xy curve_at(const struct curve *curve, double t);

/* The first derivative by t. */
struct cutlint_xy curve_derivative(const struct curve *curve, double t);

/*
 * The number of equal parameter steps whose chords stay within `flatness` mm of the curve. By the
 * bound of linear interpolation, |error| <= h²/8 max|P''| (for Bézier curves known as the formula
 * of Wang 1984). At least 1, at most 1,000,000; the latter also for what is no number.
 */
uint32_t curve_steps(const struct curve *curve, double flatness);

/* The parameter in [from, to] of the point of the curve nearest to `at`: a local minimum found
 * from the best of a few starts, to about 1e-9 mm. */
double curve_nearest(const struct curve *curve, struct cutlint_xy at, double from, double to);

/* Its length in mm, to a relative 1e-9. */
double curve_length(const struct curve *curve);

#endif
