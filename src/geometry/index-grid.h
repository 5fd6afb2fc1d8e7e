/* index-grid.h - how the index is laid out in memory; for its own files only. */
#ifndef GEOMETRY_INDEX_GRID_H
#define GEOMETRY_INDEX_GRID_H

#include "geometry/index.h"

/* The deepest that grids nest; each level divides what lies in one cell of the level above. */
#define INDEX_DEPTH 9

#define INDEX_DIVIDED UINT32_MAX

/* A run of refs; or, where count is INDEX_DIVIDED, the grid `first` that divides it further. */
struct index_cell {
	uint32_t first, count;
};

/* The direction of a grid's rows where its cells lie straight on the sheet. */
#define INDEX_STRAIGHT ((struct geo_vector){1, 0})

/*
 * Cells may be oblong: their sides follow the directions in which the segments run. A cell that is
 * crowded with long segments side by side is divided by a grid that lies turned along them: each
 * segment passes few cells of it, and each cell holds few segments. (In a straight grid it takes as
 * many cells to tell two of them apart as the gap between them goes into their length.) All places
 * in a grid are in its own frame, whose x runs along its rows.
 */
struct index_grid {
	struct geo_vector along; /* its rows' direction on the sheet, of length 1 */
	double left, top, right, bottom;
	double width, height; /* of a cell */
	double columns_a_nm, rows_a_nm;
	uint32_t columns, rows;
	uint32_t first_cell; /* row by row from here */
	uint32_t depth;
};

struct geo_index {
	const struct geo_segment *segments;
	struct index_grid *grids; /* the first covers all */
	struct index_cell *cells;
	uint32_t *refs;
	uint64_t *flags; /* of each cell, of all segments in it; NULL before geo_index_flag */
	uint32_t grid_count, cell_count, ref_count;
};

/* A place in the frame of one direction, as seen in the frame of another one. */
static inline struct geo_vector index_turn(struct geo_vector at, struct geo_vector from,
					   struct geo_vector to)
{
	double cosine = from.x * to.x + from.y * to.y, sine = from.x * to.y - from.y * to.x;
	return (struct geo_vector){at.x * cosine + at.y * sine, at.y * cosine - at.x * sine};
}

static inline bool index_is_turned(const struct index_grid *grid)
{
	return grid->along.y != 0;
}

/* The columns or rows `first` to `last` of a range; false where it misses the grid. */
static inline bool index_span(double from, double to, double least, double most, double a_nm,
			      uint32_t count, uint32_t *first, uint32_t *last)
{
	if (to < least || from > most)
		return false;
	double a = from > least ? (from - least) * a_nm : 0;
	double b = to < most ? (to - least) * a_nm : (double)count;
	*first = a < (double)count ? (uint32_t)a : count - 1;
	*last = b < (double)count ? (uint32_t)b : count - 1;
	return true;
}

static inline bool index_columns(const struct index_grid *grid, double from, double to,
				 uint32_t *first, uint32_t *last)
{
	return index_span(from, to, grid->left, grid->right, grid->columns_a_nm, grid->columns,
			  first, last);
}

static inline bool index_rows(const struct index_grid *grid, double from, double to,
			      uint32_t *first, uint32_t *last)
{
	return index_span(from, to, grid->top, grid->bottom, grid->rows_a_nm, grid->rows, first,
			  last);
}

#endif
