/*
 * Branch and bound over square cells. A cell carries the walls that can be nearest to a point of
 * it: where a wall is at distance d from the middle and the cell's half-diagonal is h, no wall
 * farther than d + 2h from the middle is ever nearest inside. These are also all walls that cross
 * the cell, so that inside or outside passes down from a cell to its quarters by counting the walls
 * between their middles. No index is needed, and work falls with the size of the cells.
 *
 * The distance to a wall is convex. This gives the bounds: from below, a step along the gradients
 * never overshoots; from above, the mean of two distances is largest at a corner of the cell, which
 * makes a corridor between parallel walls as cheap as a single best place.
 */
#include "geometry/inscribed.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/inscribed-walls.h"

/* Cells for one tolerance, besides some for each wall. */
#define MOST_CELLS (1u << 20)

struct cell {
	double x, y, half;   /* middle, half a side */
	size_t first, count; /* its walls, in the search's list */
	double distance;     /* from the middle to the nearest wall */
	bool inside;
};

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

static struct geo_walls walls_of(const struct search *search, const struct cell *cell)
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
static int look(struct search *search, struct cell *cell, const struct cell *outer)
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

/* No circle with its centre in the cell is larger: the distance falls at most as fast as one walks.
 */
static double plain_bound(const struct cell *cell)
{
	return sqrt(2) * cell->half + (cell->inside ? cell->distance : -cell->distance);
}

/* The mean of the distances to two walls at the corner where it is largest. */
static double mean_bound(const struct cell *cell, const struct geo_wall *a,
			 const struct geo_wall *b)
{
	double most = 0;
	for (int corner = 0; corner < 4; corner++) {
		double x = cell->x + (corner & 1 ? cell->half : -cell->half);
		double y = cell->y + (corner & 2 ? cell->half : -cell->half);
		double sum = sqrt(geo_wall_square(a, x, y)) + sqrt(geo_wall_square(b, x, y));
		most = fmax(most, sum / 2);
	}
	return most;
}

static struct geo_sight nearest_of(const struct geo_walls *walls, struct geo_vector at)
{
	const struct geo_wall *nearest = geo_walls_at(walls, 0);
	double least = INFINITY;
	for (size_t i = 0; i < walls->count; i++) {
		double square = geo_wall_square(geo_walls_at(walls, i), at.x, at.y);
		if (square < least) {
			least = square;
			nearest = geo_walls_at(walls, i);
		}
	}
	return geo_wall_see(nearest, at);
}

/* The bound by the nearest wall and the one that faces it best. */
static double facing_bound(const struct search *search, const struct cell *cell)
{
	struct geo_vector middle = {cell->x, cell->y};
	struct geo_walls walls = walls_of(search, cell);
	struct geo_sight first = nearest_of(&walls, middle);
	double least = INFINITY;
	const struct geo_wall *facing = NULL;
	for (size_t i = 0; i < walls.count; i++) {
		const struct geo_wall *wall = geo_walls_at(&walls, i);
		double left = least - first.distance;
		if (left <= 0 || geo_wall_square(wall, middle.x, middle.y) >= left * left)
			continue;
		struct geo_sight other = geo_wall_see(wall, middle);
		double tx = first.away.x + other.away.x, ty = first.away.y + other.away.y;
		double turn = sqrt(tx * tx + ty * ty);
		double guess = first.distance + other.distance + sqrt(2) * cell->half * turn;
		if (guess < least) {
			least = guess;
			facing = other.wall;
		}
	}
	return facing ? mean_bound(cell, first.wall, facing) : INFINITY;
}

/* The distance from a wall's line, positive on its left. */
static double side_distance(const struct geo_wall *wall, double x, double y)
{
	return (wall->dx * (y - wall->y) - wall->dy * (x - wall->x)) * sqrt(wall->inverse);
}

/* Whether all that lies within `reach` of a point has its nearest point inside the wall. */
static bool runs_through(const struct geo_wall *wall, double x, double y, double reach)
{
	double length = wall->dx * wall->dx + wall->dy * wall->dy;
	double along = (x - wall->x) * wall->dx + (y - wall->y) * wall->dy;
	double margin = reach * sqrt(length);
	return along >= margin && length - along >= margin;
}

/*
 * The bound where a cell is crossed by two walls from side to side, as in a sliver: what is inside
 * has one combination of sides, where the sum of both distances is a linear function.
 */
static double strip_bound(const struct search *search, const struct cell *cell)
{
	double reach = sqrt(2) * cell->half, most = 0;
	const struct geo_wall *hit[2];
	struct geo_walls walls = walls_of(search, cell);
	int hits = 0;
	for (size_t i = 0; i < walls.count; i++) {
		const struct geo_wall *wall = geo_walls_at(&walls, i);
		if (geo_wall_square(wall, cell->x, cell->y) > reach * reach)
			continue;
		if (hits == 2 || !runs_through(wall, cell->x, cell->y, reach))
			return INFINITY;
		hit[hits++] = wall;
	}
	if (hits < 2)
		return INFINITY;
	bool same = (side_distance(hit[0], cell->x, cell->y) > 0) ==
		    (side_distance(hit[1], cell->x, cell->y) > 0);
	double sign = same == cell->inside ? 1 : -1;
	for (int corner = 0; corner < 4; corner++) {
		double x = cell->x + (corner & 1 ? cell->half : -cell->half);
		double y = cell->y + (corner & 2 ? cell->half : -cell->half);
		double sum = side_distance(hit[0], x, y) + sign * side_distance(hit[1], x, y);
		most = fmax(most, fabs(sum) / 2);
	}
	return most;
}

/*
 * Climbs from the middle of a cell that may well hold the best place, so that its bound is met from
 * below at once.
 */
static void offer_climb(struct search *search, const struct cell *cell)
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

static bool can_be_dropped(struct search *search, const struct cell *cell)
{
	if (is_done(search, plain_bound(cell)))
		return true;
	if (is_done(search, strip_bound(search, cell)))
		return true;
	if (!cell->inside)
		return false;
	double bound = facing_bound(search, cell);
	if (is_done(search, bound))
		return true;
	offer_climb(search, cell);
	return is_done(search, fmin(bound, plain_bound(cell)));
}

static void sort_by_bound(struct cell cells[4])
{
	for (int i = 1; i < 4; i++) {
		struct cell cell = cells[i];
		int k = i;
		for (; k > 0 && plain_bound(&cells[k - 1]) < plain_bound(&cell); k--)
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

static int divide(struct search *search, const struct cell *cell)
{
	spend_cells(search);
	struct cell quarters[4];
	size_t mark = search->list_count;
	double half = cell->half / 2;
	for (int i = 0; i < 4; i++) {
		quarters[i] = (struct cell){.x = cell->x + (i & 1 ? half : -half),
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
static int search_cells(struct search *search, const struct cell *root)
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
			left = fmin(left, p.x);
			right = fmax(right, p.x);
			bottom = fmin(bottom, p.y);
			top = fmax(top, p.y);
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
static int look_at_all(struct search *search, struct frame frame, struct cell *root)
{
	struct cell far = {.x = -0.618033988749895 * (frame.width + 16),
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
	struct cell root = {0};
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
