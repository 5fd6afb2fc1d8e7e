#include <math.h>

#include "geometry/index-slice.h"
#include "geometry/least.h"

/* More than the rounding of a place in nm. */
#define SLACK 1e-3

/* A search that has left out this many cells with something in them leaves out no more: what lies
 * there may bound it. */
#define PASSED 6

/* Farther than any two places on a sheet, in nm. */
#define FARTHEST 1e10

struct search {
	const struct geo_index *index;
	const struct geo_cone *cone;
	double reach;
	geo_visit_run *visit;
	void *user;
	uint64_t flags;
	uint32_t passed;
};

static void search_grid(struct search *search, const struct index_grid *grid);

static void search_cell(struct search *search, uint32_t number)
{
	const struct index_cell *cell = &search->index->cells[number];
	if (cell->count == 0)
		return;
	if (search->flags != GEO_ALL && !(search->index->flags[number] & search->flags)) {
		if (++search->passed == PASSED)
			search->flags = GEO_ALL;
		return;
	}
	if (cell->count == INDEX_DIVIDED)
		search_grid(search, &search->index->grids[cell->first]);
	else
		search->visit(search->user, search->index->refs + cell->first, cell->count,
			      &search->reach);
}

/* The part of a cone between two distances along its axis, across that axis. */
static void cone_across(const struct geo_cone *cone, double near, double far, double *low,
			double *high)
{
	double across = cone->steep ? cone->apex.x : cone->apex.y;
	*low = across + geo_lesser(cone->low * near, cone->low * far) - SLACK;
	*high = across + geo_greater(cone->high * near, cone->high * far) + SLACK;
}

/* One row (of a steep cone) or column of cells, between two distances along the cone's axis. */
static void search_slice(struct search *search, const struct index_grid *grid, uint32_t at,
			 double from, double to)
{
	const struct geo_cone *cone = search->cone;
	double low, high;
	cone_across(cone, geo_greater(from - SLACK, 0), geo_lesser(to, search->reach) + SLACK, &low,
		    &high);
	uint32_t first, last;
	if (cone->steep ? !index_columns(grid, low, high, &first, &last)
			: !index_rows(grid, low, high, &first, &last))
		return;
	uint32_t step = cone->steep ? 1 : grid->columns;
	uint32_t start = grid->first_cell + (cone->steep ? at * grid->columns : at);
	for (uint32_t i = first; i <= last; i++)
		search_cell(search, start + i * step);
}

/* The cone up to where the search still goes, as a triangle. */
static struct index_area triangle_of(const struct search *search, const struct index_grid *grid)
{
	const struct geo_cone *cone = search->cone;
	double reach = geo_lesser(search->reach, FARTHEST) + SLACK;
	double along = cone->back ? -reach : reach;
	struct geo_vector a = cone->apex, low = a, high = a;
	low.x += cone->steep ? cone->low * reach : along;
	low.y += cone->steep ? along : cone->low * reach;
	high.x += cone->steep ? cone->high * reach : along;
	high.y += cone->steep ? along : cone->high * reach;
	return index_area_turn((struct index_area){{a, low, high}, 3}, grid);
}

/* In a turned grid: by rows or columns, whichever the cone crosses more squarely, from its apex. */
static void search_turned(struct search *search, const struct index_grid *grid)
{
	struct index_area area = triangle_of(search, grid);
	const struct geo_vector *at = area.corners;
	double x = at[1].x + at[2].x - 2 * at[0].x, y = at[1].y + at[2].y - 2 * at[0].y;
	bool rows = fabs(y) > fabs(x), back = rows ? y < 0 : x < 0;
	uint32_t first, last, from, to;
	if (!index_area_slices(&area, grid, rows, &first, &last))
		return;
	for (uint32_t i = 0; i <= last - first; i++) {
		uint32_t slice = back ? last - i : first + i;
		area = triangle_of(search, grid);
		if (!index_area_cells(&area, grid, rows, slice, &from, &to))
			continue;
		for (uint32_t k = from; k <= to; k++)
			search_cell(search, grid->first_cell + (rows ? slice * grid->columns + k
								     : k * grid->columns + slice));
	}
}

static void search_grid(struct search *search, const struct index_grid *grid)
{
	if (index_is_turned(grid)) {
		search_turned(search, grid);
		return;
	}
	const struct geo_cone *cone = search->cone;
	double apex = cone->steep ? cone->apex.y : cone->apex.x;
	double from = cone->back ? apex - search->reach - SLACK : apex - SLACK;
	double to = cone->back ? apex + SLACK : apex + search->reach + SLACK;
	double origin = (cone->steep ? grid->top : grid->left) - apex;
	double side = cone->steep ? grid->height : grid->width;
	uint32_t first, last;
	if (cone->steep ? !index_rows(grid, from, to, &first, &last)
			: !index_columns(grid, from, to, &first, &last))
		return;
	for (uint32_t i = 0; i <= last - first; i++) {
		uint32_t at = cone->back ? last - i : first + i;
		double least = origin + at * side, most = least + side;
		double near = cone->back ? -most : least, far = cone->back ? -least : most;
		if (near > search->reach + SLACK)
			return;
		search_slice(search, grid, at, near, far);
	}
}

void geo_index_cone(const struct geo_index *index, const struct geo_cone *cone, double reach,
		    uint64_t flags, geo_visit_run *visit, void *user)
{
	struct search search = {index, cone, reach, visit, user, flags, 0};
	if (index->grid_count > 0)
		search_grid(&search, &index->grids[0]);
}
