/*
 * Branch and bound over square cells. A cell carries the walls that can be nearest to a point of
 * it: where a wall is at distance d from the middle and the cell's half-diagonal is h, no wall
 * farther than d + 2h from the middle is ever nearest inside. These are also all walls that cross
 * the cell, so that inside or outside passes down from a cell to its quarters by counting the walls
 * between their middles. No index is needed, and work falls with the size of the cells.
 *
 * The distance to a wall is convex: from below, a step along the gradients never overshoots; for
 * the bounds from above see inscribed-bound.h.
 */
#include "geometry/inscribed.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/inscribed-bound.h"
#include "geometry/least.h"

/* Cells for one tolerance, besides some for each wall. */
#define MOST_CELLS (1u << 20)

struct search {
	struct geo_wall *walls;
	uint32_t wall_count;
	double *squares; /* of the distances to the walls of the list being filtered */
	uint32_t *list;  /* a stack of lists of walls, those of the cells at work */
	size_t list_count, list_capacity;
	double tolerance;
	double enough;       /* a radius beyond which nothing larger is wanted */
	uint64_t cells_left; /* until the tolerance is doubled */
	struct geo_vector best;
	double radius; /* of the largest so far; at the start, what is too small to matter */
};

static int reserve(struct search *search, size_t more)
{
	size_t wanted = search->list_count + more;
	if (wanted <= search->list_capacity)
		return 0;
	size_t capacity = wanted + wanted / 2;
	uint32_t *list = realloc(search->list, capacity * sizeof *list);
	if (!list)
		return -1;
	search->list = list;
	search->list_capacity = capacity;
	return 0;
}

static struct geo_walls walls_of(const struct search *search, const struct inscribed_cell *cell)
{
	return (struct geo_walls){search->walls, search->list + cell->first, cell->count};
}

static void offer(struct search *search, struct geo_vector at, double radius)
{
	if (!(radius > search->radius))
		return;
	search->radius = radius;
	search->best = at;
}

/* Fills in a cell from the list and the middle of the one that holds it. */
static int look(struct search *search, struct inscribed_cell *cell,
		const struct inscribed_cell *outer)
{
	if (reserve(search, outer->count))
		return -1;
	const uint32_t *from = search->list + outer->first;
	struct geo_vector middle = {cell->x, cell->y}, before = {outer->x, outer->y};
	double least = INFINITY;
	cell->inside = outer->inside;
	for (size_t i = 0; i < outer->count; i++) {
		const struct geo_wall *wall = &search->walls[from[i]];
		double square = geo_wall_square(wall, cell->x, cell->y);
		search->squares[i] = square;
		if (square < least)
			least = square;
		if (geo_wall_between(wall, before, middle))
			cell->inside = !cell->inside;
	}
	cell->distance = sqrt(least);
	cell->first = search->list_count;
	double reach = cell->distance + 2 * sqrt(2) * cell->half;
	for (size_t i = 0; i < outer->count; i++)
		if (search->squares[i] <= reach * reach)
			search->list[search->list_count++] = from[i];
	cell->count = search->list_count - cell->first;
	if (cell->inside)
		offer(search, middle, cell->distance);
	return 0;
}

/*
 * Climbs from the middle of a cell that may well hold the best place, so that its bound is met from
 * below at once.
 */
static void offer_climb(struct search *search, const struct inscribed_cell *cell)
{
	if (cell->distance + cell->half / 4 < search->radius)
		return;
	struct geo_walls walls = walls_of(search, cell);
	struct geo_vector middle = {cell->x, cell->y}, at = middle;
	for (int i = 0; i < 3 && geo_walls_climb(&walls, middle, cell->half, &at); i++)
		continue;
	offer(search, at, geo_walls_least(&walls, at));
}

static bool is_enough(const struct search *search)
{
	return search->radius >= search->enough;
}

static bool is_done(const struct search *search, double bound)
{
	return is_enough(search) || !(bound > search->radius + search->tolerance);
}

