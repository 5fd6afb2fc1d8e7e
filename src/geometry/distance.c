#include "geometry/distance.h"

#include <math.h>

#include "geometry/least.h"
#include "geometry/predicates.h"
#include "geometry/wide.h"

static double cross(struct geo_vector a, struct geo_vector b)
{
	return a.x * b.y - a.y * b.x;
}

static struct geo_vector minus(struct geo_vector a, struct geo_vector b)
{
	return (struct geo_vector){a.x - b.x, a.y - b.y};
}

static struct geo_vector between(struct geo_vector a, struct geo_vector b, double t)
{
	return (struct geo_vector){a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t};
}

struct geo_vector geo_nearest_on_segment(struct geo_vector a, struct geo_vector b,
					 struct geo_vector p)
{
	struct geo_vector d = minus(b, a), e = minus(p, a);
	double along = d.x * e.x + d.y * e.y;
	double whole = d.x * d.x + d.y * d.y;
	if (!(along > 0))
		return a;
	if (along >= whole)
		return b;
	if (cross(d, e) == 0)
		return p;
	return between(a, b, along / whole);
}

/* Whether the segments cross inside both; if so, where. */
static bool crossing(struct geo_vector a, struct geo_vector b, struct geo_vector c,
		     struct geo_vector d, struct geo_vector *at)
{
	struct geo_vector ab = minus(b, a), cd = minus(d, c);
	double c_side = cross(ab, minus(c, a)), d_side = cross(ab, minus(d, a));
	double a_side = cross(cd, minus(a, c)), b_side = cross(cd, minus(b, c));
	if (c_side > 0 ? d_side >= 0 : c_side < 0 ? d_side <= 0 : true)
		return false;
	if (a_side > 0 ? b_side >= 0 : a_side < 0 ? b_side <= 0 : true)
		return false;
	*at = between(a, b, a_side / (a_side - b_side));
	return true;
}

struct nearest {
	double square; /* of the distance */
	struct geo_vector on_ab, on_cd;
};

static void offer(struct nearest *best, struct geo_vector on_ab, struct geo_vector on_cd)
{
	struct geo_vector off = minus(on_ab, on_cd);
	double square = off.x * off.x + off.y * off.y;
	if (square < best->square)
		*best = (struct nearest){square, on_ab, on_cd};
}

double geo_segment_distance(struct geo_vector a, struct geo_vector b, struct geo_vector c,
			    struct geo_vector d, struct geo_vector *on_ab, struct geo_vector *on_cd)
{
	struct geo_vector at;
	struct nearest best = {INFINITY, a, c};
	offer(&best, a, geo_nearest_on_segment(c, d, a));
	if (a.x == b.x && a.y == b.y) {
		offer(&best, a, c);
		offer(&best, a, d);
	} else if (crossing(a, b, c, d, &at)) {
		best = (struct nearest){0, at, at};
	} else {
		offer(&best, b, geo_nearest_on_segment(c, d, b));
		offer(&best, geo_nearest_on_segment(a, b, c), c);
		offer(&best, geo_nearest_on_segment(a, b, d), d);
	}
	*on_ab = best.on_ab;
	*on_cd = best.on_cd;
	return sqrt(best.square);
}

static bool in_box(struct cutlint_point a, struct cutlint_point b, struct geo_vector at)
{
	return geo_lesser(a.x, b.x) <= at.x && at.x <= geo_greater(a.x, b.x) &&
	       geo_lesser(a.y, b.y) <= at.y && at.y <= geo_greater(a.y, b.y);
}

bool geo_chain_contains(const struct geo_lines *lines, uint32_t chain, struct geo_vector at)
{
	const struct geo_chain *all = &lines->chains[chain];
	const struct cutlint_point *points = lines->points + all->first;
	bool inside = false;
	at = geo_fine(at);
	for (uint32_t i = 0; i < all->count; i++) {
		struct cutlint_point a = points[i];
		struct cutlint_point b = points[i + 1 < all->count ? i + 1 : 0];
		if (in_box(a, b, at) && !geo_side(a, b, at))
			return true;
		if ((a.y > at.y) != (b.y > at.y) && (geo_side(a, b, at) > 0) == (b.y > a.y))
			inside = !inside;
	}
	return inside;
}

/* A term is below 2^65, so 2^32 of them fit. */
double geo_chain_area2(const struct geo_lines *lines, uint32_t chain)
{
	const struct geo_chain *all = &lines->chains[chain];
	const struct cutlint_point *points = lines->points + all->first;
	geo_wide sum = 0;
	for (uint32_t i = 2; i < all->count; i++)
		sum += geo_cross(points[0], points[i - 1], points[0], points[i]);
	return (double)sum;
}
