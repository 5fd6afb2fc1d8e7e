/*
 * Two lines that go all the way through a strip cross within it only if their order at its far side
 * is not the one at its near side. So in a crowded cell the segments are sorted by where they enter
 * the strip that the cell lies in, and only those are looked at that change places: an insertion
 * sort does as many steps as there are inversions (D. E. Knuth, "Sorting and searching", 5.2.1).
 */
#include "geometry/crossings.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "geometry/box.h"
#include "geometry/index-grid.h"
#include "geometry/least.h"
#include "geometry/predicates.h"
#include "geometry/wide.h"

/* Up to this many segments, all pairs cost less than sorting. */
#define CROWD 16

/* Wider than the rounding of a cell's sides and of where its segments enter it, in nm. */
#define MARGIN 1.0

/*
 * A place is worked out as y + (at - x) * (dy / dx) from numbers below 2^33; each of the five
 * roundings errs by 2^-53 of a value below 2^33, so by less than 2^-17 together.
 */
#define UNSURE 0x1p-16

/* A segment that goes all the way through a strip. */
struct through {
	double enters, leaves;
	uint32_t segment;
};

struct cell_box {
	double left, top, right, bottom;
};

struct crowd {
	const struct geo_index *index;
	geo_visit_pair *visit;
	void *user;
	struct through *through; /* by where they enter */
	struct through *passed;  /* those so far, by where they leave */
	uint32_t *partial;       /* segments that end within the strip */
	uint32_t through_count, partial_count, capacity;
	bool stopped;
};

static bool share_an_end(const struct geo_segment *a, const struct geo_segment *b)
{
	return geo_same(a->from, b->from) || geo_same(a->from, b->to) || geo_same(a->to, b->from) ||
	       geo_same(a->to, b->to);
}

static void look_at_pair(struct crowd *crowd, uint32_t a, uint32_t b)
{
	const struct geo_segment *first = &crowd->index->segments[a];
	const struct geo_segment *second = &crowd->index->segments[b];
	if (!share_an_end(first, second) &&
	    geo_meet(first->from, first->to, second->from, second->to) == GEO_CROSS &&
	    !crowd->visit(crowd->user, a < b ? a : b, a < b ? b : a))
		crowd->stopped = true;
}

/* Most pairs in a cell lie in boxes apart. */
static void look_at_few(struct crowd *crowd, const uint32_t *segments, uint32_t count)
{
	struct geo_box boxes[CROWD];
	for (uint32_t i = 0; i < count; i++) {
		const struct geo_segment *segment = &crowd->index->segments[segments[i]];
		boxes[i] = geo_box_of(segment->from, segment->to);
		for (uint32_t j = 0; j < i && !crowd->stopped; j++)
			if (geo_boxes_meet(&boxes[i], &boxes[j]))
				look_at_pair(crowd, segments[i], segments[j]);
	}
}

static void look_at_all(struct crowd *crowd, const uint32_t *segments, uint32_t count)
{
	for (uint32_t i = 1; i < count; i++)
		for (uint32_t j = 0; j < i && !crowd->stopped; j++)
			look_at_pair(crowd, segments[i], segments[j]);
}

static int reserve(struct crowd *crowd, uint32_t count)
{
	if (count <= crowd->capacity)
		return 0;
	free(crowd->through);
	free(crowd->passed);
	free(crowd->partial);
	crowd->capacity = count + count / 2;
	crowd->through = malloc(crowd->capacity * sizeof(*crowd->through));
	crowd->passed = malloc(crowd->capacity * sizeof(*crowd->passed));
	crowd->partial = malloc(crowd->capacity * sizeof(*crowd->partial));
	return crowd->through && crowd->passed && crowd->partial ? 0 : -1;
}

/* A segment's ends with x along the strip's width: with x and y changed over where it lies flat. */
static struct geo_segment turned(const struct geo_segment *segment, bool flat)
{
	if (!flat)
		return *segment;
	return (struct geo_segment){{segment->from.y, segment->from.x},
				    {segment->to.y, segment->to.x}};
}

/* Divides a cell's segments into those that go all the way from `near` to `far`, and the others. */
static void divide(struct crowd *crowd, const uint32_t *refs, uint32_t count, bool flat,
		   double near, double far)
{
	crowd->through_count = crowd->partial_count = 0;
	for (uint32_t i = 0; i < count; i++) {
		struct geo_segment s = turned(&crowd->index->segments[refs[i]], flat);
		struct geo_box box = geo_box_of(s.from, s.to);
		if (box.left > near || box.right < far) {
			crowd->partial[crowd->partial_count++] = refs[i];
			continue;
		}
		double slope = ((double)s.to.y - s.from.y) / ((double)s.to.x - s.from.x);
		crowd->through[crowd->through_count++] =
			(struct through){s.from.y + (near - s.from.x) * slope,
					 s.from.y + (far - s.from.x) * slope, refs[i]};
	}
}

