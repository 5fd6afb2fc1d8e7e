/* inscribed-walls.h - the walls of a region, as seen from points inside it. */
#ifndef GEOMETRY_INSCRIBED_WALLS_H
#define GEOMETRY_INSCRIBED_WALLS_H

#include "geometry/lines.h"

struct geo_wall {
	double x, y, dx, dy; /* nm, from a corner of the region's box */
	double inverse;      /* 1 / length² */
	uint32_t segment;
};

/* Some of the walls: those that `list` names, all where it is NULL. */
struct geo_walls {
	const struct geo_wall *all;
	const uint32_t *list;
	size_t count;
};

/* A wall as seen from a point. */
struct geo_sight {
	const struct geo_wall *wall;
	double distance;
	struct geo_vector foot, away; /* nearest point; unit vector from it to the point */
};

static inline const struct geo_wall *geo_walls_at(const struct geo_walls *walls, size_t i)
{
	return &walls->all[walls->list ? walls->list[i] : i];
}

static inline struct geo_vector geo_wall_foot(const struct geo_wall *wall, double x, double y)
{
	double t = ((x - wall->x) * wall->dx + (y - wall->y) * wall->dy) * wall->inverse;
	t = t < 0 ? 0 : t > 1 ? 1 : t;
	return (struct geo_vector){wall->x + t * wall->dx, wall->y + t * wall->dy};
}

/* The square of the distance from a point to a wall. */
static inline double geo_wall_square(const struct geo_wall *wall, double x, double y)
{
	struct geo_vector foot = geo_wall_foot(wall, x, y);
	return (foot.x - x) * (foot.x - x) + (foot.y - y) * (foot.y - y);
}

struct geo_sight geo_wall_see(const struct geo_wall *wall, struct geo_vector at);

/*
 * Whether a wall lies between p and q. Each end of the wall, and p and q, take one side of a line
 * by the same sum wherever they are asked, so that a path through a vertex counts once.
 */
bool geo_wall_between(const struct geo_wall *wall, struct geo_vector p, struct geo_vector q);

/* The distance to the nearest wall. */
double geo_walls_least(const struct geo_walls *walls, struct geo_vector at);

/* The up to three nearest walls, nearest first; of those that share a foot only one. Returns how
 * many. */
int geo_walls_nearest(const struct geo_walls *walls, struct geo_vector at, struct geo_sight out[3]);

/*
 * One step uphill from a point inside: away from the nearest wall, between two equally near ones,
 * or to where a third one is as near. It crosses no wall, since the least distance only grows on
 * the way. False, and no step, where none is left or it would leave the square of `half` round
 * `middle`.
 */
bool geo_walls_climb(const struct geo_walls *walls, struct geo_vector middle, double half,
		     struct geo_vector *at);

#endif