static bool can_be_dropped(struct search *search, const struct inscribed_cell *cell)
{
	if (is_done(search, inscribed_plain_bound(cell)))
		return true;
	struct geo_walls walls = walls_of(search, cell);
	if (is_done(search, inscribed_strip_bound(&walls, cell)))
		return true;
	if (!cell->inside)
		return false;
	double bound = inscribed_facing_bound(&walls, cell);
	if (is_done(search, bound))
		return true;
	offer_climb(search, cell);
	return is_done(search, fmin(bound, inscribed_plain_bound(cell)));
}

static void sort_by_bound(struct inscribed_cell cells[4])
{
	for (int i = 1; i < 4; i++) {
		struct inscribed_cell cell = cells[i];
		int k = i;
		for (; k > 0 && inscribed_plain_bound(&cells[k - 1]) < inscribed_plain_bound(&cell);
		     k--)
			cells[k] = cells[k - 1];
		cells[k] = cell;
	}
}

/* A region of hairs without end would take a cell for each bit of each hair: no drawing has one,
 * but an answer has to come for every input. */
static void spend_cells(struct search *search)
{
	search->cells_left -= 4;
	if (search->cells_left > 4)
		return;
	search->cells_left = MOST_CELLS;
	search->tolerance *= 2;
}

static int divide(struct search *search, const struct inscribed_cell *cell)
{
	spend_cells(search);
	struct inscribed_cell quarters[4];
	size_t mark = search->list_count;
	double half = cell->half / 2;
	for (int i = 0; i < 4; i++) {
		quarters[i] = (struct inscribed_cell){.x = cell->x + (i & 1 ? half : -half),
						      .y = cell->y + (i & 2 ? half : -half),
						      .half = half};
		if (look(search, &quarters[i], cell))
			return -1;
		if (is_enough(search))
			return 0;
	}
	sort_by_bound(quarters);
	for (int i = 0; i < 4; i++)
		if (!can_be_dropped(search, &quarters[i]) && divide(search, &quarters[i]))
			return -1;
	search->list_count = mark;
	return 0;
}

/*
 * First a coarse look all over: without a fair circle at hand, a descent into one corner full of
 * narrow places would go through them all.
 */
static int search_cells(struct search *search, const struct inscribed_cell *root)
{
	double wanted = search->tolerance, coarse = root->half / 4;
	uint64_t most = search->cells_left;
	for (; coarse > fmax(wanted, search->radius / 16); coarse /= 8) {
		search->tolerance = coarse;
		search->cells_left = most;
		if (!can_be_dropped(search, root) && divide(search, root))
			return -1;
	}
	search->tolerance = wanted;
	search->cells_left = most;
	return can_be_dropped(search, root) ? 0 : divide(search, root);
}

struct frame {
	double left, bottom, width, height;
};

static struct frame frame_of(const struct geo_lines *lines)
{
	double left = INFINITY, bottom = INFINITY, right = -INFINITY, top = -INFINITY;
	for (uint32_t c = 0; c < lines->chain_count; c++) {
		const struct geo_chain *chain = &lines->chains[c];
		for (uint32_t i = 0; chain->closed && i < chain->count; i++) {
			struct cutlint_point p = lines->points[chain->first + i];
			left = geo_lesser(left, p.x);
			right = geo_greater(right, p.x);
			bottom = geo_lesser(bottom, p.y);
			top = geo_greater(top, p.y);
		}
	}
	return (struct frame){left, bottom, right - left, top - bottom};
}

static size_t most_walls(const struct geo_lines *lines)
{
	size_t count = 0;
	for (uint32_t c = 0; c < lines->chain_count; c++)
		count += lines->chains[c].closed ? lines->chains[c].count : 0;
	return count;
}

static void take_walls(struct search *search, const struct geo_lines *lines, struct frame frame)
{
	for (uint32_t c = 0; c < lines->chain_count; c++) {
		const struct geo_chain *chain = &lines->chains[c];
		for (uint32_t i = 0; chain->closed && i < chain->count; i++) {
			uint32_t v = chain->first + i;
			struct cutlint_point p = lines->points[v];
			struct cutlint_point q =
				lines->points[i + 1 < chain->count ? v + 1 : chain->first];
			double dx = (double)q.x - p.x, dy = (double)q.y - p.y;
			if (dx == 0 && dy == 0)
				continue;
			search->walls[search->wall_count++] =
				(struct geo_wall){.x = p.x - frame.left,
						  .y = p.y - frame.bottom,
						  .dx = dx,
						  .dy = dy,
						  .inverse = 1 / (dx * dx + dy * dy),
						  .segment = v};
		}
	}
}

