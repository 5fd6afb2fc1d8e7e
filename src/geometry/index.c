#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "geometry/index-grid.h"
#include "geometry/least.h"

/* A cell with more entries than this is divided where that pays. Measured: 8 to 16 are alike. */
#define CAPACITY 12

/* A grid may hold each of its segments this often on average. */
#define COPIES 8.0

/* A cell is at most this many times as long as wide: in longer ones a search sees too much. */
#define OBLONG 16.0

/* No side of a cell is shorter, in nm. */
#define LEAST 2.0

/* Wider than any rounding of a place along a segment, in nm. */
#define SLACK 1e-3

/* The entries of a cell that is to be divided, as a run of refs. */
struct run {
	uint32_t first, count;
	double left, top, right, bottom;
};

/* What the segments of a run have in common. */
struct extent {
	double left, top, right, bottom; /* of what lies within the run's box */
	double run_x, run_y;             /* sums of |dx| and |dy| within it */
	uint32_t ends;                   /* ends that lie within it */
};

/* Called with each cell that a segment passes. */
enum entering { COUNT, FILL };

static bool grow(void **array, uint32_t *room, uint32_t needed, size_t size)
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

static void put(struct geo_index *index, uint32_t cell, uint32_t segment, enum entering how)
{
	struct index_cell *entry = &index->cells[cell];
	if (how == FILL)
		index->refs[entry->first + entry->count] = segment;
	entry->count++;
}

/* Row by row, for a segment that is steep: the columns that it passes within each row. */
static void enter_steep(struct geo_index *index, const struct index_grid *grid, uint32_t segment,
			enum entering how)
{
	struct cutlint_point a = index->segments[segment].from, b = index->segments[segment].to;
	if (a.y > b.y) {
		struct cutlint_point swap = a;
		a = b;
		b = swap;
	}
	uint32_t first, last, from, to;
	if (!index_rows(grid, a.y, b.y, &first, &last))
		return;
	double slope = ((double)b.x - a.x) / ((double)b.y - a.y);
	for (uint32_t row = first; row <= last; row++) {
		double top = geo_greater(a.y, grid->top + row * grid->height - SLACK);
		double bottom = geo_lesser(b.y, grid->top + (row + 1) * grid->height + SLACK);
		double x = a.x + slope * (top - a.y), y = a.x + slope * (bottom - a.y);
		if (!index_columns(grid, geo_lesser(x, y) - SLACK, geo_greater(x, y) + SLACK, &from,
				   &to))
			continue;
		for (uint32_t column = from; column <= to; column++)
			put(index, grid->first_cell + row * grid->columns + column, segment, how);
	}
}

static void enter_flat(struct geo_index *index, const struct index_grid *grid, uint32_t segment,
		       enum entering how)
{
	struct cutlint_point a = index->segments[segment].from, b = index->segments[segment].to;
	if (a.x > b.x) {
		struct cutlint_point swap = a;
		a = b;
		b = swap;
	}
	uint32_t first, last, from, to;
	if (!index_columns(grid, a.x, b.x, &first, &last))
		return;
	double slope = a.x == b.x ? 0 : ((double)b.y - a.y) / ((double)b.x - a.x);
	for (uint32_t column = first; column <= last; column++) {
		double left = geo_greater(a.x, grid->left + column * grid->width - SLACK);
		double right = geo_lesser(b.x, grid->left + (column + 1) * grid->width + SLACK);
		double x = a.y + slope * (left - a.x), y = a.y + slope * (right - a.x);
		if (!index_rows(grid, geo_lesser(x, y) - SLACK, geo_greater(x, y) + SLACK, &from,
				&to))
			continue;
		for (uint32_t row = from; row <= to; row++)
			put(index, grid->first_cell + row * grid->columns + column, segment, how);
	}
}

