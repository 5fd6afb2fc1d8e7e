#include <math.h>

#include "geometry/index-slice.h"
#include "geometry/least.h"

/* More than the rounding of a place in nm. */
#define SLACK 1e-3

/* A search by a closed box, or by a band round a line; `call` for boxes and bands. */
struct search {
	const struct geo_index *index;
	struct geo_vector along;    /* of the frame that a band's `from` and `to` are given in */
	struct geo_vector from, to; /* of a box: its least and most corner */
	double apart;
	geo_visit *visit;
	void *user;
};

struct near {
	const struct geo_index *index;
	struct geo_vector along, at; /* the place in the frame of the grid at work */
	double reach;
	geo_visit_near *visit;
	void *user;
};

static bool box_cells(const struct search *search, const struct index_grid *grid);
static bool band_cells(const struct search *search, const struct index_grid *grid);
static void near_cells(struct near *near, const struct index_grid *grid);

static bool visit_run(const struct search *search, const struct index_cell *cell)
{
	const uint32_t *refs = search->index->refs + cell->first;
	for (uint32_t i = 0; i < cell->count; i++)
		if (!search->visit(search->user, refs[i]))
			return false;
	return true;
}

/* Grids nest at most INDEX_DEPTH deep, so the calls do too. */
static bool box_cell(const struct search *search, const struct index_cell *cell)
{
	return cell->count == INDEX_DIVIDED ? box_cells(search, &search->index->grids[cell->first])
					    : visit_run(search, cell);
}

static bool box_turned_cells(const struct search *search, const struct index_grid *grid)
{
	struct geo_vector a = search->from, b = search->to;
	struct index_area area = {{a, {b.x, a.y}, b, {a.x, b.y}}, 4};
	area = index_area_turn(area, grid);
	uint32_t left, right, top, bottom;
	if (!index_area_slices(&area, grid, true, &top, &bottom))
		return true;
	for (uint32_t row = top; row <= bottom; row++) {
		if (!index_area_cells(&area, grid, true, row, &left, &right))
			continue;
		const struct index_cell *cells =
			search->index->cells + grid->first_cell + row * grid->columns;
		for (uint32_t column = left; column <= right; column++)
			if (!box_cell(search, &cells[column]))
				return false;
	}
	return true;
}

static bool box_cells(const struct search *search, const struct index_grid *grid)
{
	if (index_is_turned(grid))
		return box_turned_cells(search, grid);
	uint32_t left, right, top, bottom;
	if (!index_columns(grid, search->from.x, search->to.x, &left, &right) ||
	    !index_rows(grid, search->from.y, search->to.y, &top, &bottom))
		return true;
	for (uint32_t row = top; row <= bottom; row++) {
		const struct index_cell *cells =
			search->index->cells + grid->first_cell + row * grid->columns;
		for (uint32_t column = left; column <= right; column++) {
			if (!box_cell(search, &cells[column]))
				return false;
		}
	}
	return true;
}

void geo_index_box(const struct geo_index *index, double left, double top, double right,
		   double bottom, geo_visit *visit, void *user)
{
	struct search search = {index, INDEX_STRAIGHT, {left, top}, {right, bottom},
				0,     visit,          user};
	if (index->grid_count > 0)
		box_cells(&search, &index->grids[0]);
}

/* Half the diagonal of a square beside half its side: so far it comes on an axis, however turned.
 */
#define TURNED_SQUARE 1.4143

/* The column or row that holds a place with some room on both sides; false where there is none. */
static bool holds(double at, double apart, double least, double a_nm, uint32_t count,
		  uint32_t *number)
{
	double place = (at - least) * a_nm, low = place - apart * a_nm, high = place + apart * a_nm;
	if (!(low >= 0 && high < count))
		return false;
	*number = (uint32_t)low;
	return *number == (uint32_t)high;
}

bool geo_index_cell(const struct geo_index *index, struct geo_vector at, double apart,
		    const uint32_t **segments, uint32_t *count)
{
	const struct index_grid *grid = index->grids;
	struct geo_vector place = {at.x, at.y}, along = INDEX_STRAIGHT;
	double reach = apart;
	uint32_t column, row;
	while (grid &&
	       holds(place.x, reach, grid->left, grid->columns_a_nm, grid->columns, &column) &&
	       holds(place.y, reach, grid->top, grid->rows_a_nm, grid->rows, &row)) {
		const struct index_cell *cell =
			&index->cells[grid->first_cell + row * grid->columns + column];
		if (cell->count != INDEX_DIVIDED) {
			*segments = index->refs + cell->first;
			*count = cell->count;
			return true;
		}
		grid = &index->grids[cell->first];
		if (index_is_turned(grid)) {
			place = index_turn(place, along, grid->along);
			along = grid->along;
			reach = TURNED_SQUARE * apart;
		}
	}
	return false;
}

