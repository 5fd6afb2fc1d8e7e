#include "geometry/neck-stretch.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/least.h"

/* What seems to reach, in nm, into a disk that it only touches. */
#define TOUCH 1e-4

/* Between two edges, a stretch longer than this many radii is searched by its ends. */
#define LONG 32

static bool has_room(struct neck_scene *scene)
{
	if (scene->near_count < scene->near_room)
		return true;
	uint32_t room = scene->near_room * 2 + 64;
	struct neck_near *near = realloc(scene->near, room * sizeof *near);
	scene->failed = !near;
	if (!near)
		return false;
	scene->near = near;
	scene->near_room = room;
	return true;
}

static bool note_half(struct neck_scene *scene, uint32_t half)
{
	const struct geo_arrangement *arrangement = scene->walls->arrangement;
	half &= ~1U;
	if (arrangement->face[half] != scene->face && arrangement->face[half + 1] != scene->face)
		return true;
	const struct geo_edge *edge = &arrangement->edges[half / 2];
	struct neck_near near = {half, neck_place(scene->walls, edge->from, scene->origin),
				 neck_place(scene->walls, edge->to, scene->origin)};
	if (!neck_comes_within(near.from, near.to, scene->middle, scene->reach))
		return true;
	if (!has_room(scene))
		return false;
	scene->near[scene->near_count++] = near;
	return true;
}

static bool note_edge(void *user, uint32_t segment)
{
	struct neck_scene *scene = user;
	return note_half(scene, 2 * scene->walls->edges[segment]);
}

/* All edges at the node of a half-edge's start. */
static bool note_ends(void *user, uint32_t node)
{
	struct neck_scene *scene = user;
	uint32_t first = scene->walls->starts[node], half = first;
	if (first == GEO_NONE)
		return true;
	do {
		if (!note_half(scene, half))
			return false;
		half = scene->walls->previous[half] ^ 1;
	} while (half != first);
	return true;
}

/*
 * The disks between two straight walls lie between the walls but for the first and the last. So
 * what comes between has an end there, or reaches into one of those two: no edge crosses the walls.
 * That keeps long corridors cheap where many lie side by side.
 */
static void look_along(struct neck_scene *scene, struct geo_vector a, struct geo_vector b,
		       double radius)
{
	if (neck_walls_index_ends(scene->walls) < 0) {
		scene->failed = true;
		return;
	}
	geo_index_band(scene->walls->index, a, a, radius, note_edge, scene);
	geo_index_band(scene->walls->index, b, b, radius, note_edge, scene);
	geo_index_band(scene->walls->ends, a, b, radius, note_ends, scene);
}

/* Collects the edges that could come as near as both walls along the stretch. */
static void look_around(struct neck_scene *scene, const struct neck_stretch *stretch)
{
	const struct neck_bisector *bisector = &stretch->bisector;
	struct geo_vector a = neck_bisector_at(bisector, bisector->from);
	struct geo_vector b = neck_bisector_at(bisector, stretch->to);
	double r = neck_bisector_radius(bisector, bisector->from);
	double s = neck_bisector_radius(bisector, stretch->to);
	/* A parabola bends away from its chord by less than its radius changes. */
	double least = geo_lesser(r, s);
	if (bisector->kind == NECK_PARABOLA && bisector->from < 0 && stretch->to > 0)
		least = bisector->apart / 2;
	double bend = bisector->kind == NECK_PARABOLA ? geo_greater(r, s) - least : 0;
	struct geo_vector run = neck_minus(b, a);
	scene->middle = neck_along(a, 0.5, run);
	scene->reach = geo_greater(r, s) + bend + sqrt(neck_dot(run, run)) / 2 + 1;
	a.x += scene->origin.x;
	a.y += scene->origin.y;
	b.x += scene->origin.x;
	b.y += scene->origin.y;
	scene->near_count = 0;
	if (bisector->kind == NECK_LINES && stretch->to - bisector->from > LONG * geo_greater(r, s))
		look_along(scene, a, b, geo_greater(r, s));
	else
		geo_index_band(scene->walls->index, a, b, geo_greater(r, s) + bend, note_edge,
			       scene);
}

