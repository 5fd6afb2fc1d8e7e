#include <math.h>
#include <stdlib.h>

#include "geometry/index-passes.h"
#include "geometry/least.h"

/* A cell with more entries than this is divided where that pays. Measured: 8 to 16 are alike. */
#define CAPACITY 12

/* A grid may hold each of its segments this often on average. */
#define COPIES 8.0

/* A cell is at most this many times as long as wide: in longer ones a search sees too much. */
#define OBLONG 16.0

/* No side of a cell is shorter, in nm. */
#define LEAST 2.0

/* The entries of a cell that is to be divided, as a run of refs; or all segments. */
struct run {
	uint32_t first, count;
	bool all;
	double left, top, right, bottom;
};

/* An index while it is built. */
struct building {
	struct geo_index *index;
	uint32_t grid_room, cell_room, ref_room;
	struct index_passes passes; /* of the segments of one run */
};

/* What the segments of a run have in common. */
struct extent {
	double left, top, right, bottom; /* of what lies within the run's box */
	double run_x, run_y;             /* sums of |dx| and |dy| within it */
	uint32_t ends;                   /* ends that lie within it */
};

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

static uint32_t segment_of(const struct geo_index *index, const struct run *run, uint32_t i)
{
	return run->all ? i : index->refs[run->first + i];
}

static bool lies_in(const struct run *run, double x0, double y0, double x1, double y1)
{
	return geo_lesser(x0, x1) >= run->left && geo_greater(x0, x1) <= run->right &&
	       geo_lesser(y0, y1) >= run->top && geo_greater(y0, y1) <= run->bottom;
}