/* The x between which the band lies, for y from `top` to `bottom`. */
static bool band_row(const struct search *search, double top, double bottom, double *left,
		     double *right)
{
	double dx = search->to.x - search->from.x, dy = search->to.y - search->from.y;
	double a = 0, b = 1;
	if (dy != 0) {
		double s = (top - search->apart - search->from.y) / dy;
		double t = (bottom + search->apart - search->from.y) / dy;
		a = geo_greater(0, geo_lesser(s, t));
		b = geo_lesser(1, geo_greater(s, t));
	}
	double x = search->from.x + a * dx, y = search->from.x + b * dx;
	*left = geo_lesser(x, y) - search->apart;
	*right = geo_greater(x, y) + search->apart;
	return a <= b;
}

/* A band is turned into the frame of each grid that has another one. */
static bool band_cell(const struct search *search, const struct index_cell *cell)
{
	if (cell->count != INDEX_DIVIDED)
		return visit_run(search, cell);
	const struct index_grid *grid = &search->index->grids[cell->first];
	if (!index_is_turned(grid))
		return band_cells(search, grid);
	struct search turned = *search;
	turned.along = grid->along;
	turned.from = index_turn(search->from, search->along, grid->along);
	turned.to = index_turn(search->to, search->along, grid->along);
	return band_cells(&turned, grid);
}

static bool band_cells(const struct search *search, const struct index_grid *grid)
{
	uint32_t left, right, top, bottom;
	double low = geo_lesser(search->from.y, search->to.y) - search->apart;
	double high = geo_greater(search->from.y, search->to.y) + search->apart, x, y;
	if (!index_rows(grid, low, high, &top, &bottom))
		return true;
	for (uint32_t row = top; row <= bottom; row++) {
		double edge = grid->top + row * grid->height;
		if (!band_row(search, edge - SLACK, edge + grid->height + SLACK, &x, &y) ||
		    !index_columns(grid, x, y, &left, &right))
			continue;
		for (uint32_t column = left; column <= right; column++) {
			uint32_t number = grid->first_cell + row * grid->columns + column;
			if (!band_cell(search, &search->index->cells[number]))
				return false;
		}
	}
	return true;
}

void geo_index_band(const struct geo_index *index, struct geo_vector from, struct geo_vector to,
		    double apart, geo_visit *visit, void *user)
{
	struct search search = {index, INDEX_STRAIGHT, from, to, apart + SLACK, visit, user};
	if (index->grid_count > 0)
		band_cells(&search, &index->grids[0]);
}

static double outside(double at, double least, double most)
{
	return at < least ? least - at : at > most ? at - most : 0;
}

static void near_grid(struct near *near, const struct index_grid *grid)
{
	struct geo_vector along = near->along, at = near->at;
	near->along = grid->along;
	near->at = index_turn(at, along, grid->along);
	near_cells(near, grid);
	near->along = along;
	near->at = at;
}

static void near_cell(struct near *near, const struct index_grid *grid, uint32_t column,
		      uint32_t row)
{
	double left = grid->left + column * grid->width, top = grid->top + row * grid->height;
	double dx = outside(near->at.x, left, left + grid->width);
	double dy = outside(near->at.y, top, top + grid->height);
	double reach = near->reach + SLACK;
	if (dx * dx + dy * dy > reach * reach)
		return;
	const struct index_cell *cell =
		&near->index->cells[grid->first_cell + row * grid->columns + column];
	if (cell->count == INDEX_DIVIDED) {
		near_grid(near, &near->index->grids[cell->first]);
		return;
	}
	for (uint32_t i = 0; i < cell->count; i++)
		near->visit(near->user, near->index->refs[cell->first + i], &near->reach);
}

