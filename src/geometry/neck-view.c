#include "geometry/neck-view.h"

#include <math.h>

#include "geometry/least.h"

/* More than the rounding of a direction. */
#define ANGLE 1e-9

/* By how much more than this, in nm, a wall enters a disk that it hides. */
#define TOUCH 1e-4

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

static void block_at(struct neck_view *view, uint32_t segment, struct geo_vector at)
{
	double square = neck_dot(at, at);
	if (square >= view->block2)
		return;
	view->blocks[view->part] = at;
	view->block2 = square;
	view->nearest = segment;
	view->reach = geo_lesser(view->reach, sqrt(square) * view->widen);
}

/* A wall in the part bounds how far a foot in it can be, because it would enter the disk. */
static void shorten(struct neck_view *view, uint32_t segment, struct geo_vector a,
		    struct geo_vector b)
{
	double left = neck_cross(view->middle, a), right = neck_cross(view->middle, b);
	if (in_part(view, a))
		block_at(view, segment, a);
	if (in_part(view, b))
		block_at(view, segment, b);
	if ((left < 0) == (right < 0))
		return;
	struct geo_vector hit = neck_along(a, left / (left - right), neck_minus(b, a));
	if (neck_dot(hit, view->middle) > 0)
		block_at(view, segment, hit);
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

/* The foot of the corner inside an edge. */
static void face_edge(struct neck_view *view, uint32_t edge, struct geo_vector a,
		      struct geo_vector b, struct geo_vector foot)
{
	uint32_t half = 2 * edge + (neck_cross(a, b) < 0);
	if (view->walls->arrangement->face[half] == view->face &&
	    neck_in_cone(view->walls, view->corner, foot))
		keep(view, neck_edge(half), foot);
}

static void face_corner(struct neck_view *view, uint32_t half, struct geo_vector at)
{
	struct geo_vector back = {-at.x, -at.y};
	if (half < view->corner || neck_dot(at, at) > view->reach * view->reach ||
	    is_hidden(view, at))
		return;
	if (half != view->corner && view->walls->arrangement->face[half] == view->face &&
	    neck_in_cone(view->walls, view->corner, at) && neck_in_cone(view->walls, half, back))
		keep(view, neck_corner(half), at);
}

/* Whether a wall lies wholly beside the part, or behind. */
static bool is_beside(const struct neck_view *view, struct geo_vector a, struct geo_vector b)
{
	return (neck_cross(view->below, a) < 0 && neck_cross(view->below, b) < 0) ||
	       (neck_cross(a, view->above) < 0 && neck_cross(b, view->above) < 0) ||
	       (neck_dot(view->middle, a) <= 0 && neck_dot(view->middle, b) <= 0);
}

static void face_segment(void *user, uint32_t segment, double *reach)
{
	struct neck_view *view = user;
	uint32_t edge = view->walls->edges[segment];
	const struct geo_segment *wall = &view->walls->segments[segment];
	struct geo_vector a = neck_from(wall->from, view->at), b = neck_from(wall->to, view->at);
	if (is_beside(view, a, b))
		return;
	const struct geo_edge *ends = &view->walls->arrangement->edges[edge];
	if (ends->from == view->node || ends->to == view->node)
		return;
	struct geo_vector foot;
	bool inside = foot_between(a, b, &foot);
	if (inside && in_part(view, foot))
		block_at(view, segment, foot);
	else
		shorten(view, segment, a, b);
	*reach = geo_lesser(*reach, view->reach);
	if (inside)
		face_edge(view, edge, a, b, foot);
	face_corner(view, 2 * edge, a);
	face_corner(view, 2 * edge + 1, b);
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
	view->middle = (struct geo_vector){a.x + b.x, a.y + b.y};
	view->below = neck_along(a, ANGLE, (struct geo_vector){a.y, -a.x});
	view->above = neck_along(b, ANGLE, (struct geo_vector){-b.y, b.x});
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
	view->node = geo_half_edge_from(arrangement, half);
	view->face = arrangement->face[half];
	view->at = arrangement->nodes[view->node];
}

/* What was nearest before is looked at first: most often it is near again, and bounds the search.
 */
void neck_view_part(struct neck_view *view, struct geo_vector low, struct geo_vector high,
		    double reach)
{
	set_sides(view, low, high);
	struct geo_cone cone = cone_of(view);
	view->found_count = 0;
	view->reach = reach;
	if (view->nearest != GEO_NONE)
		face_segment(view, view->nearest, &reach);
	geo_index_cone(view->walls->index, &cone, reach, face_segment, view);
	prune(view);
	for (uint32_t i = 0; i < view->found_count; i++)
		if (neck_disk_is_empty(view->walls, &view->found[i]) &&
		    !neck_candidates_add(view->out, &view->found[i]))
			view->failed = true;
	view->part++;
}
