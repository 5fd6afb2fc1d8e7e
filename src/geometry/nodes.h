/* nodes.h - a set of integer points, numbered in the order in which they were added. */
#ifndef GEOMETRY_NODES_H
#define GEOMETRY_NODES_H

#include <stdint.h>

#include "geometry/lines.h"

struct geo_nodes {
	struct cutlint_point *points;
	uint32_t count, capacity;
	uint32_t *slots; /* open addressing; GEO_NONE where free */
	uint32_t mask;   /* slots less one, a power of two less one */
};

/* Room for `expected` points; it grows. 0, or -1 where memory ran out. Finish it in either case. */
int geo_nodes_init(struct geo_nodes *nodes, uint32_t expected);
void geo_nodes_finish(struct geo_nodes *nodes);

/* The number of a point, which is added if it is new. GEO_NONE where memory ran out. */
uint32_t geo_nodes_add(struct geo_nodes *nodes, struct cutlint_point point);

/*
 * Says that a point will be added soon, so that its slot is fetched from memory meanwhile: slots of
 * points that follow on each other lie anywhere, and to wait for each was half the cost of adding.
 */
void geo_nodes_expect(const struct geo_nodes *nodes, struct cutlint_point point);

#endif
