#include "geometry/neck-view.h"

#include <math.h>

#include "geometry/least.h"
#include "geometry/neck-facing.h"

/* More than the rounding of a direction. */
#define ANGLE 1e-9

/* By how much more than this, in nm, a wall enters a disk that it hides. */
#define TOUCH 1e-4

/* How many edges along a wall what was nearest is looked for. */
#define STEPS 8

/* Whether one of the nearest walls lies in the disk to a foot. */
static bool is_hidden(const struct neck_view *view, struct geo_vector foot)
{
	double touch = TOUCH * view->search->limit;
	for (uint32_t i = 0; i <= view->part; i++) {
		struct geo_vector block = view->blocks[i];
		if (neck_dot(block, foot) > neck_dot(block, block) * (1 + ANGLE) + touch)
			return true;
	}
	return false;
}

/* Drops what has come to be too far, or hidden. */
static void prune(struct neck_view *view)
{
	uint32_t left = 0;
	for (uint32_t i = 0; i < view->found_count; i++) {
		if (view->found[i].width > view->reach || is_hidden(view, view->feet[i]))
			continue;
		view->found[left] = view->found[i];
		view->feet[left++] = view->feet[i];
	}
	view->found_count = left;
}

static void keep(struct neck_view *view, neck_feature facing, struct geo_vector foot)
{
	double width2 = neck_dot(foot, foot);
	if (width2 > view->reach * view->reach || is_hidden(view, foot))
		return;
	for (uint32_t i = 0; i < view->found_count; i++)
		if (view->found[i].b == facing)
			return;
	struct neck_candidate candidate = {sqrt(width2), neck_corner(view->corner), facing, false};
	if (candidate.width > view->search->limit)
		return;
	if (view->found_count == NECK_FOUND_MAX)
		prune(view);
	if (view->found_count < NECK_FOUND_MAX) {
		view->feet[view->found_count] = foot;
		view->found[view->found_count++] = candidate;
	} else if (neck_disk_is_empty(view->walls, &candidate) &&
		   !neck_candidates_add(view->out, &candidate)) {
		view->failed = true;
	}
}

/* Whether a direction lies in the part of the cone that is being probed. */
static bool in_part(const struct neck_view *view, struct geo_vector to)
{
	return neck_cross(view->low, to) >= 0 && neck_cross(to, view->high) >= 0 &&
	       neck_dot(view->middle, to) > 0;
}

static void block_at(struct neck_view *view, uint32_t half, struct geo_vector at)
{
	double square = neck_dot(at, at);
	if (square >= view->block2)
		return;
	view->blocks[view->part] = at;
	view->block2 = square;
	view->nearest = half;
	view->reach = geo_lesser(view->reach, sqrt(square) * view->widen);
}

/* A wall in the part bounds how far a foot in it can be, because it would enter the disk. */
static void shorten(struct neck_view *view, uint32_t half, struct geo_vector a, struct geo_vector b)
{
	double left = neck_cross(view->middle, a), right = neck_cross(view->middle, b);
	if (in_part(view, a))
		block_at(view, half, a);
	if (in_part(view, b))
		block_at(view, half, b);
	if ((left < 0) == (right < 0))
		return;
	struct geo_vector hit = neck_along(a, left / (left - right), neck_minus(b, a));
	if (neck_dot(hit, view->middle) > 0)
		block_at(view, half, hit);
}

/* The foot of the corner on the line through a and b. False where it lies outside them. */
static bool foot_between(struct geo_vector a, struct geo_vector b, struct geo_vector *foot)
{
	struct geo_vector along = neck_minus(b, a);
	double t = -neck_dot(a, along), length2 = neck_dot(along, along);
	double apart = neck_cross(a, b) / length2; /* the foot is this × the normal of `along` */
	*foot = (struct geo_vector){-along.y * -apart, along.x * -apart};
	return t > 0 && t < length2;
}

/* Whether a direction lies in the normal cone of the corner. */
static bool in_cone(const struct neck_view *view, struct geo_vector to)
{
	return !neck_leans(to, view->back) && !neck_leans(to, view->on);
}

static bool is_of_face(const struct neck_view *view, uint32_t half)
{
	return view->walls->arrangement->face[half] == view->face;
}

static void face_corner(struct neck_view *view, uint32_t half, struct geo_vector at)
{
	struct geo_vector back = {-at.x, -at.y};
	if (half > view->corner && neck_dot(at, at) <= view->reach * view->reach &&
	    in_cone(view, at) && is_of_face(view, half) && neck_in_cone(view->walls, half, back))
		keep(view, neck_corner(half), at);
}

/* Whether a wall lies wholly beside the part, behind, or too far. */
static inline bool is_beside(const struct neck_view *view, struct geo_vector a, struct geo_vector b)
{
	double u = neck_dot(view->middle, a), v = neck_dot(view->middle, b);
	if ((u <= 0 && v <= 0) || (u > view->reach && v > view->reach))
		return true;
	double left = neck_cross(view->middle, a), right = neck_cross(view->middle, b);
	u *= view->spread;
	v *= view->spread;
	return (left > u && right > v) || (left < -u && right < -v);
}

