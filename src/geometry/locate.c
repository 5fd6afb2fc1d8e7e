/*
 * Runs of edges, each to the right of the one before, in a tree of boxes packed by the columns in
 * which they lie (S. T. Leutenegger, M. A. Lopez, J. Edgington, "STR: a simple and efficient
 * algorithm for R-tree packing", 1997), searched downwards from a place.
 */
#include "geometry/locate.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/box.h"
#include "geometry/predicates.h"
#include "geometry/wide.h"

#define RUN_EDGES   16
#define FANOUT      16
#define MOST_LEVELS 9 /* 16^8 runs are more than there are edges */

struct run {
	struct geo_box box;
	uint32_t edge;
};

struct geo_locator {
	struct run *runs;
	struct geo_box *boxes; /* level by level, each over FANOUT of the one before, or of runs */
	uint32_t run_count, level_count;
	uint32_t first[MOST_LEVELS], count[MOST_LEVELS]; /* of each level, in boxes */
};

struct search {
	const struct geo_arrangement *arrangement;
	struct geo_vector at;
	uint32_t best; /* the highest edge so far that lies below */
	double floor;  /* nothing lower than this can be better */
	bool on_edge;
};

/* The edge to the right of this one where nothing else meets them there, else GEO_NONE. */
static uint32_t edge_after(const struct geo_arrangement *arrangement, uint32_t edge)
{
	uint32_t half = arrangement->next[2 * edge];
	return !(half & 1) && arrangement->next[half ^ 1] == 2 * edge + 1 ? half / 2 : GEO_NONE;
}

static bool starts_run(const struct geo_arrangement *arrangement, uint32_t edge)
{
	uint32_t half = arrangement->next[2 * edge + 1];
	return !(half & 1) || arrangement->next[half ^ 1] != 2 * edge;
}

static struct geo_box edge_box(const struct geo_arrangement *arrangement, uint32_t edge)
{
	return geo_box_of(arrangement->nodes[arrangement->edges[edge].from],
			  arrangement->nodes[arrangement->edges[edge].to]);
}

/* Cuts one run into short ones; counts only where `runs` is NULL. */
static uint32_t cut_run(const struct geo_arrangement *arrangement, uint32_t edge, struct run *runs)
{
	uint32_t count = 0;
	for (uint32_t step = 0; edge != GEO_NONE; step++, edge = edge_after(arrangement, edge)) {
		count += step % RUN_EDGES == 0;
		if (!runs)
			continue;
		struct geo_box box = edge_box(arrangement, edge);
		if (step % RUN_EDGES == 0)
			runs[count - 1] = (struct run){box, edge};
		else
			geo_box_join(&runs[count - 1].box, box);
	}
	return count;
}

static uint32_t cut_runs(const struct geo_arrangement *arrangement, struct run *runs)
{
	uint32_t count = 0;
	for (uint32_t edge = 0; edge < arrangement->edge_count; edge++)
		if (starts_run(arrangement, edge))
			count += cut_run(arrangement, edge, runs ? runs + count : NULL);
	return count;
}

static int64_t column(const struct run *run)
{
	return (int64_t)run->box.left + run->box.right;
}

static int64_t row(const struct run *run)
{
	return (int64_t)run->box.low + run->box.high;
}

static int by_column(const void *a, const void *b)
{
	return (column(a) > column(b)) - (column(a) < column(b));
}

static int by_row(const void *a, const void *b)
{
	return (row(a) > row(b)) - (row(a) < row(b));
}

static void sort_tiles(struct run *runs, uint32_t count)
{
	qsort(runs, count, sizeof(*runs), by_column);
	uint32_t tile = FANOUT * (uint32_t)ceil(sqrt(count / (double)FANOUT));
	for (uint32_t from = 0; from < count; from += tile)
		qsort(runs + from, count - from < tile ? count - from : tile, sizeof(*runs),
		      by_row);
}

static void pack_level(struct geo_locator *locator, uint32_t level)
{
	uint32_t below = level ? locator->count[level - 1] : locator->run_count;
	for (uint32_t i = 0; i < below; i++) {
		struct geo_box box = level ? locator->boxes[locator->first[level - 1] + i]
					   : locator->runs[i].box;
		struct geo_box *over = &locator->boxes[locator->first[level] + i / FANOUT];
		if (i % FANOUT == 0)
			*over = box;
		else
			geo_box_join(over, box);
	}
}

static int pack(struct geo_locator *locator)
{
	uint32_t total = 0, count = locator->run_count;
	do {
		count = count / FANOUT + (count % FANOUT > 0);
		locator->first[locator->level_count] = total;
		locator->count[locator->level_count++] = count;
		total += count;
	} while (count > 1);
	locator->boxes = malloc(total * sizeof(*locator->boxes) + 1);
	if (!locator->boxes)
		return -1;
	for (uint32_t level = 0; level < locator->level_count; level++)
		pack_level(locator, level);
	return 0;
}

