/* index-slice.h - searches of turned grids by a convex area; for the index's own files only. */
#ifndef GEOMETRY_INDEX_SLICE_H
#define GEOMETRY_INDEX_SLICE_H

#include "geometry/index-grid.h"

/* A convex area by its corners, at most four, in order. */
struct index_area {
	struct geo_vector corners[4];
	int count;
};

/* The corners in a grid's frame. */
struct index_area index_area_turn(struct index_area area, const struct index_grid *grid);

/* The rows, or columns, that an area in a grid's frame passes; false where it misses all. */
bool index_area_slices(const struct index_area *area, const struct index_grid *grid, bool rows,
		       uint32_t *first, uint32_t *last);

/* The cells `first` to `last` of one row, or column, that an area passes there. */
bool index_area_cells(const struct index_area *area, const struct index_grid *grid, bool rows,
		      uint32_t at, uint32_t *first, uint32_t *last);

#endif
