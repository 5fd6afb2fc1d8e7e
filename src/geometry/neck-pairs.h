/* neck-pairs.h - candidates by the pair of features between which they lie. */
#ifndef GEOMETRY_NECK_PAIRS_H
#define GEOMETRY_NECK_PAIRS_H

#include "geometry/neck-candidate.h"

struct neck_pairs {
	struct neck_candidates *candidates;
	uint32_t *table; /* their numbers; open addressing */
	uint32_t mask;
	uint8_t *marks; /* a bit for each of 8 × as many hashes: of most pairs it is not set */
};

/*
 * Borrows the candidates, which must not change their number or order. Of two with the same
 * features the one that comes later (neck_candidate_compare) is marked as dead. 0, or -1 where
 * memory ran out; finish in either case.
 */
int neck_pairs_init(struct neck_pairs *pairs, struct neck_candidates *candidates);
void neck_pairs_finish(struct neck_pairs *pairs);

/* The candidate between two features, in either order; or GEO_NONE. */
uint32_t neck_pairs_find(const struct neck_pairs *pairs, neck_feature a, neck_feature b);

#endif