struct geo_locator *geo_locator_create(const struct geo_arrangement *arrangement)
{
	struct geo_locator *locator = calloc(1, sizeof(*locator));
	if (!locator)
		return NULL;
	locator->run_count = cut_runs(arrangement, NULL);
	locator->runs = malloc(locator->run_count * sizeof(*locator->runs) + 1);
	if (!locator->runs)
		goto out;
	cut_runs(arrangement, locator->runs);
	sort_tiles(locator->runs, locator->run_count);
	if (!pack(locator))
		return locator;
out:
	geo_locator_destroy(locator);
	return NULL;
}

void geo_locator_destroy(struct geo_locator *locator)
{
	if (!locator)
		return;
	free(locator->runs);
	free(locator->boxes);
	free(locator);
}

/* The order of x, then y. */
static bool before(struct geo_vector at, struct cutlint_point point)
{
	return at.x < point.x || (at.x == point.x && at.y < point.y);
}

/* Of two edges that one upright line meets, whether the first lies higher. They don't cross. */
static bool higher(const struct geo_arrangement *arrangement, uint32_t a, uint32_t b)
{
	const struct cutlint_point *nodes = arrangement->nodes;
	const struct geo_edge *edge = &arrangement->edges[a], *other = &arrangement->edges[b];
	if (geo_order(nodes[edge->from], nodes[other->from]) < 0)
		return !higher(arrangement, b, a);
	int side = geo_orientation(nodes[other->from], nodes[other->to], nodes[edge->from]);
	if (!side)
		side = geo_orientation(nodes[other->from], nodes[other->to], nodes[edge->to]);
	return side > 0;
}

static double height_at(const struct geo_arrangement *arrangement, uint32_t edge, double x)
{
	struct cutlint_point from = arrangement->nodes[arrangement->edges[edge].from];
	struct cutlint_point to = arrangement->nodes[arrangement->edges[edge].to];
	if (from.x == to.x)
		return from.y;
	return from.y + (x - from.x) * ((double)geo_dy(from, to) / (double)geo_dx(from, to));
}

static void look_at_edge(struct search *search, uint32_t edge)
{
	const struct geo_arrangement *arrangement = search->arrangement;
	int side = geo_side(arrangement->nodes[arrangement->edges[edge].from],
			    arrangement->nodes[arrangement->edges[edge].to], search->at);
	if (side < 0)
		return;
	if (side > 0 && search->best != GEO_NONE && !higher(arrangement, edge, search->best))
		return;
	search->on_edge = side == 0;
	search->best = edge;
	search->floor = height_at(arrangement, edge, search->at.x) - 1;
}

/* At most one edge of a run lies straight below or above the place. */
static void look_at_run(struct search *search, uint32_t edge)
{
	const struct geo_arrangement *arrangement = search->arrangement;
	for (uint32_t step = 0; step < RUN_EDGES && edge != GEO_NONE; step++) {
		const struct geo_edge *ends = &arrangement->edges[edge];
		if (before(search->at, arrangement->nodes[ends->from]))
			return;
		if (before(search->at, arrangement->nodes[ends->to])) {
			look_at_edge(search, edge);
			return;
		}
		edge = edge_after(arrangement, edge);
	}
}

static bool may_hold_better(const struct search *search, struct geo_box box)
{
	return box.left <= search->at.x && search->at.x <= box.right && box.low <= search->at.y &&
	       box.high >= search->floor;
}

static struct geo_box box_at(const struct geo_locator *locator, uint32_t level, uint32_t at)
{
	return level ? locator->boxes[locator->first[level - 1] + at] : locator->runs[at].box;
}

/* Level 0 holds the runs themselves. The higher a box reaches, the sooner it is looked at. */
static void look_at(struct search *search, const struct geo_locator *locator, uint32_t level,
		    uint32_t at)
{
	if (search->on_edge || !may_hold_better(search, box_at(locator, level, at)))
		return;
	if (!level) {
		look_at_run(search, locator->runs[at].edge);
		return;
	}
	uint32_t children[FANOUT], count = 0;
	uint32_t below = level > 1 ? locator->count[level - 2] : locator->run_count;
	for (uint32_t child = at * FANOUT; child < below && child < (at + 1) * FANOUT; child++) {
		struct geo_box box = box_at(locator, level - 1, child);
		if (!may_hold_better(search, box))
			continue;
		uint32_t place = count++;
		for (; place && box_at(locator, level - 1, children[place - 1]).high < box.high;
		     place--)
			children[place] = children[place - 1];
		children[place] = child;
	}
	for (uint32_t i = 0; i < count; i++)
		look_at(search, locator, level - 1, children[i]);
}

uint32_t geo_face_at(const struct geo_arrangement *arrangement, struct geo_vector at)
{
	struct search search = {arrangement, geo_fine(at), GEO_NONE, -INFINITY, false};
	if (arrangement->locator->run_count)
		look_at(&search, arrangement->locator, arrangement->locator->level_count, 0);
	return search.best == GEO_NONE ? 0 : arrangement->face[2 * search.best];
}