static void extend(struct extent *extent, const struct run *run, const struct geo_segment *s)
{
	double x0 = s->from.x, y0 = s->from.y, x1 = s->to.x, y1 = s->to.y, t[2] = {0, 1};
	if (!lies_in(run, x0, y0, x1, y1)) {
		double x = x0, y = y0, dx = x1 - x0, dy = y1 - y0;
		if (!clip(x, dx, run->left - INDEX_SLACK, run->right + INDEX_SLACK, t) ||
		    !clip(y, dy, run->top - INDEX_SLACK, run->bottom + INDEX_SLACK, t))
			return;
		x0 = x + t[0] * dx;
		x1 = x + t[1] * dx;
		y0 = y + t[0] * dy;
		y1 = y + t[1] * dy;
	}
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
		extend(&extent, run, &index->segments[segment_of(index, run, i)]);
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

/* Adds cells without entries for a grid. */
static bool add_cells(struct building *building, struct index_grid *grid)
{
	struct geo_index *index = building->index;
	uint64_t cells = (uint64_t)index->cell_count + (uint64_t)grid->columns * grid->rows;
	if (cells > UINT32_MAX / 2 ||
	    !index_grow((void **)&index->cells, &building->cell_room, (uint32_t)cells,
			sizeof *index->cells) ||
	    !index_grow((void **)&index->grids, &building->grid_room, index->grid_count + 1,
			sizeof *index->grids))
		return false;
	grid->first_cell = index->cell_count;
	for (uint32_t i = index->cell_count; i < cells; i++)
		index->cells[i] = (struct index_cell){0, 0};
	index->cell_count = (uint32_t)cells;
	index->grids[index->grid_count++] = *grid;
	return true;
}

static bool find_passes(struct building *building, const struct index_grid *grid,
			const struct run *run)
{
	const struct geo_index *index = building->index;
	building->passes.count = 0;
	for (uint32_t i = 0; i < run->count; i++)
		if (index_pass(&building->passes, grid,
			       &index->segments[segment_of(index, run, i)]))
			return false;
	return true;
}

/* Lays the runs of a new grid's cells behind each other, with room for the passes. */
static bool lay_runs(struct building *building, const struct index_grid *grid)
{
	struct geo_index *index = building->index;
	struct index_cell *cells = index->cells + grid->first_cell;
	for (uint32_t i = 0; i < building->passes.count; i++) {
		uint32_t cell = building->passes.items[i] & ~INDEX_LAST;
		if (cell != INDEX_NOWHERE)
			cells[cell].count++;
	}
	uint64_t total = index->ref_count;
	for (uint32_t i = 0; i < grid->columns * grid->rows; i++) {
		uint32_t count = cells[i].count;
		cells[i] = (struct index_cell){(uint32_t)total, 0};
		total += count;
		if (total > UINT32_MAX / 2)
			return false;
	}
	if (!index_grow((void **)&index->refs, &building->ref_room, (uint32_t)total,
			sizeof *index->refs))
		return false;
	index->ref_count = (uint32_t)total;
	return true;
}

static void fill(struct building *building, const struct index_grid *grid, const struct run *run)
{
	struct geo_index *index = building->index;
	const uint32_t *pass = building->passes.items;
	for (uint32_t i = 0; i < run->count; i++) {
		uint32_t segment = segment_of(index, run, i), last;
		do {
			uint32_t at = *pass & ~INDEX_LAST;
			last = *pass++ & INDEX_LAST;
			if (at == INDEX_NOWHERE)
				continue;
			struct index_cell *cell = &index->cells[grid->first_cell + at];
			index->refs[cell->first + cell->count++] = segment;
		} while (!last);
	}
}

static bool add_grid(struct building *building, struct index_grid *grid, const struct run *run)
{
	if (!add_cells(building, grid) || !find_passes(building, grid, run) ||
	    !lay_runs(building, grid))
		return false;
	fill(building, grid, run);
	return true;
}

static bool divide_cell(struct building *building, const struct index_grid *parent, uint32_t at)
{
	struct geo_index *index = building->index;
	struct index_cell *cell = &index->cells[parent->first_cell + at];
	double left = parent->left + at % parent->columns * parent->width;
	double top = parent->top + at / parent->columns * parent->height;
	struct run run = {.first = cell->first,
			  .count = cell->count,
			  .left = left,
			  .top = top,
			  .right = left + parent->width,
			  .bottom = top + parent->height};
	struct extent extent = measure(index, &run);
	struct index_grid grid = shape(&extent, run.count);
	if (extent.left > extent.right || !pays(&grid, &extent, run.count))
		return true;
	grid.depth = parent->depth + 1;
	*cell = (struct index_cell){index->grid_count, INDEX_DIVIDED};
	return add_grid(building, &grid, &run);
}

/* Divides the crowded cells of one grid; grids that this adds come later in the list. */
static bool divide(struct building *building, uint32_t number)
{
	const struct geo_index *index = building->index;
	struct index_grid grid = index->grids[number];
	if (grid.depth + 1 >= INDEX_DEPTH)
		return true;
	for (uint32_t i = 0; i < grid.columns * grid.rows; i++)
		if (index->cells[grid.first_cell + i].count > CAPACITY)
			if (!divide_cell(building, &grid, i))
				return false;
	return true;
}

static void trim(void **array, uint32_t count, size_t size)
{
	void *trimmed = realloc(*array, ((size_t)count + 1) * size);
	if (trimmed)
		*array = trimmed;
}

/* Closes the gaps that divided cells have left; the runs of the others lie in the cells' order. */
static void compact(struct geo_index *index)
{
	uint32_t used = 0;
	for (uint32_t i = 0; i < index->cell_count; i++) {
		struct index_cell *cell = &index->cells[i];
		if (cell->count == INDEX_DIVIDED)
			continue;
		if (cell->first != used)
			for (uint32_t k = 0; k < cell->count; k++)
				index->refs[used + k] = index->refs[cell->first + k];
		cell->first = used;
		used += cell->count;
	}
	index->ref_count = used;
	trim((void **)&index->refs, used, sizeof *index->refs);
	trim((void **)&index->cells, index->cell_count, sizeof *index->cells);
	trim((void **)&index->grids, index->grid_count, sizeof *index->grids);
}

static bool build(struct building *building, uint32_t count)
{
	struct geo_index *index = building->index;
	struct run all = {0, count, true, INT32_MIN, INT32_MIN, INT32_MAX, INT32_MAX};
	struct extent extent = measure(index, &all);
	struct index_grid root = shape(&extent, count);
	if (!add_grid(building, &root, &all))
		return false;
	for (uint32_t i = 0; i < index->grid_count; i++)
		if (!divide(building, i))
			return false;
	return true;
}

struct geo_index *geo_index_create(const struct geo_segment *segments, uint32_t count)
{
	struct geo_index *index = calloc(1, sizeof *index);
	if (!index)
		return NULL;
	index->segments = segments;
	struct building building = {.index = index};
	bool built = count == 0 || build(&building, count);
	free(building.passes.items);
	if (!built) {
		geo_index_destroy(index);
		return NULL;
	}
	compact(index);
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