/* The half-edge that comes after a feature, in the direction of the walk. */
static uint32_t edge_ahead(const struct neck_scene *scene, neck_feature feature, bool left)
{
	uint32_t half = neck_half(feature);
	if (neck_is_corner(feature))
		return left ? scene->walls->previous[half] : half;
	return left ? scene->walls->previous[half] : scene->walls->arrangement->next[half];
}

/* The corner at the end of an edge, in the direction of the walk. */
static uint32_t corner_ahead(const struct neck_scene *scene, neck_feature edge, bool left)
{
	uint32_t half = neck_half(edge);
	return left ? half : scene->walls->arrangement->next[half];
}

/* What a wall goes on with where the foot leaves a feature. */
neck_feature neck_ahead(const struct neck_scene *scene, neck_feature feature, bool left)
{
	if (neck_is_corner(feature))
		return neck_edge(edge_ahead(scene, feature, left));
	uint32_t corner = corner_ahead(scene, feature, left);
	if (neck_convex(scene->walls, corner))
		return neck_edge(edge_ahead(scene, feature, left));
	return neck_corner(corner);
}

static double leaving(const struct neck_scene *scene, const struct neck_pose *pose,
		      const struct neck_bisector *bisector, bool left)
{
	neck_feature feature = left ? pose->left : pose->right;
	struct geo_vector way = {0, 0};
	if (neck_is_corner(feature)) {
		uint32_t next = edge_ahead(scene, feature, left);
		struct neck_shape edge = neck_shape(scene->walls, neck_edge(next), scene->origin);
		double turn = left ? -1 : 1;
		way = (struct geo_vector){turn * edge.along.x, turn * edge.along.y};
	}
	struct neck_polynomial f = neck_bisector_leaves(bisector, left, way);
	return neck_turns_negative(&f, bisector->from, TOUCH);
}

/* Of two edges one of which follows the other: no disk touches both at a corner that is reflex. */
static bool follows(const struct neck_scene *scene, uint32_t half, uint32_t next)
{
	return scene->walls->arrangement->next[half] == next && !neck_convex(scene->walls, next);
}

/* Whether a feature belongs to the wall right there, so that its distance only touches. */
static bool adjoins(const struct neck_scene *scene, neck_feature wall, neck_feature other)
{
	const struct geo_arrangement *arrangement = scene->walls->arrangement;
	uint32_t half = neck_half(wall), with = neck_half(other);
	if (neck_is_corner(wall) && neck_is_corner(other))
		return geo_half_edge_from(arrangement, half) ==
		       geo_half_edge_from(arrangement, with);
	if (neck_is_corner(wall))
		return with == half || with == scene->walls->previous[half];
	if (!neck_is_corner(other))
		return wall == other || follows(scene, half, with) || follows(scene, with, half);
	uint32_t node = geo_half_edge_from(arrangement, with);
	return node == geo_half_edge_from(arrangement, half) ||
	       node == geo_half_edge_to(arrangement, half);
}

static bool adjoins_either(const struct neck_scene *scene, const struct neck_pose *pose,
			   neck_feature feature)
{
	return adjoins(scene, pose->left, feature) || adjoins(scene, pose->right, feature);
}

/* Of a feature that adjoins neither wall. */
static void offer(const struct neck_pose *pose, struct neck_stretch *stretch, neck_feature feature,
		  double t)
{
	bool sooner = t < stretch->to || (t == stretch->to && stretch->event == NECK_THIRD &&
					  feature < stretch->third);
	if (!sooner)
		return;
	if (feature == pose->dropped && t <= stretch->bisector.from + NECK_CLOSE)
		return;
	stretch->to = t;
	stretch->event = NECK_THIRD;
	stretch->third = feature;
}

static void offer_corner(const struct neck_scene *scene, const struct neck_pose *pose,
			 struct neck_stretch *stretch, uint32_t half, struct geo_vector at)
{
	struct geo_vector off = neck_minus(at, scene->middle);
	if (neck_dot(off, off) > scene->reach * scene->reach ||
	    adjoins_either(scene, pose, neck_corner(half)))
		return;
	struct neck_polynomial f = neck_bisector_to_point(&stretch->bisector, at);
	double slack = 2 * TOUCH * neck_bisector_radius(&stretch->bisector, stretch->bisector.from);
	double t = neck_turns_negative(&f, stretch->bisector.from, slack);
	if (t <= stretch->to)
		offer(pose, stretch, neck_corner(half), t);
}

