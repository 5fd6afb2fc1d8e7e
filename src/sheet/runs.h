/*
 * runs.h - how many runs of equal paint a set of filled shapes makes, in the order of the file.
 *
 * A segment tree over the shapes: each node holds the first and the last paint of its stretch and
 * the number of runs, so that putting a shape in or taking it out costs the logarithm of their
 * number.
 */
#ifndef SHEET_RUNS_H
#define SHEET_RUNS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "cutlint/model.h"

struct run_node {
	uint32_t first, last; /* paints, by number */
	uint32_t runs;
};

struct runs {
	struct run_node *nodes; /* node i has the children 2i and 2i + 1 */
	const uint32_t *paints; /* of each shape: a number, equal for equal paints */
	uint32_t leaves;
};

/* An empty set over the design's shapes. 0, or -1 where memory ran out. */
int runs_init(struct runs *runs, struct arena *arena, const struct cutlint_design *design);

/* Puts a shape in, or takes it out. */
void runs_set(struct runs *runs, uint32_t shape, bool present);

static inline uint32_t runs_count(const struct runs *runs)
{
	return runs->nodes[1].runs;
}

#endif
