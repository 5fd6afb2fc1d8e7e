#include "geometry/index-passes.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/least.h"

bool index_grow(void **array, uint32_t *room, uint32_t needed, size_t size)
{
	if (needed <= *room)
		return true;
	uint64_t wanted = (uint64_t)needed + needed / 2;
	if (wanted > UINT32_MAX - 1)
		return false;
	void *grown = realloc(*array, (size_t)wanted * size);
	if (!grown)
		return false;
	*array = grown;
	*room = (uint32_t)wanted;
	return true;
}

/* So many cells from one on, each `step` further. */
static int add(struct index_passes *passes, uint32_t first, uint32_t count, uint32_t step)
{
	if (passes->room - passes->count < count &&
	    !index_grow((void **)&passes->items, &passes->room, passes->count + count,
			sizeof *passes->items))
		return -1;
	for (uint32_t i = 0; i < count; i++)
		passes->items[passes->count++] = first + i * step;
	return 0;
}

/* Row by row, for a segment that is steep: the columns that it passes within each row. */
static int pass_steep(struct index_passes *passes, const struct index_grid *grid,
		      struct geo_vector a, struct geo_vector b)
{
	uint32_t first, last, from, to;
	if (a.y > b.y) {
		struct geo_vector swap = a;
		a = b;
		b = swap;
	}
	if (!index_rows(grid, a.y - INDEX_SLACK, b.y + INDEX_SLACK, &first, &last))
		return 0;
	double slope = (b.x - a.x) / (b.y - a.y);
	for (uint32_t row = first; row <= last; row++) {
		double top = geo_greater(a.y, grid->top + row * grid->height - INDEX_SLACK);
		double bottom = geo_lesser(b.y, grid->top + (row + 1) * grid->height + INDEX_SLACK);
		double x = a.x + slope * (top - a.y), y = a.x + slope * (bottom - a.y);
		if (index_columns(grid, geo_lesser(x, y) - INDEX_SLACK,
				  geo_greater(x, y) + INDEX_SLACK, &from, &to) &&
		    add(passes, row * grid->columns + from, to - from + 1, 1))
			return -1;
	}
	return 0;
}

static int pass_flat(struct index_passes *passes, const struct index_grid *grid,
		     struct geo_vector a, struct geo_vector b)
{
	uint32_t first, last, from, to;
	if (a.x > b.x) {
		struct geo_vector swap = a;
		a = b;
		b = swap;
	}
	if (!index_columns(grid, a.x - INDEX_SLACK, b.x + INDEX_SLACK, &first, &last))
		return 0;
	double slope = a.x == b.x ? 0 : (b.y - a.y) / (b.x - a.x);
	for (uint32_t column = first; column <= last; column++) {
		double left = geo_greater(a.x, grid->left + column * grid->width - INDEX_SLACK);
		double right =
			geo_lesser(b.x, grid->left + (column + 1) * grid->width + INDEX_SLACK);
		double x = a.y + slope * (left - a.x), y = a.y + slope * (right - a.x);
		if (index_rows(grid, geo_lesser(x, y) - INDEX_SLACK,
			       geo_greater(x, y) + INDEX_SLACK, &from, &to) &&
		    add(passes, from * grid->columns + column, to - from + 1, grid->columns))
			return -1;
	}
	return 0;
}

/* Columns or rows that a segment's box comes near to, and whether it goes beyond those there are.
 */
struct reach {
	uint32_t first, last;
	bool misses, beyond;
};

/* From both coordinates of the segment on that axis. */
static inline struct reach reach_of(double a, double b, double least, double a_nm, uint32_t count)
{
	double from = (a - least) * a_nm, to = (b - least) * a_nm, slack = INDEX_SLACK * a_nm;
	double low = geo_lesser(from, to) - slack, high = geo_greater(from, to) + slack;
	if (low >= 0 && high < count)
		return (struct reach){(uint32_t)low, (uint32_t)high, false, false};
	return (struct reach){low > 0 ? (uint32_t)geo_lesser(low, count - 1.0) : 0,
			      high < count ? (uint32_t)geo_greater(high, 0) : count - 1,
			      low > count || high < 0, true};
}

static int pass(struct index_passes *passes, const struct index_grid *grid,
		const struct index_piece *piece)
{
	struct geo_vector a = piece->from, b = piece->to;
	struct reach x = reach_of(a.x, b.x, grid->left, grid->columns_a_nm, grid->columns);
	struct reach y = reach_of(a.y, b.y, grid->top, grid->rows_a_nm, grid->rows);
	if (x.misses || y.misses)
		return 0;
	uint32_t columns = x.last - x.first + 1, rows = y.last - y.first + 1;
	bool beyond = x.beyond || y.beyond;
	if (rows == 1 && (columns == 1 || !beyond))
		return add(passes, y.first * grid->columns + x.first, columns, 1);
	if (columns == 1 && !beyond)
		return add(passes, y.first * grid->columns + x.first, rows, grid->columns);
	return fabs(b.y - a.y) > fabs(b.x - a.x) ? pass_steep(passes, grid, a, b)
						 : pass_flat(passes, grid, a, b);
}

int index_pass(struct index_passes *passes, const struct index_grid *grid,
	       const struct index_piece *piece)
{
	uint32_t before = passes->count;
	if (pass(passes, grid, piece) ||
	    (passes->count == before && add(passes, INDEX_NOWHERE, 1, 1)))
		return -1;
	passes->items[passes->count - 1] |= INDEX_LAST;
	return 0;
}