static void offer_edge(const struct neck_scene *scene, const struct neck_pose *pose,
		       struct neck_stretch *stretch, uint32_t half)
{
	const struct neck_bisector *bisector = &stretch->bisector;
	if (adjoins_either(scene, pose, neck_edge(half)))
		return;
	struct neck_shape edge = neck_shape(scene->walls, neck_edge(half), scene->origin);
	struct neck_polynomial f = neck_bisector_to_edge(bisector, &edge);
	double slack = TOUCH;
	if (bisector->kind == NECK_POINTS)
		slack *= 2 * neck_bisector_radius(bisector, bisector->from);
	double t = neck_turns_negative(&f, bisector->from, slack);
	for (int again = 0; again < 2 && t <= stretch->to; again++) {
		struct geo_vector x = neck_minus(neck_bisector_at(bisector, t), edge.at);
		double foot = neck_dot(x, edge.along);
		if (foot >= -TOUCH && foot <= edge.length + TOUCH && neck_dot(x, edge.normal) > 0) {
			offer(pose, stretch, neck_edge(half), t);
			return;
		}
		/* Its line touched at once, but beside the edge: the edge itself may come later. */
		t = neck_turns_negative(&f, nextafter(t + NECK_CLOSE, INFINITY), -INFINITY);
	}
}

static void offer_near(const struct neck_scene *scene, const struct neck_pose *pose,
		       struct neck_stretch *stretch)
{
	const uint32_t *face = scene->walls->arrangement->face;
	struct geo_vector x = neck_bisector_at(&stretch->bisector, stretch->bisector.from);
	for (uint32_t i = 0; i < scene->near_count; i++) {
		struct geo_vector a = scene->near[i].from, b = scene->near[i].to;
		uint32_t half = scene->near[i].half;
		bool right = neck_cross(neck_minus(b, a), neck_minus(x, a)) < 0;
		if (face[half + right] == scene->face)
			offer_edge(scene, pose, stretch, half + right);
		if (face[half] == scene->face)
			offer_corner(scene, pose, stretch, half, a);
		if (face[half + 1] == scene->face)
			offer_corner(scene, pose, stretch, half + 1, b);
	}
}

static void bound(struct neck_stretch *stretch, enum neck_event event, double t)
{
	if (t >= stretch->to)
		return;
	stretch->to = t;
	stretch->event = event;
}

/* Where along the curve the distance `left` has been walked; INFINITY where it ends before. */
static double walked_at(const struct neck_bisector *bisector, double to, double left)
{
	if (left == INFINITY || !(left < neck_bisector_length(bisector, bisector->from, to)))
		return INFINITY;
	return neck_bisector_after(bisector, bisector->from, left);
}

/* How far the walk can go between the same two features. False where they have no bisector. */
bool neck_measure(struct neck_scene *scene, const struct neck_pose *pose,
		  struct neck_stretch *stretch)
{
	struct neck_shape left = neck_shape(scene->walls, pose->left, scene->origin);
	struct neck_shape right = neck_shape(scene->walls, pose->right, scene->origin);
	if (!neck_bisector_init(&stretch->bisector, &left, &right, pose->x))
		return false;
	stretch->to = INFINITY;
	stretch->event = NECK_REACHED_HIGH;
	bound(stretch, NECK_REACHED_HIGH, neck_bisector_above(&stretch->bisector, scene->high));
	bound(stretch, NECK_REACHED_LOW, neck_bisector_below(&stretch->bisector, scene->low));
	bound(stretch, NECK_LEFT_LEAVES, leaving(scene, pose, &stretch->bisector, true));
	bound(stretch, NECK_RIGHT_LEAVES, leaving(scene, pose, &stretch->bisector, false));
	if (stretch->to == INFINITY)
		return false;
	look_around(scene, stretch);
	offer_near(scene, pose, stretch);
	bound(stretch, NECK_STOPPED,
	      walked_at(&stretch->bisector, stretch->to, scene->stop - pose->walked));
	return !scene->failed;
}
