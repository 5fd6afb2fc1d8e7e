#include "geometry/index-slice.h"

#include <math.h>

#include "geometry/least.h"

/* More than the rounding of a place in nm. */
#define SLACK 1e-3

struct index_area index_area_turn(struct index_area area, const struct index_grid *grid)
{
	for (int i = 0; i < area.count; i++)
		area.corners[i] = index_turn(area.corners[i], INDEX_STRAIGHT, grid->along);
	return area;
}

static void stretch(double at, double *low, double *high)
{
	*low = geo_lesser(*low, at);
	*high = geo_greater(*high, at);
}

bool index_area_slices(const struct index_area *area, const struct index_grid *grid, bool rows,
		       uint32_t *first, uint32_t *last)
{
	double low = INFINITY, high = -INFINITY;
	for (int i = 0; i < area->count; i++)
		stretch(rows ? area->corners[i].y : area->corners[i].x, &low, &high);
	return rows ? index_rows(grid, low - SLACK, high + SLACK, first, last)
		    : index_columns(grid, low - SLACK, high + SLACK, first, last);
}

/* Stretches `low` to `high` over the part of an edge that lies within a slice, x across it. */
static void stretch_over(struct geo_vector a, struct geo_vector b, double from, double to,
			 double *low, double *high)
{
	if (geo_greater(a.x, b.x) < from || geo_lesser(a.x, b.x) > to)
		return;
	double slope = a.x == b.x ? 0 : (b.y - a.y) / (b.x - a.x);
	stretch(a.y + slope * (geo_lesser(geo_greater(a.x, from), to) - a.x), low, high);
	stretch(b.y + slope * (geo_lesser(geo_greater(b.x, from), to) - b.x), low, high);
}

bool index_area_cells(const struct index_area *area, const struct index_grid *grid, bool rows,
		      uint32_t at, uint32_t *first, uint32_t *last)
{
	double side = rows ? grid->height : grid->width;
	double from = (rows ? grid->top : grid->left) + at * side - SLACK;
	double to = from + side + 2 * SLACK, low = INFINITY, high = -INFINITY;
	for (int i = 0; i < area->count; i++) {
		struct geo_vector a = area->corners[i], b = area->corners[(i + 1) % area->count];
		if (rows)
			stretch_over((struct geo_vector){a.y, a.x}, (struct geo_vector){b.y, b.x},
				     from, to, &low, &high);
		else
			stretch_over(a, b, from, to, &low, &high);
	}
	if (low > high)
		return false;
	return rows ? index_columns(grid, low - SLACK, high + SLACK, first, last)
		    : index_rows(grid, low - SLACK, high + SLACK, first, last);
}
