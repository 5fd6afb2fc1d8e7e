#include "geometry/inscribed-bound.h"

#include <math.h>

/* The mean of the distances to two walls at the corner where it is largest. */
static double mean_bound(const struct inscribed_cell *cell, const struct geo_wall *a,
			 const struct geo_wall *b)
{
	double most = 0;
	for (int corner = 0; corner < 4; corner++) {
		double x = cell->x + (corner & 1 ? cell->half : -cell->half);
		double y = cell->y + (corner & 2 ? cell->half : -cell->half);
		double sum = sqrt(geo_wall_square(a, x, y)) + sqrt(geo_wall_square(b, x, y));
		most = fmax(most, sum / 2);
	}
	return most;
}

static struct geo_sight nearest_of(const struct geo_walls *walls, struct geo_vector at)
{
	const struct geo_wall *nearest = geo_walls_at(walls, 0);
	double least = INFINITY;
	for (size_t i = 0; i < walls->count; i++) {
		double square = geo_wall_square(geo_walls_at(walls, i), at.x, at.y);
		if (square < least) {
			least = square;
			nearest = geo_walls_at(walls, i);
		}
	}
	return geo_wall_see(nearest, at);
}

double inscribed_facing_bound(const struct geo_walls *walls, const struct inscribed_cell *cell)
{
	struct geo_vector middle = {cell->x, cell->y};
	struct geo_sight first = nearest_of(walls, middle);
	double least = INFINITY;
	const struct geo_wall *facing = NULL;
	for (size_t i = 0; i < walls->count; i++) {
		const struct geo_wall *wall = geo_walls_at(walls, i);
		double left = least - first.distance;
		if (left <= 0 || geo_wall_square(wall, middle.x, middle.y) >= left * left)
			continue;
		struct geo_sight other = geo_wall_see(wall, middle);
		double tx = first.away.x + other.away.x, ty = first.away.y + other.away.y;
		double turn = sqrt(tx * tx + ty * ty);
		double guess = first.distance + other.distance + sqrt(2) * cell->half * turn;
		if (guess < least) {
			least = guess;
			facing = other.wall;
		}
	}
	return facing ? mean_bound(cell, first.wall, facing) : INFINITY;
}

/* The distance from a wall's line, positive on its left. */
static double side_distance(const struct geo_wall *wall, double x, double y)
{
	return (wall->dx * (y - wall->y) - wall->dy * (x - wall->x)) * sqrt(wall->inverse);
}

/* Whether all that lies within `reach` of a point has its nearest point inside the wall. */
static bool runs_through(const struct geo_wall *wall, double x, double y, double reach)
{
	double length = wall->dx * wall->dx + wall->dy * wall->dy;
	double along = (x - wall->x) * wall->dx + (y - wall->y) * wall->dy;
	double margin = reach * sqrt(length);
	return along >= margin && length - along >= margin;
}

double inscribed_strip_bound(const struct geo_walls *walls, const struct inscribed_cell *cell)
{
	double reach = sqrt(2) * cell->half, most = 0;
	const struct geo_wall *hit[2];
	int hits = 0;
	for (size_t i = 0; i < walls->count; i++) {
		const struct geo_wall *wall = geo_walls_at(walls, i);
		if (geo_wall_square(wall, cell->x, cell->y) > reach * reach)
			continue;
		if (hits == 2 || !runs_through(wall, cell->x, cell->y, reach))
			return INFINITY;
		hit[hits++] = wall;
	}
	if (hits < 2)
		return INFINITY;
	bool same = (side_distance(hit[0], cell->x, cell->y) > 0) ==
		    (side_distance(hit[1], cell->x, cell->y) > 0);
	double sign = same == cell->inside ? 1 : -1;
	for (int corner = 0; corner < 4; corner++) {
		double x = cell->x + (corner & 1 ? cell->half : -cell->half);
		double y = cell->y + (corner & 2 ? cell->half : -cell->half);
		double sum = side_distance(hit[0], x, y) + sign * side_distance(hit[1], x, y);
		most = fmax(most, fabs(sum) / 2);
	}
	return most;
}
