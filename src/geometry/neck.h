/*
 * neck.h - where material is locally narrowest.
 *
 * A neck is a pair of wall points p, q whose diametral disk lies in one kept face and is empty,
 * with |pq| a local minimum of distance, and such that, walking the medial axis both ways from the
 * middle of pq, the width rises by more than tau before it falls below |pq|: an index-1 critical
 * point of the distance function, with persistence.
 */
#ifndef GEOMETRY_NECK_H
#define GEOMETRY_NECK_H

#include <stdbool.h>
#include <stdint.h>

#include "geometry/arrangement.h"

enum geo_neck_kind {
	GEO_NECK,   /* narrow between two wider places */
	GEO_STRIP,  /* parallel walls, but the width does not rise again at one end */
	GEO_CONTACT /* two boundaries of a kept face meet in a node: width 0 */
};

struct geo_foot {
	struct geo_vector at;
	uint32_t half_edge; /* the wall, with the kept face on its left */
};

struct geo_neck {
	enum geo_neck_kind kind;
	uint32_t face;
	struct geo_foot feet[2];
	double width;  /* |pq| in nm */
	double length; /* of the medial axis along which the width stays below width + tau, nm;
			  0 for an isolated minimum */
	struct geo_vector ends[2]; /* middles of the disks at both ends of that stretch */
};

struct geo_neck_search {
	double limit;                /* necks up to this width, nm */
	double tau_least, tau_share; /* tau = max(tau_least, tau_share × width) */
	const bool *kept;            /* for each face: whether its necks count */
};

struct geo_necks {
	struct geo_neck *items; /* ordered by face, then by feet: the same for the same input */
	uint32_t count;
};

/* Returns 0, or -1 where memory ran out. Free with geo_necks_finish. */
int geo_necks_find(const struct geo_arrangement *arrangement, const struct geo_neck_search *search,
		   struct geo_necks *out);
void geo_necks_finish(struct geo_necks *necks);

#endif
