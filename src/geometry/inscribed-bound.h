/*
 * inscribed-bound.h - how large a circle with its centre in a square cell can be at most.
 *
 * The distance to a wall is convex, so that the mean of two distances is largest at a corner of the
 * cell. That makes a corridor between parallel walls as cheap as a single best place.
 */
#ifndef GEOMETRY_INSCRIBED_BOUND_H
#define GEOMETRY_INSCRIBED_BOUND_H

#include <math.h>

#include "geometry/inscribed-walls.h"

struct inscribed_cell {
	double x, y, half;   /* middle, half a side */
	size_t first, count; /* its walls, in the search's list */
	double distance;     /* from the middle to the nearest wall */
	bool inside;
};

/* The distance falls at most as fast as one walks. */
static inline double inscribed_plain_bound(const struct inscribed_cell *cell)
{
	return sqrt(2) * cell->half + (cell->inside ? cell->distance : -cell->distance);
}

/* By the nearest of the cell's walls and the one that faces it best. */
double inscribed_facing_bound(const struct geo_walls *walls, const struct inscribed_cell *cell);

/*
 * Where a cell is crossed by two of its walls from side to side, as in a sliver: what is inside has
 * one combination of sides, where the sum of both distances is a linear function. Else INFINITY.
 */
double inscribed_strip_bound(const struct geo_walls *walls, const struct inscribed_cell *cell);

#endif
