#include "geometry/neck-stretch.h"

#include <math.h>

#include "geometry/least.h"

/* What seems to reach, in nm, into a disk that it only touches. */
#define TOUCH 1e-4

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

/* Whether a polynomial is above a bound all along the stretch, so that no event comes. */
static bool stays_above(const struct neck_polynomial *f, const struct neck_stretch *stretch,
			double least)
{
	double from = stretch->bisector.from, to = stretch->to;
	const double *c = f->c;
	if (c[0] + from * (c[1] + from * c[2]) <= least || c[0] + to * (c[1] + to * c[2]) <= least)
		return false;
	return c[2] <= 0 || c[1] + 2 * from * c[2] >= 0 || c[1] + 2 * to * c[2] <= 0;
}

static void offer_corner(const struct neck_scene *scene, const struct neck_pose *pose,
			 struct neck_stretch *stretch, uint32_t half, struct geo_vector at)
{
	if (!neck_scene_holds(scene, at))
		return;
	struct neck_polynomial f = neck_bisector_to_point(&stretch->bisector, at);
	double slack = 2 * TOUCH * neck_bisector_radius(&stretch->bisector, stretch->bisector.from);
	if (stays_above(&f, stretch, slack))
		return;
	double t = neck_turns_negative(&f, stretch->bisector.from, slack);
	if (t > stretch->to || adjoins_either(scene, pose, neck_corner(half)))
		return;
	struct geo_vector x = neck_minus(neck_bisector_at(&stretch->bisector, t), at);
	if (neck_faces(scene->walls, half, x))
		offer(pose, stretch, neck_corner(half), t);
}

/* Of an edge, the half-edge that has the walk on its left. */
static void offer_edge(const struct neck_scene *scene, const struct neck_pose *pose,
		       struct neck_stretch *stretch, uint32_t half, const struct neck_shape *edge)
{
	const struct neck_bisector *bisector = &stretch->bisector;
	struct neck_polynomial f = neck_bisector_to_edge(bisector, edge);
	double slack = TOUCH;
	if (bisector->kind == NECK_POINTS)
		slack *= 2 * neck_bisector_radius(bisector, bisector->from);
	if (stays_above(&f, stretch, slack))
		return;
	double t = neck_turns_negative(&f, bisector->from, slack);
	if (t > stretch->to || adjoins_either(scene, pose, neck_edge(half)))
		return;
	for (int again = 0; again < 2 && t <= stretch->to; again++) {
		struct geo_vector x = neck_minus(neck_bisector_at(bisector, t), edge->at);
		double foot = neck_dot(x, edge->along);
		if (foot >= -TOUCH && foot <= edge->length + TOUCH &&
		    neck_dot(x, edge->normal) > 0) {
			offer(pose, stretch, neck_edge(half), t);
			return;
		}
		/* Its line touched at once, but beside the edge: the edge itself may come later. */
		t = neck_turns_negative(&f, nextafter(t + NECK_CLOSE, INFINITY), -INFINITY);
	}
}

/* Of the edge, the side on which the walk is. */
static void offer_sides(const struct neck_scene *scene, const struct neck_pose *pose,
			struct neck_stretch *stretch, const struct neck_near *near)
{
	struct geo_vector run = neck_minus(near->to, near->from);
	bool right = neck_cross(run, neck_minus(pose->x, near->from)) < 0;
	if (near->looks[right]) {
		struct neck_shape edge = right ? neck_edge_shape(near->to, near->from)
					       : neck_edge_shape(near->from, near->to);
		offer_edge(scene, pose, stretch, near->half + right, &edge);
	}
	if (near->looks[0])
		offer_corner(scene, pose, stretch, near->half, near->from);
	if (near->looks[1])
		offer_corner(scene, pose, stretch, near->half + 1, near->to);
}

static void offer_near(const struct neck_scene *scene, const struct neck_pose *pose,
		       struct neck_stretch *stretch, const struct neck_near_list *list)
{
	for (uint32_t i = 0; i < list->count; i++) {
		const struct neck_near *near = &list->items[i];
		if (neck_scene_meets(scene, near))
			offer_sides(scene, pose, stretch, near);
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
	const neck_feature walls[2] = {pose->left, pose->right};
	neck_scene_look(scene, walls, &stretch->bisector, stretch->to);
	for (int i = 0; i < 3; i++)
		if (scene->near[i])
			offer_near(scene, pose, stretch, scene->near[i]);
	bound(stretch, NECK_STOPPED,
	      walked_at(&stretch->bisector, stretch->to, scene->stop - pose->walked));
	return !scene->failed;
}
