#include <stdlib.h>

#include "geometry/faces.h"

static int add(struct geo_cycles *cycles, struct geo_cycle cycle)
{
	if (cycles->count == cycles->capacity) {
		uint32_t capacity = cycles->capacity * 2 + 64;
		struct geo_cycle *items = realloc(cycles->items, capacity * sizeof(*items));
		if (!items)
			return -1;
		cycles->items = items;
		cycles->capacity = capacity;
	}
	cycles->items[cycles->count++] = cycle;
	return 0;
}

/*
 * Walks the cycle once, marking it with its number. The first node in order lies where a half-edge
 * to the left is followed by one to the right. A cross product of differences is below 2^65, so
 * the sum over 2^32 half-edges fits.
 */
static struct geo_cycle walk(const struct geo_arrangement *arrangement, uint32_t start,
			     uint32_t number)
{
	struct geo_cycle cycle = {.half_edge = GEO_NONE, .face = GEO_NONE, .under = GEO_NONE};
	const struct cutlint_point *nodes = arrangement->nodes;
	struct cutlint_point origin = nodes[geo_half_edge_from(arrangement, start)], first = origin;
	uint32_t half = start;
	do {
		uint32_t next = arrangement->next[half];
		struct cutlint_point at = nodes[geo_half_edge_from(arrangement, half)];
		struct cutlint_point to = nodes[geo_half_edge_to(arrangement, half)];
		arrangement->face[half] = number;
		cycle.area2 += geo_cross(origin, at, origin, to);
		if ((half & 1) && !(next & 1) &&
		    (cycle.half_edge == GEO_NONE || geo_order(to, first) < 0)) {
			cycle.half_edge = next;
			first = to;
		}
		half = next;
	} while (half != start);
	return cycle;
}

int geo_cycles_trace(struct geo_cycles *cycles, const struct geo_arrangement *arrangement)
{
	const uint32_t half_count = 2 * arrangement->edge_count;
	for (uint32_t half = 0; half < half_count; half++)
		arrangement->face[half] = GEO_NONE;
	for (uint32_t half = 0; half < half_count; half++)
		if (arrangement->face[half] == GEO_NONE &&
		    add(cycles, walk(arrangement, half, cycles->count)))
			return -1;
	return 0;
}
