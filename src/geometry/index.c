#include <stdlib.h>

#include "geometry/index-shape.h"

/* A cell with more entries than this is divided where that pays. Measured: 8 to 16 are alike. */
#define CAPACITY 12

/* Off every grid. */
static const struct index_piece NOWHERE = {{1e12, 1e12}, {1e12, 1e12}};

/* An index while it is built. */
struct building {
	struct geo_index *index;
	uint32_t grid_room, cell_room, ref_room;
	struct index_passes passes; /* of the segments of one run */
};

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
			const struct index_run *run)
{
	const struct geo_index *index = building->index;
	building->passes.count = 0;
	for (uint32_t i = 0; i < run->count; i++) {
		const struct geo_segment *s = &index->segments[index_run_segment(index, run, i)];
		struct index_piece piece = {{s->from.x, s->from.y}, {s->to.x, s->to.y}};
		if (index_is_turned(grid) && !index_run_piece(run, s, grid->along, &piece))
			piece = NOWHERE;
		if (index_pass(&building->passes, grid, &piece))
			return false;
	}
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

static void fill(struct building *building, const struct index_grid *grid,
		 const struct index_run *run)
{
	struct geo_index *index = building->index;
	const uint32_t *pass = building->passes.items;
	for (uint32_t i = 0; i < run->count; i++) {
		uint32_t segment = index_run_segment(index, run, i), last;
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

static bool add_grid(struct building *building, struct index_grid *grid,
		     const struct index_run *run)
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
	struct index_run run = {.first = cell->first,
				.count = cell->count,
				.along = parent->along,
				.left = left,
				.top = top,
				.right = left + parent->width,
				.bottom = top + parent->height};
	struct index_grid grid;
	if (!index_shape_best(index, &run, &grid))
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
	struct index_run all = {.count = count,
				.all = true,
				.along = INDEX_STRAIGHT,
				.left = INT32_MIN,
				.top = INT32_MIN,
				.right = INT32_MAX,
				.bottom = INT32_MAX};
	struct index_grid root = index_shape_root(index, &all);
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