static void enter(struct geo_index *index, const struct index_grid *grid, uint32_t segment,
		  enum entering how)
{
	const struct geo_segment *s = &index->segments[segment];
	uint32_t left, right, top, bottom;
	bool inside = index_columns(grid, s->from.x < s->to.x ? s->from.x : s->to.x,
				    s->from.x < s->to.x ? s->to.x : s->from.x, &left, &right) &&
		      index_rows(grid, s->from.y < s->to.y ? s->from.y : s->to.y,
				 s->from.y < s->to.y ? s->to.y : s->from.y, &top, &bottom);
	if (!inside)
		return;
	if (left == right && top == bottom)
		put(index, grid->first_cell + top * grid->columns + left, segment, how);
	else if (llabs((long long)s->to.y - s->from.y) > llabs((long long)s->to.x - s->from.x))
		enter_steep(index, grid, segment, how);
	else
		enter_flat(index, grid, segment, how);
}

/* Narrows the parameters t[0] to t[1] of a segment to those between two parallel lines. */
static bool clip(double from, double run, double least, double most, double t[2])
{
	if (run == 0)
		return from >= least && from <= most;
	double a = (least - from) / run, b = (most - from) / run;
	t[0] = geo_greater(t[0], geo_lesser(a, b));
	t[1] = geo_lesser(t[1], geo_greater(a, b));
	return t[0] <= t[1];
}

static void extend(struct extent *extent, const struct run *run, const struct geo_segment *s)
{
	double x = s->from.x, y = s->from.y, dx = s->to.x - x, dy = s->to.y - y, t[2] = {0, 1};
	if (!clip(x, dx, run->left - SLACK, run->right + SLACK, t) ||
	    !clip(y, dy, run->top - SLACK, run->bottom + SLACK, t))
		return;
	double x0 = x + t[0] * dx, x1 = x + t[1] * dx, y0 = y + t[0] * dy, y1 = y + t[1] * dy;
	extent->left = geo_lesser(extent->left, geo_lesser(x0, x1));
	extent->right = geo_greater(extent->right, geo_greater(x0, x1));
	extent->top = geo_lesser(extent->top, geo_lesser(y0, y1));
	extent->bottom = geo_greater(extent->bottom, geo_greater(y0, y1));
	extent->run_x += fabs(x1 - x0);
	extent->run_y += fabs(y1 - y0);
	extent->ends += (t[0] <= 0 ? 1U : 0U) + (t[1] >= 1 ? 1U : 0U);
}

static struct extent measure(const struct geo_index *index, const struct run *run)
{
	struct extent extent = {INFINITY, INFINITY, -INFINITY, -INFINITY, 0, 0, 0};
	for (uint32_t i = 0; i < run->count; i++)
		extend(&extent, run, &index->segments[index->refs[run->first + i]]);
	/* Rounding must not leave the least bit of a segment outside. */
	extent.left = geo_greater(extent.left - 1, run->left - 1);
	extent.right = geo_lesser(extent.right + 1, run->right + 1);
	extent.top = geo_greater(extent.top - 1, run->top - 1);
	extent.bottom = geo_lesser(extent.bottom + 1, run->bottom + 1);
	return extent;
}

/*
 * A grid of about half as many cells as segments, of the shape that enters the fewest copies: with
 * cells of sides w and h there are Σ|dx|/w + Σ|dy|/h, which for a given wh is least at
 * w/h = Σ|dx|/Σ|dy|.
 */
