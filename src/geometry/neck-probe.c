#include "geometry/neck-probe.h"

#include <math.h>

#include "geometry/least.h"
#include "geometry/neck-facing.h"
#include "geometry/neck-middle.h"
#include "geometry/neck-view.h"

/* Cones are probed in parts no wider than this, in radians: an eighth of half a turn. */
#define PART 0.39269908169872414

/*
 * How far a foot in the part can be for the walls seen in other parts: a wall at z hides what lies
 * beyond |z| / cos of the angle between.
 */
static double hidden_from(const struct neck_view *view, struct geo_vector low,
			  struct geo_vector high)
{
	double reach = view->search->limit;
	for (uint32_t i = 0; i < view->part; i++) {
		struct geo_vector z = view->blocks[i];
		double cosine = geo_lesser(neck_dot(z, low), neck_dot(z, high));
		if (cosine > 0)
			reach = geo_lesser(reach, neck_dot(z, z) / cosine * (1 + 1e-9));
	}
	return reach;
}

/* Where the parts of a turn begin: they end at the diagonals too, where cones change their axis. */
static uint32_t divide_turn(double start, double turn, double begins[NECK_PARTS_MAX + 1])
{
	double at = 0, quarter = acos(0);
	uint32_t count = 0;
	while (at < turn && count < NECK_PARTS_MAX) {
		double angle = (start + at + quarter / 2) / quarter;
		begins[count++] = start + at;
		at = geo_lesser(at + PART, (floor(angle + 1e-9) + 0.5) * quarter - start);
	}
	begins[count] = start + turn;
	return count;
}

/*
 * Probes from one direction counter-clockwise to another, at most half a turn on, in parts: from
 * both sides inwards, because the neighbours along the walls hide most of what is farther.
 */
static void probe_turn(struct neck_view *view, struct geo_vector from, struct geo_vector to)
{
	double begins[NECK_PARTS_MAX + 1];
	double turn = atan2(neck_cross(from, to), neck_dot(from, to));
	if (turn < -1e-9)
		turn += 2 * acos(-1);
	uint32_t count = divide_turn(atan2(from.y, from.x), turn, begins);
	for (uint32_t k = 0; k < count; k++) {
		uint32_t i = k & 1 ? count - 1 - k / 2 : k / 2;
		struct geo_vector low = {cos(begins[i]), sin(begins[i])};
		struct geo_vector high = {cos(begins[i + 1]), sin(begins[i + 1])};
		neck_view_part(view, low, high, hidden_from(view, low, high));
	}
}

/* Whether two directions lie at most 45° off the same axis. */
static bool is_on_one_axis(struct geo_vector a, struct geo_vector b)
{
	bool flat = fabs(a.x) >= fabs(a.y) && fabs(b.x) >= fabs(b.y) && a.x * b.x > 0;
	bool steep = fabs(a.y) >= fabs(a.x) && fabs(b.y) >= fabs(b.x) && a.y * b.y > 0;
	return flat || steep;
}

/* The case of nearly all corners of flattened curves: one part, or two on both sides of a diagonal.
 */
static void probe_narrow(struct neck_view *view, struct geo_vector low, struct geo_vector high)
{
	struct geo_vector diagonal = {low.x + high.x < 0 ? -1 : 1, low.y + high.y < 0 ? -1 : 1};
	if (is_on_one_axis(low, high)) {
		neck_view_part(view, low, high, view->search->limit);
		return;
	}
	neck_view_part(view, low, diagonal, view->search->limit);
	neck_view_part(view, diagonal, high, view->search->limit);
}

/* The normal cone of a corner, from the left normal of the edge that leaves to the other one's. */
static void probe_corner(struct neck_view *view)
{
	struct geo_vector low = {-view->on.y, view->on.x}, high = {view->back.y, -view->back.x};
	if (neck_cross(low, high) <= 0.4 * neck_dot(low, high))
		probe_narrow(view, low, high);
	else
		probe_turn(view, low, high);
}

/* Both edges that meet in a convex corner; the first only where the edge's other end won't. */
static bool probe_middles(const struct neck_view *view)
{
	uint32_t half = view->corner, before = view->walls->previous[half];
	if (!neck_convex(view->walls, before) &&
	    !neck_probe_middle(view->walls, view->search, before, view->out))
		return false;
	return neck_probe_middle(view->walls, view->search, half, view->out);
}

int neck_probe(const struct neck_walls *walls, const struct geo_neck_search *search,
	       struct neck_candidates *out)
{
	struct neck_view view = {.walls = walls, .search = search, .out = out, .nearest = GEO_NONE};
	*out = (struct neck_candidates){0};
	if (neck_facing_flag(walls) < 0)
		return -1;
	for (uint32_t i = 0; i < 2 * walls->count && !view.failed; i++) {
		uint32_t half = 2 * walls->edges[i / 2] + (i & 1);
		if (!walls->kept[walls->arrangement->face[half]])
			continue;
		neck_view_begin(&view, half);
		if (neck_cross(view.on, view.back) <= 0)
			probe_corner(&view);
		else
			view.failed |= !probe_middles(&view);
	}
	geo_index_unflag(walls->index);
	return view.failed ? -1 : 0;
}
