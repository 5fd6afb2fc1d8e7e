#include "geometry/nodes.h"

#include <stdlib.h>
#include <string.h>

#include "geometry/wide.h"

/* The most points: half of what a power of two of 32 bits can slot. */
#define MOST_POINTS ((uint32_t)1 << 30)

/* The finishing mix of MurmurHash3 (A. Appleby, public domain) over both coordinates. */
static uint32_t hash(struct cutlint_point point)
{
	uint64_t key = (uint64_t)(uint32_t)point.x << 32 | (uint32_t)point.y;
	key ^= key >> 33;
	key *= 0xff51afd7ed558ccdu;
	key ^= key >> 33;
	key *= 0xc4ceb9fe1a85ec53u;
	return (uint32_t)(key >> 32);
}

static int reserve_slots(struct geo_nodes *nodes, uint32_t points)
{
	if (points > MOST_POINTS)
		return -1;
	uint32_t size = 16;
	while (size < 2 * points)
		size *= 2;
	uint32_t *slots = malloc(size * sizeof(*slots));
	if (!slots)
		return -1;
	free(nodes->slots);
	nodes->slots = slots;
	nodes->mask = size - 1;
	memset(slots, 0xff, size * sizeof(*slots));
	return 0;
}

static uint32_t free_slot(const struct geo_nodes *nodes, struct cutlint_point point)
{
	uint32_t slot = hash(point) & nodes->mask;
	while (nodes->slots[slot] != GEO_NONE &&
	       !geo_same(nodes->points[nodes->slots[slot]], point))
		slot = (slot + 1) & nodes->mask;
	return slot;
}

static int grow(struct geo_nodes *nodes)
{
	uint32_t capacity = nodes->capacity + nodes->capacity / 2 + 16;
	struct cutlint_point *points = realloc(nodes->points, capacity * sizeof(*points));
	if (!points)
		return -1;
	nodes->points = points;
	if (reserve_slots(nodes, capacity))
		return -1;
	nodes->capacity = capacity;
	for (uint32_t i = 0; i < nodes->count; i++)
		nodes->slots[free_slot(nodes, points[i])] = i;
	return 0;
}

int geo_nodes_init(struct geo_nodes *nodes, uint32_t expected)
{
	*nodes = (struct geo_nodes){.capacity = expected + 1};
	if (expected >= MOST_POINTS)
		return -1;
	nodes->points = malloc(nodes->capacity * sizeof(*nodes->points));
	if (!nodes->points)
		return -1;
	return reserve_slots(nodes, nodes->capacity);
}

void geo_nodes_finish(struct geo_nodes *nodes)
{
	free(nodes->points);
	free(nodes->slots);
	*nodes = (struct geo_nodes){0};
}

void geo_nodes_expect(const struct geo_nodes *nodes, struct cutlint_point point)
{
	__builtin_prefetch(&nodes->slots[hash(point) & nodes->mask]);
}

uint32_t geo_nodes_add(struct geo_nodes *nodes, struct cutlint_point point)
{
	uint32_t slot = free_slot(nodes, point);
	if (nodes->slots[slot] != GEO_NONE)
		return nodes->slots[slot];
	if (nodes->count == nodes->capacity) {
		if (grow(nodes))
			return GEO_NONE;
		slot = free_slot(nodes, point);
	}
	nodes->points[nodes->count] = point;
	return nodes->slots[slot] = nodes->count++;
}
