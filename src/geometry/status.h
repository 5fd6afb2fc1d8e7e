/* status.h - the runs of edges that a sweep line meets at one time, ordered along it. */
#ifndef GEOMETRY_STATUS_H
#define GEOMETRY_STATUS_H

#include "geometry/arrangement.h"

/*
 * A run of edges, each to the right of the one before, without a branch. In a treap (C. R. Aragon,
 * R. G. Seidel, "Randomized search trees", 1989), and in a list from the lowest up.
 */
struct status_run {
	uint32_t edge; /* the one that the sweep line meets, or one before it */
	uint32_t parent, left, right, below, above;
	uint32_t rank; /* no smaller than that of its children */
};

struct status {
	const struct geo_arrangement *arrangement;
	struct status_run *runs; /* GEO_NONE stands for none */
	uint32_t count, capacity, root, lowest, free;
	uint64_t seed;
};

/* Makes an empty one. */
void status_init(struct status *status, const struct geo_arrangement *arrangement);
void status_finish(struct status *status);

/* The highest run strictly below a point, once the sweep line has reached that point. */
uint32_t status_below(struct status *status, struct cutlint_point at);

/* Puts a run that starts with an edge straight above another (GEO_NONE: lowest of all). Returns
 * it, or GEO_NONE where memory ran out. */
uint32_t status_insert(struct status *status, uint32_t below, uint32_t edge);

void status_remove(struct status *status, uint32_t run);

#endif
