#include "geometry/match-part.h"

#include <math.h>

/* More than any rounding of a length, as a share of it. */
static const double ROUNDING = 1e-9;

/* A side as a vector, with its length. */
struct run {
	struct cutlint_point from;
	double dx, dy, length;
};

static struct run run_of(const struct geo_tracks *tracks, uint32_t side)
{
	struct geo_segment s = tracks->segments[side];
	return (struct run){s.from, (double)s.to.x - s.from.x, (double)s.to.y - s.from.y,
			    tracks->sides[side].length};
}

/* How far a place lies from a side's line, positive on its left, times the side's length. */
static double across(const struct run *run, struct cutlint_point at)
{
	return run->dx * ((double)at.y - run->from.y) - run->dy * ((double)at.x - run->from.x);
}

/* Whether a side keeps to one side of another one's line, farther off than `reach`. */
static bool keeps_off(const struct run *run, struct geo_segment other, double reach)
{
	double least = reach * run->length;
	double from = across(run, other.from), to = across(run, other.to);
	return (from > least && to > least) || (from < -least && to < -least);
}

bool geo_side_is_short(const struct geo_tracks *tracks, uint32_t side, double least)
{
	return tracks->chains[tracks->sides[side].chain].length < least * (1 - ROUNDING);
}

/* Whether a chain goes on beyond the first or the last place of a side. */
static bool goes_on(const struct geo_tracks *tracks, uint32_t side, bool last)
{
	const struct geo_track *track = &tracks->chains[tracks->sides[side].chain];
	uint32_t end = last ? track->first + track->count - 1 : track->first;
	return track->closed || side != end;
}

/* Whether all within `reach` of a place along a side's line lies on the side, or its chain ends. */
static bool is_confined(const struct geo_tracks *tracks, uint32_t side, double at, double reach)
{
	double length = tracks->sides[side].length;
	return (at > reach || !goes_on(tracks, side, false)) &&
	       (at < length - reach || !goes_on(tracks, side, true));
}

/*
 * Whether two sides cross so steeply that they are together for less than the least length, and
 * stay on each other's side for as long: they are within `apart` for twice apart / sin of their
 * angle at most.
 */
static bool only_cross(const struct geo_tracks *tracks, uint32_t a, uint32_t b, double apart,
		       double least)
{
	struct run u = run_of(tracks, a), v = run_of(tracks, b);
	double cross = u.dx * v.dy - u.dy * v.dx;
	double reach = apart * u.length * v.length / fabs(cross);
	if (!(2.01 * reach < least))
		return false;
	double wx = (double)v.from.x - u.from.x, wy = (double)v.from.y - u.from.y;
	double on_a = (wx * v.dy - wy * v.dx) / cross * u.length;
	double on_b = (wx * u.dy - wy * u.dx) / cross * v.length;
	return is_confined(tracks, a, on_a, reach) && is_confined(tracks, b, on_b, reach);
}

bool geo_sides_part(const struct geo_tracks *tracks, uint32_t a, uint32_t b, double apart,
		    double least)
{
	struct run u = run_of(tracks, a), v = run_of(tracks, b);
	double reach = apart + 1; /* a nanometre makes up for rounding */
	return geo_side_is_short(tracks, a, least) || keeps_off(&v, tracks->segments[a], reach) ||
	       keeps_off(&u, tracks->segments[b], reach) || only_cross(tracks, a, b, apart, least);
}
