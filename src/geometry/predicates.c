#include "geometry/predicates.h"

#include <math.h>

#include "geometry/box.h"
#include "geometry/wide.h"

/*
 * Two products of 64-bit factors cost less than a filter in doubles that must first turn the
 * differences into doubles, so the exact value is taken at once.
 */
int geo_orientation(struct cutlint_point a, struct cutlint_point b, struct cutlint_point c)
{
	return geo_sign(geo_cross(a, b, a, c));
}

/* Both segments lie on one line: their stretches in the order of x, then y. */
static enum geo_meeting meet_collinear(struct cutlint_point a, struct cutlint_point b,
				       struct cutlint_point c, struct cutlint_point d)
{
	bool forward_ab = geo_order(a, b) <= 0, forward_cd = geo_order(c, d) <= 0;
	struct cutlint_point low_ab = forward_ab ? a : b, high_ab = forward_ab ? b : a;
	struct cutlint_point low_cd = forward_cd ? c : d, high_cd = forward_cd ? d : c;
	struct cutlint_point low = geo_order(low_ab, low_cd) > 0 ? low_ab : low_cd;
	struct cutlint_point high = geo_order(high_ab, high_cd) < 0 ? high_ab : high_cd;
	int order = geo_order(low, high);
	if (order > 0)
		return GEO_APART;
	return order < 0 ? GEO_OVERLAP : GEO_TOUCH;
}

enum geo_meeting geo_meet(struct cutlint_point a, struct cutlint_point b, struct cutlint_point c,
			  struct cutlint_point d)
{
	struct geo_box ab = geo_box_of(a, b), cd = geo_box_of(c, d);
	if (!geo_boxes_meet(&ab, &cd))
		return GEO_APART;
	int c_side = geo_orientation(a, b, c), d_side = geo_orientation(a, b, d);
	if (c_side * d_side > 0)
		return GEO_APART;
	int a_side = geo_orientation(c, d, a), b_side = geo_orientation(c, d, b);
	if (a_side * b_side > 0)
		return GEO_APART;
	if (!c_side && !d_side && !a_side && !b_side)
		return meet_collinear(a, b, c, d);
	return c_side * d_side < 0 && a_side * b_side < 0 ? GEO_CROSS : GEO_TOUCH;
}

/* The integer nearest to step * share / whole, halves up; whole > 0. */
static int64_t rounded_share(int64_t step, geo_wide share, geo_wide whole)
{
	geo_wide twice = 2 * step * share + whole;
	geo_wide quotient = twice / (2 * whole);
	if (twice % (2 * whole) < 0)
		quotient--;
	return (int64_t)quotient;
}

/*
 * Relative to a: a + (b - a) * share / whole, with share and whole cross products below 2^65. The
 * step has |b - a| < 2^32, so twice the product stays below 2^98 and fits easily.
 */
struct cutlint_point geo_crossing(struct cutlint_point a, struct cutlint_point b,
				  struct cutlint_point c, struct cutlint_point d)
{
	geo_wide whole = geo_cross(a, b, c, d);
	geo_wide share = geo_cross(a, c, c, d);
	if (whole < 0) {
		whole = -whole;
		share = -share;
	}
	return (struct cutlint_point){
		(int32_t)(a.x + rounded_share(geo_dx(a, b), share, whole)),
		(int32_t)(a.y + rounded_share(geo_dy(a, b), share, whole)),
	};
}

/*
 * The parameters at which a line start + t * step, t in [0, 1], has a coordinate in [-1, 1): from
 * low to high over the positive divisor |step|. Going up, the low end belongs to it; going down,
 * the high end.
 */
struct span {
	int64_t low, high, divisor;
	bool low_closed;
};

static struct span span_of(int64_t start, int64_t step)
{
	if (step > 0)
		return (struct span){-1 - start, 1 - start, step, true};
	return (struct span){start - 1, start + 1, -step, false};
}

/* Whether span a begins before span b has ended. All factors are below 2^35. */
static bool begins_in_time(struct span a, struct span b)
{
	geo_wide begin = (geo_wide)a.low * b.divisor;
	geo_wide end = (geo_wide)b.high * a.divisor;
	return begin < end || (begin == end && a.low_closed && !b.low_closed);
}

/*
 * In doubled coordinates relative to p the pixel is [-1, 1) x [-1, 1). Intervals on a line have a
 * common point if each two of them have: those of x and of [0, 1], those of y and of [0, 1] (both
 * are settled by the box, whose corners are even), and those of x and y.
 */
bool geo_hits_pixel(struct cutlint_point a, struct cutlint_point b, struct cutlint_point p)
{
	if (!geo_boxed_by(a, b, p))
		return false;
	int64_t dx = 2 * geo_dx(a, b), dy = 2 * geo_dy(a, b);
	if (!dx || !dy)
		return true;
	struct span x = span_of(2 * geo_dx(p, a), dx), y = span_of(2 * geo_dy(p, a), dy);
	return begins_in_time(x, y) && begins_in_time(y, x);
}

/* |c - m|² - |b - a|²/4 = (c - a) · (c - b) by Thales; below 2^65. */
int geo_diametral(struct cutlint_point a, struct cutlint_point b, struct cutlint_point c)
{
	return geo_sign((geo_wide)geo_dx(a, c) * geo_dx(b, c) +
			(geo_wide)geo_dy(a, c) * geo_dy(b, c));
}

/* The step of a place that is no integer: 2^-20 nm. */
#define FINE_STEPS 1048576

struct geo_vector geo_fine(struct geo_vector at)
{
	return (struct geo_vector){rint(at.x * FINE_STEPS) / FINE_STEPS,
				   rint(at.y * FINE_STEPS) / FINE_STEPS};
}

/* Differences of fine coordinates are below 2^54, their products with those of plain ones below
 * 2^86. */
int geo_side(struct cutlint_point a, struct cutlint_point b, struct geo_vector at)
{
	int64_t x = llrint(at.x * FINE_STEPS) - (int64_t)a.x * FINE_STEPS;
	int64_t y = llrint(at.y * FINE_STEPS) - (int64_t)a.y * FINE_STEPS;
	return geo_sign((geo_wide)geo_dx(a, b) * y - (geo_wide)geo_dy(a, b) * x);
}