/* The cells of one row that lie exactly or, at the ring's own rows, up to `ring` columns off. */
static void near_row(struct near *near, const struct index_grid *grid, int64_t column, int64_t row,
		     int64_t ring, bool whole)
{
	if (row < 0 || row >= grid->rows)
		return;
	int64_t step = whole || ring == 0 ? 1 : 2 * ring;
	int64_t from = column - ring, to = column + ring;
	if (whole && from < 0)
		from = 0;
	if (to >= grid->columns && whole)
		to = grid->columns - 1;
	for (int64_t c = from; c <= to; c += step)
		if (c >= 0 && c < grid->columns)
			near_cell(near, grid, (uint32_t)c, (uint32_t)row);
}

static void near_ring(struct near *near, const struct index_grid *grid, int64_t column, int64_t row,
		      int64_t ring)
{
	near_row(near, grid, column, row - ring, ring, true);
	if (ring == 0)
		return;
	bool misses = column < ring && column + ring >= grid->columns;
	int64_t from = row - ring + 1 < 0 ? 0 : row - ring + 1;
	int64_t to = row + ring - 1 >= grid->rows ? grid->rows - 1 : row + ring - 1;
	for (int64_t r = from; r <= to && !misses; r++)
		near_row(near, grid, column, r, ring, false);
	near_row(near, grid, column, row + ring, ring, true);
}

/* How far beyond the cells of all rings below this one it is, at least. */
static double ring_distance(const struct near *near, const struct index_grid *grid, int64_t column,
			    int64_t row, int64_t ring)
{
	double left = grid->left + (double)(column - ring + 1) * grid->width;
	double right = grid->left + (double)(column + ring) * grid->width;
	double top = grid->top + (double)(row - ring + 1) * grid->height;
	double bottom = grid->top + (double)(row + ring) * grid->height;
	double x = INFINITY, y = INFINITY;
	if (column - ring >= 0)
		x = near->at.x - left;
	if (column + ring < grid->columns)
		x = geo_lesser(x, right - near->at.x);
	if (row - ring >= 0)
		y = near->at.y - top;
	if (row + ring < grid->rows)
		y = geo_lesser(y, bottom - near->at.y);
	return geo_lesser(x, y);
}

static void near_cells(struct near *near, const struct index_grid *grid)
{
	double x = geo_lesser(geo_greater(near->at.x, grid->left), grid->right);
	double y = geo_lesser(geo_greater(near->at.y, grid->top), grid->bottom);
	uint32_t column = 0, row = 0;
	index_columns(grid, x, x, &column, &column);
	index_rows(grid, y, y, &row, &row);
	for (int64_t ring = 0;; ring++) {
		double apart = ring > 0 ? ring_distance(near, grid, column, row, ring) : 0;
		if (apart == INFINITY || apart > near->reach + SLACK)
			return;
		near_ring(near, grid, column, row, ring);
	}
}

void geo_index_near(const struct geo_index *index, struct geo_vector at, double reach,
		    geo_visit_near *visit, void *user)
{
	struct near near = {index, INDEX_STRAIGHT, at, reach, visit, user};
	if (index->grid_count > 0)
		near_cells(&near, &index->grids[0]);
}

static bool spans_meet(int32_t a, int32_t b, int32_t c, int32_t d)
{
	return (a < b ? a : b) <= (c < d ? d : c) && (c < d ? c : d) <= (a < b ? b : a);
}

static bool boxes_meet(const struct geo_segment *a, const struct geo_segment *b)
{
	return spans_meet(a->from.x, a->to.x, b->from.x, b->to.x) &&
	       spans_meet(a->from.y, a->to.y, b->from.y, b->to.y);
}

static bool pairs_of_cell(const struct geo_index *index, const struct index_cell *cell,
			  geo_visit_pair *visit, void *user)
{
	const uint32_t *refs = index->refs + cell->first;
	for (uint32_t i = 1; i < cell->count; i++)
		for (uint32_t j = 0; j < i; j++) {
			uint32_t a = refs[i] < refs[j] ? refs[i] : refs[j];
			uint32_t b = refs[i] < refs[j] ? refs[j] : refs[i];
			if (boxes_meet(&index->segments[a], &index->segments[b]) &&
			    !visit(user, a, b))
				return false;
		}
	return true;
}

bool geo_index_pairs(const struct geo_index *index, geo_visit_pair *visit, void *user)
{
	for (uint32_t i = 0; i < index->cell_count; i++)
		if (index->cells[i].count != INDEX_DIVIDED &&
		    !pairs_of_cell(index, &index->cells[i], visit, user))
			return false;
	return true;
}
