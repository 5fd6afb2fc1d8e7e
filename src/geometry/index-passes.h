/* index-passes.h - the cells of a grid that segments pass; for the index's own files only. */
#ifndef GEOMETRY_INDEX_PASSES_H
#define GEOMETRY_INDEX_PASSES_H

#include "geometry/index-grid.h"

/* Wider than any rounding of a place along a segment, in nm. */
#define INDEX_SLACK 1e-3

/* Set in the last pass of a segment. */
#define INDEX_LAST 0x80000000U

/* The only pass, but for INDEX_LAST, of a segment that misses the grid. */
#define INDEX_NOWHERE 0x7fffffffU

/* A segment, or what of it lies in the cell that is divided, in a grid's frame. */
struct index_piece {
	struct geo_vector from, to;
};

/*
 * Passes of segments in their order: a cell's place in its grid each. To find the cells of a
 * segment costs more than to keep them, and they are needed twice: to count, then to fill.
 */
struct index_passes {
	uint32_t *items;
	uint32_t count, room;
};

/* Room for `needed` items, by half as many again where it grows. False where memory ran out. */
bool index_grow(void **array, uint32_t *room, uint32_t needed, size_t size);

/* Adds the passes of a piece through a grid of at most INDEX_NOWHERE cells. 0, or -1 where
 * memory ran out. */
int index_pass(struct index_passes *passes, const struct index_grid *grid,
	       const struct index_piece *piece);

#endif
