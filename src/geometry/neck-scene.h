/* neck-scene.h - where a walk goes along the medial axis, and the edges around it. */
#ifndef GEOMETRY_NECK_SCENE_H
#define GEOMETRY_NECK_SCENE_H

#include "geometry/neck-bisector.h"
#include "geometry/neck-walls.h"

/* Rounding of places on the axis, in nm. */
#define NECK_CLOSE 1e-3

/* So many edges of an arc on either side of where it is begun. */
#define NECK_ARC_MAX 8

/* An edge near a walk: its even half-edge. */
struct neck_near {
	uint32_t half;
	bool looks[2]; /* whether the half-edge, and whether its twin, may come nearer */
	struct geo_vector from, to;
};

struct neck_near_list {
	struct neck_near *items;
	uint32_t count, room;
};

/* Of a walk's wall, half-edges in order between reflex corners that turn by less than half a turn:
 * a part of the boundary of a convex set. */
struct neck_arc {
	uint32_t halves[2 * NECK_ARC_MAX + 1];
	uint32_t count;
	uint64_t marks; /* see neck-scene.c */
	bool left;      /* by the walk: it may come back from the other side */
};

/* All places within `reach` of a line; negative: none. */
struct neck_surroundings {
	struct geo_vector from, along; /* along: its direction, of length 1 */
	double length, reach;
};

struct neck_scene {
	struct neck_walls *walls;
	uint32_t face;
	struct cutlint_point origin; /* of the walk's own coordinates */
	double low, high;            /* radii at which a stretch ends: fallen, risen */
	double stop;                 /* where it ends, along the axis; INFINITY for nowhere */

	/* The stretch at hand: an oblong that holds all its disks, and what comes into it. */
	struct geo_vector middle, along;      /* along: its direction, of length 1 */
	double length, width;                 /* half of each */
	const struct neck_near_list *near[3]; /* hold all that may come near; NULL: nothing more */
	struct neck_near_list along_band;

	/* Surroundings of stretches to come, and what comes into them: of the arcs of both walls,
	 * and the rest. While a foot is on an arc, the rest of the arc is farther, and needs no
	 * look.
	 */
	struct neck_surroundings known;
	struct neck_arc arcs[2];
	struct neck_near_list around[3]; /* the rest first */

	bool failed; /* memory ran out */
};

/* Goes elsewhere: to a face, seen from an origin. */
void neck_scene_move(struct neck_scene *scene, uint32_t face, struct cutlint_point origin);
void neck_scene_finish(struct neck_scene *scene);

/* Sets `near` for the stretch of the bisector of two walls from where it is entered to `to`. Sets
 * failed where memory ran out. */
void neck_scene_look(struct neck_scene *scene, const neck_feature walls[2],
		     const struct neck_bisector *bisector, double to);

/* Whether an edge may come into a disk of the stretch at hand. */
static inline bool neck_scene_meets(const struct neck_scene *scene, const struct neck_near *near)
{
	return neck_comes_within(near->from, near->to, scene->middle, scene->length);
}

/* Whether a place may lie in one. */
static inline bool neck_scene_holds(const struct neck_scene *scene, struct geo_vector at)
{
	struct geo_vector off = neck_minus(at, scene->middle);
	double across = neck_cross(off, scene->along);
	return neck_dot(off, off) <= scene->length * scene->length &&
	       across * across <= scene->width * scene->width;
}

#endif
