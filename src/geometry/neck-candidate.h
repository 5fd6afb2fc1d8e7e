/* neck-candidate.h - pairs of wall features that face each other across an empty disk. */
#ifndef GEOMETRY_NECK_CANDIDATE_H
#define GEOMETRY_NECK_CANDIDATE_H

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

/* By width, then by features: negative where a comes first. Of two that meet the first wins. */
int neck_candidate_compare(const struct neck_candidate *a, const struct neck_candidate *b);

/* False where memory ran out. */
bool neck_candidates_add(struct neck_candidates *candidates, const struct neck_candidate *item);

/* Feet of two features, as seen from the start of feature a's half-edge. */
void neck_feet(const struct neck_walls *walls, const struct neck_candidate *candidate,
	       struct cutlint_point *origin, struct geo_vector *p, struct geo_vector *q);

/* Whether no wall of the face enters the disk on both feet. */
bool neck_disk_is_empty(const struct neck_walls *walls, const struct neck_candidate *candidate);

#endif