static struct index_grid shape(const struct extent *extent, uint32_t count)
{
	struct index_grid grid = {
		extent->left, extent->top, extent->right, extent->bottom, 0, 0, 0, 0, 1, 1, 0, 0};
	double w = extent->right - extent->left, h = extent->bottom - extent->top;
	double run_x = extent->run_x + w * 1e-3, run_y = extent->run_y + h * 1e-3;
	double area = w * h * 2 / count;
	double copies = 2 * sqrt(extent->run_x * extent->run_y / area);
	if (copies > COPIES * count)
		area *= (copies / (COPIES * count)) * (copies / (COPIES * count));
	double ratio = geo_lesser(geo_greater(run_x / run_y, 1 / OBLONG), OBLONG);
	double width = geo_lesser(sqrt(area * ratio), w), height = geo_lesser(area / width, h);
	width = geo_lesser(geo_greater(area / height, LEAST), w);
	height = geo_greater(height, LEAST);
	double columns = geo_lesser(ceil(w / width), count),
	       rows = geo_lesser(ceil(h / height), count);
	grid.columns = (uint32_t)geo_greater(columns, 1);
	grid.rows = (uint32_t)geo_greater(rows, 1);
	grid.width = w / grid.columns;
	grid.height = h / grid.rows;
	grid.columns_a_nm = grid.columns / w;
	grid.rows_a_nm = grid.rows / h;
	return grid;
}

/*
 * Whether a grid would save more than it costs: searches start at ends of segments, and all pairs
 * in a cell are looked at.
 */
static bool pays(const struct index_grid *grid, const struct extent *extent, uint32_t count)
{
	double cells = (double)grid->columns * grid->rows;
	if (cells < 2)
		return false;
	double copies = count + extent->run_x / grid->width + extent->run_y / grid->height;
	double now = ((double)count + 4.0 * extent->ends) * count;
	double then = (copies + 4.0 * extent->ends) * copies / cells + 4 * copies;
	return then < 0.8 * now;
}

/* Lays the runs of a counted grid's cells behind each other, and fills them. */
static bool fill(struct geo_index *index, const struct index_grid *grid, const struct run *run)
{
	uint32_t cells = grid->columns * grid->rows;
	uint64_t total = index->ref_count;
	for (uint32_t i = 0; i < cells; i++) {
		struct index_cell *cell = &index->cells[grid->first_cell + i];
		uint32_t count = cell->count;
		*cell = (struct index_cell){(uint32_t)total, 0};
		total += count;
		if (total > UINT32_MAX / 2)
			return false;
	}
	if (!grow((void **)&index->refs, &index->ref_room, (uint32_t)total, sizeof *index->refs))
		return false;
	index->ref_count = (uint32_t)total;
	for (uint32_t i = 0; i < run->count; i++)
		enter(index, grid, index->refs[run->first + i], FILL);
	return true;
}

static bool add_grid(struct geo_index *index, struct index_grid *grid, const struct run *run)
{
	uint64_t cells = (uint64_t)index->cell_count + (uint64_t)grid->columns * grid->rows;
	if (cells > UINT32_MAX / 2 ||
	    !grow((void **)&index->cells, &index->cell_room, (uint32_t)cells,
		  sizeof *index->cells) ||
	    !grow((void **)&index->grids, &index->grid_room, index->grid_count + 1,
		  sizeof *index->grids))
		return false;
	grid->first_cell = index->cell_count;
	for (uint32_t i = index->cell_count; i < cells; i++)
		index->cells[i] = (struct index_cell){0, 0};
	index->cell_count = (uint32_t)cells;
	index->grids[index->grid_count++] = *grid;
	for (uint32_t i = 0; i < run->count; i++)
		enter(index, grid, index->refs[run->first + i], COUNT);
	return fill(index, grid, run);
}

static bool divide_cell(struct geo_index *index, const struct index_grid *parent, uint32_t at)
{
	struct index_cell *cell = &index->cells[parent->first_cell + at];
	double left = parent->left + at % parent->columns * parent->width;
	double top = parent->top + at / parent->columns * parent->height;
	struct run run = {cell->first, cell->count,          left,
			  top,         left + parent->width, top + parent->height};
	struct extent extent = measure(index, &run);
	struct index_grid grid = shape(&extent, run.count);
	if (extent.left > extent.right || !pays(&grid, &extent, run.count))
		return true;
	grid.depth = parent->depth + 1;
	*cell = (struct index_cell){index->grid_count, INDEX_DIVIDED};
	return add_grid(index, &grid, &run);
}

