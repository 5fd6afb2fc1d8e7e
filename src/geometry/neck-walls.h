/*
 * neck-walls.h - the walls of kept faces, as points, edges and the cones in which they are nearest.
 *
 * A wall feature is a half-edge with its face on the left, or the corner at its start. The normal
 * cone of a corner holds the directions in which the corner is nearer than both edges that meet in
 * it; convex corners have none.
 */
#ifndef GEOMETRY_NECK_WALLS_H
#define GEOMETRY_NECK_WALLS_H

#include "geometry/index.h"
#include "geometry/neck.h"

struct neck_walls {
	const struct geo_arrangement *arrangement;
	const bool *kept;
	struct geo_segment *segments; /* edges with a kept side; their numbers below */
	uint32_t *edges;
	uint32_t count;
	uint32_t *previous; /* of each half-edge: the one whose next it is */
	struct geo_index *index;
	bool borrowed;              /* segments and index are the arrangement's */
	struct geo_segment *places; /* of all nodes; this and the two below are made when needed */
	uint32_t *starts;           /* a half-edge that starts at each node */
	struct geo_index *ends;     /* of places */
};

/* Twice the half-edge, plus 1 for the corner at its start. */
typedef uint32_t neck_feature;

static inline neck_feature neck_edge(uint32_t half)
{
	return half << 1;
}

static inline neck_feature neck_corner(uint32_t half)
{
	return half << 1 | 1;
}

static inline bool neck_is_corner(neck_feature feature)
{
	return feature & 1;
}

static inline uint32_t neck_half(neck_feature feature)
{
	return feature >> 1;
}

/* 0, or -1 where memory ran out. Finish in either case. */
int neck_walls_init(struct neck_walls *walls, const struct geo_arrangement *arrangement,
		    const bool *kept);
/* Makes the index of nodes. 0, or -1 where memory ran out. */
int neck_walls_index_ends(struct neck_walls *walls);

void neck_walls_finish(struct neck_walls *walls);

/* A place as seen from an origin: exact. */
static inline struct geo_vector neck_from(struct cutlint_point at, struct cutlint_point origin)
{
	return (struct geo_vector){(double)at.x - origin.x, (double)at.y - origin.y};
}

/* A node's place as seen from an origin: exact. */
static inline struct geo_vector neck_place(const struct neck_walls *walls, uint32_t node,
					   struct cutlint_point origin)
{
	return neck_from(walls->arrangement->nodes[node], origin);
}

/* The ways along the edges that meet in the corner at the start of a half-edge, back and on. */
void neck_ways(const struct neck_walls *walls, uint32_t half, struct geo_vector *back,
	       struct geo_vector *on);

/* Whether the corner at the start of a half-edge is convex: less than half a turn of material. */
bool neck_convex(const struct neck_walls *walls, uint32_t half);

/* Whether a corner that is not convex has its material in a direction: of the corners in one node,
 * as on both sides of a slit, the one that a wall there can be near to. */
bool neck_faces(const struct neck_walls *walls, uint32_t half, struct geo_vector direction);

/* Whether a direction lies in the normal cone of the corner at the start of a half-edge. */
bool neck_in_cone(const struct neck_walls *walls, uint32_t half, struct geo_vector direction);

static inline double neck_dot(struct geo_vector a, struct geo_vector b)
{
	return a.x * b.x + a.y * b.y;
}

static inline double neck_cross(struct geo_vector a, struct geo_vector b)
{
	return a.x * b.y - a.y * b.x;
}

static inline struct geo_vector neck_minus(struct geo_vector a, struct geo_vector b)
{
	return (struct geo_vector){a.x - b.x, a.y - b.y};
}

/* a + t × b. */
static inline struct geo_vector neck_along(struct geo_vector a, double t, struct geo_vector b)
{
	return (struct geo_vector){a.x + t * b.x, a.y + t * b.y};
}

/* Rounding of an angle, in radians. */
#define NECK_ANGLE 1e-12

/* Whether two directions are less than a quarter of a turn apart, by more than rounding. */
static inline bool neck_leans(struct geo_vector direction, struct geo_vector way)
{
	double dot = neck_dot(direction, way);
	return dot > 0 && dot * dot > NECK_ANGLE * NECK_ANGLE * neck_dot(direction, direction) *
					      neck_dot(way, way);
}

/* Whether the line from a to b comes nearer to p than a radius, which is not negative. */
static inline bool neck_comes_within(struct geo_vector a, struct geo_vector b, struct geo_vector p,
				     double radius)
{
	struct geo_vector ab = neck_minus(b, a), ap = neck_minus(p, a);
	double t = neck_dot(ap, ab), length2 = neck_dot(ab, ab), cross = neck_cross(ab, ap);
	if (t <= 0)
		return neck_dot(ap, ap) < radius * radius;
	if (t < length2)
		return cross * cross < radius * radius * length2;
	struct geo_vector bp = neck_minus(p, b);
	return neck_dot(bp, bp) < radius * radius;
}

#endif
