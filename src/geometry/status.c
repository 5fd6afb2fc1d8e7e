#include "geometry/status.h"

#include <stdlib.h>

#include "geometry/predicates.h"
#include "geometry/wide.h"

void status_init(struct status *status, const struct geo_arrangement *arrangement)
{
	*status = (struct status){
		.arrangement = arrangement, .root = GEO_NONE, .lowest = GEO_NONE, .free = GEO_NONE};
}

void status_finish(struct status *status)
{
	free(status->runs);
	*status = (struct status){0};
}

/* Moves a run on to the edge that does not end before the point. */
static const struct geo_edge *reach(const struct status *status, struct status_run *run,
				    struct cutlint_point at)
{
	const struct geo_arrangement *arrangement = status->arrangement;
	const struct geo_edge *edge = &arrangement->edges[run->edge];
	while (geo_order(arrangement->nodes[edge->to], at) < 0) {
		run->edge = arrangement->next[2 * run->edge] / 2;
		edge = &arrangement->edges[run->edge];
	}
	return edge;
}

uint32_t status_below(struct status *status, struct cutlint_point at)
{
	const struct cutlint_point *nodes = status->arrangement->nodes;
	uint32_t best = GEO_NONE;
	for (uint32_t run = status->root; run != GEO_NONE;) {
		const struct geo_edge *edge = reach(status, &status->runs[run], at);
		if (geo_orientation(nodes[edge->from], nodes[edge->to], at) > 0) {
			best = run;
			run = status->runs[run].right;
		} else {
			run = status->runs[run].left;
		}
	}
	return best;
}

static uint32_t take_run(struct status *status)
{
	uint32_t run = status->free;
	if (run != GEO_NONE) {
		status->free = status->runs[run].above;
		return run;
	}
	if (status->count == status->capacity) {
		uint32_t capacity = status->capacity * 2 + 64;
		struct status_run *runs = realloc(status->runs, capacity * sizeof(*runs));
		if (!runs)
			return GEO_NONE;
		status->runs = runs;
		status->capacity = capacity;
	}
	return status->count++;
}

/* The same numbers each time, so that two equal inputs cost the same (SplitMix64, as published by
 * S. Vigna in the public domain). */
static uint32_t next_rank(struct status *status)
{
	uint64_t z = status->seed += 0x9e3779b97f4a7c15u;
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
	z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
	return (uint32_t)(z >> 32);
}

static void replace_child(struct status *status, uint32_t parent, uint32_t old, uint32_t child)
{
	if (parent == GEO_NONE)
		status->root = child;
	else if (status->runs[parent].left == old)
		status->runs[parent].left = child;
	else
		status->runs[parent].right = child;
	if (child != GEO_NONE)
		status->runs[child].parent = parent;
}

/* Turns the tree so that a run comes to lie over its parent. */
static void rotate_up(struct status *status, uint32_t run)
{
	struct status_run *runs = status->runs;
	uint32_t parent = runs[run].parent;
	replace_child(status, runs[parent].parent, parent, run);
	uint32_t *moved = runs[parent].left == run ? &runs[run].right : &runs[run].left;
	if (runs[parent].left == run)
		runs[parent].left = *moved;
	else
		runs[parent].right = *moved;
	if (*moved != GEO_NONE)
		runs[*moved].parent = parent;
	*moved = parent;
	runs[parent].parent = run;
}

/* Hangs a run as a leaf where it belongs: right of the one below, or left of the one above, one of
 * which has room there. */
static void hang(struct status *status, uint32_t run, uint32_t below, uint32_t above)
{
	struct status_run *runs = status->runs;
	if (below != GEO_NONE && runs[below].right == GEO_NONE) {
		runs[below].right = run;
		runs[run].parent = below;
	} else if (above != GEO_NONE) {
		runs[above].left = run;
		runs[run].parent = above;
	} else {
		status->root = run;
	}
}

uint32_t status_insert(struct status *status, uint32_t below, uint32_t edge)
{
	uint32_t run = take_run(status);
	if (run == GEO_NONE)
		return GEO_NONE;
	struct status_run *runs = status->runs;
	uint32_t above = below == GEO_NONE ? status->lowest : runs[below].above;
	runs[run] = (struct status_run){edge,  GEO_NONE, GEO_NONE,         GEO_NONE,
					below, above,    next_rank(status)};
	if (above != GEO_NONE)
		runs[above].below = run;
	if (below != GEO_NONE)
		runs[below].above = run;
	else
		status->lowest = run;
	hang(status, run, below, above);
	while (runs[run].parent != GEO_NONE && runs[runs[run].parent].rank < runs[run].rank)
		rotate_up(status, run);
	return run;
}

void status_remove(struct status *status, uint32_t run)
{
	struct status_run *runs = status->runs;
	while (runs[run].left != GEO_NONE && runs[run].right != GEO_NONE)
		rotate_up(status, runs[runs[run].left].rank > runs[runs[run].right].rank
					  ? runs[run].left
					  : runs[run].right);
	replace_child(status, runs[run].parent, run,
		      runs[run].left != GEO_NONE ? runs[run].left : runs[run].right);
	if (runs[run].below != GEO_NONE)
		runs[runs[run].below].above = runs[run].above;
	else
		status->lowest = runs[run].above;
	if (runs[run].above != GEO_NONE)
		runs[runs[run].above].below = runs[run].below;
	runs[run].above = status->free;
	status->free = run;
}
