/* strands.h - stretches of segments between two nodes, and the edges that they make up together. */
#ifndef GEOMETRY_STRANDS_H
#define GEOMETRY_STRANDS_H

#include "geometry/arrangement.h"

/* A stretch of a segment; `from` < `to` in the order of x, then y. */
struct geo_strand {
	uint32_t from, to, segment;
};

/* Start from {0}. */
struct geo_strands {
	struct geo_strand *items;
	uint32_t count, capacity;
};

/* Adds the stretch between two nodes, either way round. 0, or -1 where memory ran out. */
int geo_strands_add(struct geo_strands *strands, const struct cutlint_point *nodes, uint32_t from,
		    uint32_t to, uint32_t segment);
int geo_strands_reserve(struct geo_strands *strands, uint32_t capacity);
void geo_strands_finish(struct geo_strands *strands);

/*
 * Replaces the arrangement's edges and covers by those that the strands make up, in the order of
 * the node that they start from. 0, or -1 where memory ran out. Finishes the strands.
 */
int geo_strands_merge(struct geo_strands *strands, struct geo_arrangement *arrangement);

#endif