static int by_entry(const void *a, const void *b)
{
	const struct through *left = a, *right = b;
	return (left->enters > right->enters) - (left->enters < right->enters);
}

/* Looks at one segment against those that enter before it and do not surely leave before it. */
static void look_back(struct crowd *crowd, uint32_t at)
{
	const struct through *through = &crowd->through[at];
	for (uint32_t i = at;
	     i-- > 0 && crowd->through[i].enters >= through->enters - UNSURE && !crowd->stopped;)
		look_at_pair(crowd, through->segment, crowd->through[i].segment);
	uint32_t place = at;
	for (uint32_t i = at; i-- > 0 && crowd->passed[i].leaves >= through->leaves - UNSURE;) {
		if (!crowd->stopped)
			look_at_pair(crowd, through->segment, crowd->passed[i].segment);
		if (crowd->passed[i].leaves > through->leaves)
			place = i;
	}
	memmove(crowd->passed + place + 1, crowd->passed + place,
		(at - place) * sizeof(*crowd->passed));
	crowd->passed[place] = *through;
}

static void look_through(struct crowd *crowd)
{
	qsort(crowd->through, crowd->through_count, sizeof(*crowd->through), by_entry);
	for (uint32_t i = 0; i < crowd->through_count && !crowd->stopped; i++)
		look_back(crowd, i);
	look_at_all(crowd, crowd->partial, crowd->partial_count);
	for (uint32_t i = 0; i < crowd->partial_count; i++)
		for (uint32_t j = 0; j < crowd->through_count && !crowd->stopped; j++)
			look_at_pair(crowd, crowd->partial[i], crowd->through[j].segment);
}

/* The box on the sheet of a cell, straight or turned, with a margin. */
static struct cell_box box_of_cell(const struct index_grid *grid, uint32_t at)
{
	double left = grid->left + at % grid->columns * grid->width;
	double top = grid->top + at / grid->columns * grid->height;
	struct cell_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
	for (int i = 0; i < 4; i++) {
		struct geo_vector corner = {left + (i & 1) * grid->width,
					    top + (i >> 1) * grid->height};
		corner = index_turn(corner, grid->along, INDEX_STRAIGHT);
		box.left = geo_lesser(box.left, corner.x - MARGIN);
		box.top = geo_lesser(box.top, corner.y - MARGIN);
		box.right = geo_greater(box.right, corner.x + MARGIN);
		box.bottom = geo_greater(box.bottom, corner.y + MARGIN);
	}
	return box;
}

/* Takes the strip, upright or flat, that more segments go all the way through. */
static int look_at_cell(struct crowd *crowd, const struct index_grid *grid, uint32_t at)
{
	const struct index_cell *cell = &crowd->index->cells[grid->first_cell + at];
	const uint32_t *refs = crowd->index->refs + cell->first;
	if (cell->count <= CROWD) {
		look_at_few(crowd, refs, cell->count);
		return 0;
	}
	if (reserve(crowd, cell->count))
		return -1;
	struct cell_box box = box_of_cell(grid, at);
	divide(crowd, refs, cell->count, true, box.top, box.bottom);
	uint32_t upright = crowd->through_count;
	divide(crowd, refs, cell->count, false, box.left, box.right);
	if (upright > crowd->through_count)
		divide(crowd, refs, cell->count, true, box.top, box.bottom);
	look_through(crowd);
	return 0;
}

int geo_crossings_each(const struct geo_index *index, geo_visit_pair *visit, void *user)
{
	struct crowd crowd = {.index = index, .visit = visit, .user = user};
	int status = 0;
	for (uint32_t number = 0; number < index->grid_count && !status; number++) {
		const struct index_grid *grid = &index->grids[number];
		for (uint32_t at = 0; at < grid->columns * grid->rows && !status; at++)
			if (index->cells[grid->first_cell + at].count != INDEX_DIVIDED &&
			    !crowd.stopped)
				status = look_at_cell(&crowd, grid, at);
	}
	free(crowd.through);
	free(crowd.passed);
	free(crowd.partial);
	return status || !crowd.stopped ? status : 1;
}
