/* match-walk.h - walks along two chains at once, as long as they stay together. */
#ifndef GEOMETRY_MATCH_WALK_H
#define GEOMETRY_MATCH_WALK_H

#include "geometry/match-tracks.h"

/* One of the two who walk. */
struct geo_walker {
	uint32_t side;
	double along;     /* from the side's start, in the chain's own direction */
	int way;          /* +1 in the chain's direction, -1 against it */
	double travelled; /* nm so far */
	double left;      /* how far it may still go */
};

struct geo_walk {
	const struct geo_tracks *tracks;
	struct geo_walker a, b;
	double together; /* how far both may still go in sum */
	double apart;    /* the limit */
	double most;     /* the largest distance between the walkers so far */
};

/*
 * Walks until the chains part, one of them ends, or a limit is reached. Both start within `apart`
 * of each other. The way is a monotone path in the free space of the two curves (H. Alt and M.
 * Godau, "Computing the Fréchet distance between two polygonal curves", 1995), so that `most`
 * bounds the Fréchet distance of the two stretches from above. The path is chosen step by step: to
 * the vertex that comes first, opposite its nearest point.
 */
void geo_walk_on(struct geo_walk *walk);

/*
 * Where one has gone all round a closed chain, lets the other one, on a closed chain too, finish
 * its own round, if it stays within `apart` of the place where the first one stands.
 */
void geo_walk_round(struct geo_walk *walk);

#endif
