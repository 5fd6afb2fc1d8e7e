#include "geometry/neck-facing.h"

#include <math.h>
#include <stdlib.h>

/* More than the rounding of a direction, in quarters of a turn. */
#define ROUNDING 1e-8

#define SECTORS 64

/* Grows with the angle of a direction, from 0 to 4 for a whole turn. */
static double turn_of(struct geo_vector to)
{
	double part = to.y / (fabs(to.x) + fabs(to.y));
	if (to.x < 0)
		return 2 - part;
	return part < 0 ? 4 + part : part;
}

uint64_t neck_facing_between(struct geo_vector from, struct geo_vector to)
{
	int first = (int)((turn_of(from) + 4 - ROUNDING) * (SECTORS / 4));
	int last = (int)((turn_of(to) + 4 + ROUNDING) * (SECTORS / 4));
	int count = (last - first + 2 * SECTORS) % SECTORS + 1;
	int start = first % SECTORS;
	uint64_t run = UINT64_MAX >> (SECTORS - count);
	return start ? run << start | run >> (SECTORS - start) : run;
}

/* The directions in which a half-edge and the corner at its start are faced. */
static uint64_t facing(const struct neck_walls *walls, uint32_t half)
{
	struct geo_vector back, on;
	neck_ways(walls, half, &back, &on);
	struct geo_vector edge = {on.y, -on.x};
	if (neck_cross(on, back) > 0)
		return neck_facing_between(edge, edge);
	return neck_facing_between(edge, (struct geo_vector){-back.y, back.x});
}

int neck_facing_flag(const struct neck_walls *walls)
{
	uint64_t *flags = malloc(((size_t)walls->count + 1) * sizeof *flags);
	if (!flags)
		return -1;
	for (uint32_t i = 0; i < walls->count; i++) {
		flags[i] = 0;
		for (uint32_t half = 2 * walls->edges[i]; half < 2 * walls->edges[i] + 2; half++)
			if (walls->kept[walls->arrangement->face[half]])
				flags[i] |= facing(walls, half);
	}
	int result = geo_index_flag(walls->index, flags);
	free(flags);
	return result;
}