/* Divides the crowded cells of one grid; grids that this adds come later in the list. */
static bool divide(struct geo_index *index, uint32_t number)
{
	struct index_grid grid = index->grids[number];
	if (grid.depth + 1 >= INDEX_DEPTH)
		return true;
	for (uint32_t i = 0; i < grid.columns * grid.rows; i++)
		if (index->cells[grid.first_cell + i].count > CAPACITY)
			if (!divide_cell(index, &grid, i))
				return false;
	return true;
}

static void trim(void **array, uint32_t *room, uint32_t count, size_t size)
{
	void *trimmed = realloc(*array, ((size_t)count + 1) * size);
	if (!trimmed)
		return;
	*array = trimmed;
	*room = count;
}

/* Closes the gaps that divided cells have left; the runs of the others lie in the cells' order. */
static void compact(struct geo_index *index)
{
	uint32_t used = 0;
	for (uint32_t i = 0; i < index->cell_count; i++) {
		struct index_cell *cell = &index->cells[i];
		if (cell->count == INDEX_DIVIDED)
			continue;
		memmove(index->refs + used, index->refs + cell->first,
			cell->count * sizeof *index->refs);
		cell->first = used;
		used += cell->count;
	}
	index->ref_count = used;
	trim((void **)&index->refs, &index->ref_room, used, sizeof *index->refs);
	trim((void **)&index->cells, &index->cell_room, index->cell_count, sizeof *index->cells);
	trim((void **)&index->grids, &index->grid_room, index->grid_count, sizeof *index->grids);
}

static bool build(struct geo_index *index, uint32_t count)
{
	if (!grow((void **)&index->refs, &index->ref_room, count, sizeof *index->refs))
		return false;
	for (uint32_t i = 0; i < count; i++)
		index->refs[i] = i;
	struct run all = {0, count, INT32_MIN, INT32_MIN, INT32_MAX, INT32_MAX};
	index->ref_count = count;
	struct extent extent = measure(index, &all);
	struct index_grid root = shape(&extent, count);
	if (!add_grid(index, &root, &all))
		return false;
	for (uint32_t i = 0; i < index->grid_count; i++)
		if (!divide(index, i))
			return false;
	compact(index);
	return true;
}

struct geo_index *geo_index_create(const struct geo_segment *segments, uint32_t count)
{
	struct geo_index *index = calloc(1, sizeof *index);
	if (!index)
		return NULL;
	index->segments = segments;
	if (count > 0 && !build(index, count)) {
		geo_index_destroy(index);
		return NULL;
	}
	return index;
}

void geo_index_destroy(struct geo_index *index)
{
	if (!index)
		return;
	free(index->grids);
	free(index->cells);
	free(index->refs);
	free(index->flags);
	free(index);
}

static uint64_t flags_of(const struct geo_index *index, const struct index_cell *cell,
			 const uint64_t *flags)
{
	uint64_t all = 0;
	if (cell->count != INDEX_DIVIDED) {
		for (uint32_t i = 0; i < cell->count; i++)
			all |= flags[index->refs[cell->first + i]];
		return all;
	}
	const struct index_grid *grid = &index->grids[cell->first];
	for (uint32_t i = 0; i < grid->columns * grid->rows; i++)
		all |= index->flags[grid->first_cell + i];
	return all;
}

void geo_index_unflag(struct geo_index *index)
{
	free(index->flags);
	index->flags = NULL;
}

/* A grid that divides a cell comes after it, and so do its cells. */
int geo_index_flag(struct geo_index *index, const uint64_t *flags)
{
	if (!index->flags)
		index->flags = malloc(((size_t)index->cell_count + 1) * sizeof *index->flags);
	if (!index->flags)
		return -1;
	for (uint32_t i = index->cell_count; i-- > 0;)
		index->flags[i] = flags_of(index, &index->cells[i], flags);
	return 0;
}