/*
 * The square round the region. It is a little larger than needed, by shares that no drawing has, so
 * that the middles of cells miss the walls, which lie on integers.
 */
static int look_at_all(struct search *search, struct frame frame, struct inscribed_cell *root)
{
	struct inscribed_cell far = {.x = -0.618033988749895 * (frame.width + 16),
				     .y = -0.381966011250105 * (frame.height + 16),
				     .count = search->wall_count};
	double side = fmax(frame.width, frame.height);
	root->half = side * (0.5 + 0.0070710678118654755) + 0.7320508075688772;
	root->x = frame.width / 2 + side * 0.0031415926535897931 + 0.2360679774997897;
	root->y = frame.height / 2 - side * 0.0027182818284590451 + 0.1622776601683795;
	if (reserve(search, search->wall_count))
		return -1;
	for (uint32_t i = 0; i < search->wall_count; i++)
		search->list[search->list_count++] = i;
	return look(search, root, &far);
}

static void report(struct search *search, struct frame frame, struct geo_circle *out)
{
	struct geo_walls walls = {search->walls, NULL, search->wall_count};
	struct geo_vector at = search->best;
	for (int i = 0; i < 32; i++)
		if (!geo_walls_climb(&walls, at, INFINITY, &at))
			break;
	struct geo_sight sight[3];
	int found = geo_walls_nearest(&walls, at, sight);
	out->radius = sight[0].distance;
	out->centre = (struct geo_vector){at.x + frame.left, at.y + frame.bottom};
	for (int i = 0; i < found; i++)
		if (sight[i].distance <= out->radius + search->tolerance)
			out->segments[i] = sight[i].wall->segment;
}

static void report_enough(const struct search *search, struct frame frame, struct geo_circle *out)
{
	out->radius = search->radius;
	out->centre =
		(struct geo_vector){search->best.x + frame.left, search->best.y + frame.bottom};
}

static int run(struct search *search, const struct geo_lines *lines, struct geo_circle *out)
{
	struct frame frame = frame_of(lines);
	struct inscribed_cell root = {0};
	double too_small = search->radius;
	take_walls(search, lines, frame);
	if (search->wall_count == 0)
		return 0;
	/* A region smaller than the tolerance still gets a circle; rounding sets the other end. */
	search->tolerance = fmin(search->tolerance, fmin(frame.width, frame.height) / 256);
	search->tolerance = fmax(search->tolerance, 1e-3 + 1e-15 * fmax(frame.width, frame.height));
	search->cells_left = MOST_CELLS + 64 * (uint64_t)search->wall_count;
	if (look_at_all(search, frame, &root))
		return -1;
	if (search_cells(search, &root))
		return -1;
	if (is_enough(search))
		report_enough(search, frame, out);
	else if (search->radius > too_small)
		report(search, frame, out);
	return 0;
}

static int find(struct search *search, const struct geo_lines *lines, struct geo_circle *out)
{
	*out = (struct geo_circle){.segments = {GEO_NONE, GEO_NONE, GEO_NONE}};
	search->walls = malloc((most_walls(lines) + 1) * sizeof *search->walls);
	search->squares = malloc((most_walls(lines) + 1) * sizeof *search->squares);
	int status = search->walls && search->squares ? run(search, lines, out) : -1;
	free(search->walls);
	free(search->squares);
	free(search->list);
	return status;
}

int geo_inscribed_circle(const struct geo_lines *lines, double tolerance, double enough,
			 struct geo_circle *out)
{
	struct search search = {.tolerance = tolerance, .enough = enough};
	return find(&search, lines, out);
}

int geo_inscribed_fits(const struct geo_lines *lines, double radius, bool *fits)
{
	struct geo_circle circle;
	struct search search = {
		.tolerance = 1, .radius = radius, .enough = nextafter(radius, INFINITY)};
	int status = find(&search, lines, &circle);
	*fits = circle.radius > radius;
	return status;
}
