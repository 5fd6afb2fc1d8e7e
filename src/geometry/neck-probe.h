/* neck-probe.h - pairs of wall features that face each other across an empty disk. */
#ifndef GEOMETRY_NECK_PROBE_H
#define GEOMETRY_NECK_PROBE_H

#include "geometry/neck-walls.h"

/*
 * The feet are the nearest points of the two features. Of the edges of a possible strip it is two
 * edges, and the feet lie where the middle of `a` looks straight across.
 */
struct neck_candidate {
	double width;
	neck_feature a, b; /* a is a corner, but in a strip; of two corners a is the lower */
	bool dead;         /* reached from another one that it can't outlast */
};

struct neck_candidates {
	struct neck_candidate *items;
	uint32_t count, room;
};

/* Candidates of all walls up to a width, in no order, each at least once. 0, or -1. */
int neck_probe(const struct neck_walls *walls, const struct geo_neck_search *search,
	       struct neck_candidates *out);

/* Feet of two features, as seen from the start of feature a's half-edge. */
void neck_feet(const struct neck_walls *walls, const struct neck_candidate *candidate,
	       struct cutlint_point *origin, struct geo_vector *p, struct geo_vector *q);

#endif