/* Looks at an edge that may come into the part, from a to b. */
static void face_edge(struct neck_view *view, uint32_t edge, struct geo_vector a,
		      struct geo_vector b)
{
	if ((a.x == 0 && a.y == 0) || (b.x == 0 && b.y == 0))
		return;
	uint32_t half = 2 * edge + (neck_cross(a, b) < 0);
	struct geo_vector foot;
	bool inside = foot_between(a, b, &foot);
	if (inside && in_part(view, foot))
		block_at(view, half, foot);
	else
		shorten(view, half, a, b);
	if (inside && in_cone(view, foot) && is_of_face(view, half))
		keep(view, neck_edge(half), foot);
	face_corner(view, 2 * edge, a);
	face_corner(view, 2 * edge + 1, b);
}

static void face_segments(void *user, const uint32_t *segments, uint32_t count, double *reach)
{
	struct neck_view *view = user;
	for (uint32_t i = 0; i < count; i++) {
		const struct geo_segment *wall = &view->walls->segments[segments[i]];
		struct geo_vector a = neck_from(wall->from, view->at);
		struct geo_vector b = neck_from(wall->to, view->at);
		if (!is_beside(view, a, b))
			face_edge(view, view->walls->edges[segments[i]], a, b);
	}
	*reach = geo_lesser(*reach, view->reach);
}

/* The wall beside that which was nearest to the last corner, towards the part; or GEO_NONE. */
static uint32_t step_along(const struct neck_view *view, uint32_t half, struct geo_vector a,
			   struct geo_vector b)
{
	double left = neck_cross(view->middle, a), right = neck_cross(view->middle, b);
	if (left < 0 && right < 0)
		return view->walls->arrangement->next[half];
	return left > 0 && right > 0 ? view->walls->previous[half] : GEO_NONE;
}

/*
 * From one corner to the next, the nearest wall moves on by a few edges at most. One that has the
 * corner on its left runs counter-clockwise round it.
 */
static void face_nearest(struct neck_view *view)
{
	const struct geo_arrangement *arrangement = view->walls->arrangement;
	uint32_t half = view->nearest;
	for (int i = 0; i < STEPS && half != GEO_NONE; i++) {
		struct geo_vector a =
			neck_place(view->walls, geo_half_edge_from(arrangement, half), view->at);
		struct geo_vector b =
			neck_place(view->walls, geo_half_edge_to(arrangement, half), view->at);
		if (neck_cross(a, b) <= 0)
			return;
		if (!is_beside(view, a, b)) {
			if (half & 1)
				face_edge(view, half / 2, b, a);
			else
				face_edge(view, half / 2, a, b);
			return;
		}
		half = step_along(view, half, a, b);
	}
}

static struct geo_vector unit(struct geo_vector v)
{
	double length = sqrt(neck_dot(v, v));
	return (struct geo_vector){v.x / length, v.y / length};
}

static void set_sides(struct neck_view *view, struct geo_vector low, struct geo_vector high)
{
	struct geo_vector a = unit(low), b = unit(high);
	view->low = low;
	view->high = high;
	view->middle = unit((struct geo_vector){a.x + b.x, a.y + b.y});
	view->spread = neck_cross(view->middle, b) / neck_dot(view->middle, b) + ANGLE;
	view->widen = (1 + ANGLE) / geo_greater(neck_dot(a, b), 0.9);
	view->blocks[view->part] = (struct geo_vector){0, 0};
	view->block2 = INFINITY;
}

static struct geo_cone cone_of(const struct neck_view *view)
{
	struct geo_vector m = view->middle, low = view->low, high = view->high;
	bool steep = fabs(m.y) > fabs(m.x);
	double a = steep ? low.x / fabs(low.y) : low.y / fabs(low.x);
	double b = steep ? high.x / fabs(high.y) : high.y / fabs(high.x);
	return (struct geo_cone){{view->at.x, view->at.y},
				 steep,
				 steep ? m.y < 0 : m.x < 0,
				 geo_lesser(a, b) - ANGLE,
				 geo_greater(a, b) + ANGLE};
}

void neck_view_begin(struct neck_view *view, uint32_t half)
{
	const struct geo_arrangement *arrangement = view->walls->arrangement;
	view->corner = half;
	view->part = 0;
	view->face = arrangement->face[half];
	view->at = arrangement->nodes[geo_half_edge_from(arrangement, half)];
	neck_ways(view->walls, half, &view->back, &view->on);
}

/* Where something is known to bound the search, it only needs cells that may hold candidates. */
void neck_view_part(struct neck_view *view, struct geo_vector low, struct geo_vector high,
		    double reach)
{
	set_sides(view, low, high);
	view->found_count = 0;
	view->reach = reach;
	face_nearest(view);
	uint64_t flags = neck_facing_between(low, high);
	struct geo_cone cone = cone_of(view);
	geo_index_cone(view->walls->index, &cone, view->reach, flags, face_segments, view);
	if (view->block2 == INFINITY)
		view->nearest = GEO_NONE;
	prune(view);
	for (uint32_t i = 0; i < view->found_count; i++)
		if (neck_disk_is_empty(view->walls, &view->found[i]) &&
		    !neck_candidates_add(view->out, &view->found[i]))
			view->failed = true;
	view->part++;
}
