/* neck-walk.h - along the medial axis from a candidate, to learn whether the width rises. */
#ifndef GEOMETRY_NECK_WALK_H
#define GEOMETRY_NECK_WALK_H

#include "geometry/neck-probe.h"

/* Widths that differ by less, in nm, are one: four rounded ends tilt a wall by no more. */
#define NECK_SAME 4.0

enum neck_outcome {
	NECK_RISES,
	NECK_FALLS, /* or ends, or comes back to where it began */
	NECK_MET    /* reached a candidate that comes first */
};

struct neck_side {
	enum neck_outcome outcome;
	double length;         /* of the axis up to the end of the stretch */
	double flat;           /* of the axis along which the width stays the same */
	struct geo_vector end; /* on the sheet */
	bool closed;           /* came back to where it began */
	bool forked;           /* there is a junction before the width rises */
	bool stopped;          /* not followed to its end */
	bool fell;             /* ended where the width has fallen, and not where the axis ends */
};

struct neck_walker;

/* All must outlive the walker. NULL without memory. */
struct neck_walker *neck_walker_create(struct neck_walls *walls,
				       const struct geo_neck_search *search,
				       struct neck_candidates *candidates);
void neck_walker_destroy(struct neck_walker *walker);

/*
 * Walks from a candidate to one side (0: with feature a on the left; 1: with b on the left). Marks
 * candidates that it passes and outlasts as dead. 0, or -1 where memory ran out.
 */
int neck_walk(struct neck_walker *walker, uint32_t candidate, int side, struct neck_side *out);

/* Goes on from where the last walk fell, through all that is narrower: to where the axis ends,
 * forks or meets another candidate, or up to a length from the candidate on. */
int neck_walk_on(struct neck_walker *walker, double length, struct neck_side *out);

/* The feet at a distance along the axis, at most the side's length. 0, or -1. */
int neck_walk_feet(struct neck_walker *walker, uint32_t candidate, int side, double distance,
		   struct geo_foot feet[2]);

#endif
