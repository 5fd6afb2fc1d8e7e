#include "geometry/piece-rings.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/loops.h"

static void count_stretch(void *user, struct geo_vector from, struct geo_vector to)
{
	size_t *count = user;
	(void)from;
	(void)to;
	++*count;
}

/* Ends of cuts lie between the points of the grid. */
static void add_stretch(void *user, struct geo_vector from, struct geo_vector to)
{
	struct cutlint_point **at = user;
	(void)to;
	*(*at)++ = (struct cutlint_point){(int32_t)lround(from.x), (int32_t)lround(from.y)};
}

int geo_rings_trace(const struct geo_loops *loops, struct geo_rings *out)
{
	size_t points = 0;
	*out = (struct geo_rings){.count = loops->loop_count};
	for (uint32_t i = 0; i < loops->loop_count; i++)
		geo_loop_each(loops, i, count_stretch, &points);
	if (points > UINT32_MAX)
		return -1;
	out->points = malloc(points * sizeof(*out->points) + 1);
	out->first = malloc(((size_t)out->count + 1) * sizeof(*out->first));
	out->pieces = malloc(out->count * sizeof(*out->pieces) + 1);
	if (!out->points || !out->first || !out->pieces)
		return -1;
	struct cutlint_point *at = out->points;
	for (uint32_t i = 0; i < loops->loop_count; i++) {
		out->first[i] = (uint32_t)(at - out->points);
		out->pieces[i] = loops->loops[i].piece;
		geo_loop_each(loops, i, add_stretch, &at);
	}
	out->first[out->count] = (uint32_t)(at - out->points);
	return 0;
}

void geo_rings_finish(struct geo_rings *rings)
{
	free(rings->points);
	free(rings->first);
	free(rings->pieces);
	*rings = (struct geo_rings){0};
}
