/* neck-view.h - what a corner sees in a part of its normal cone: the candidates there. */
#ifndef GEOMETRY_NECK_VIEW_H
#define GEOMETRY_NECK_VIEW_H

#include "geometry/neck-candidate.h"

/* A cone has this many parts at most. */
#define NECK_PARTS_MAX 16

/* Candidates that are kept while a part is looked at. */
#define NECK_FOUND_MAX 64

struct neck_view {
	const struct neck_walls *walls;
	const struct geo_neck_search *search;
	struct neck_candidates *out;
	uint32_t corner; /* the half-edge at whose start we stand */
	uint32_t face;
	struct cutlint_point at;
	struct geo_vector back, on;  /* along the edges that meet in the corner */
	struct geo_vector low, high; /* directions: the part's sides, clockwise first */
	struct geo_vector middle;    /* of length 1 */
	double spread; /* a little more than the tangent of the angle between middle and sides */
	double widen;  /* 1 / cos of the part's angle */
	struct neck_candidate found[NECK_FOUND_MAX];
	struct geo_vector feet[NECK_FOUND_MAX];
	uint32_t found_count;
	double reach; /* no foot in the part can be farther */
	/* The nearest wall in each part of this corner; what one hides is no candidate. */
	struct geo_vector blocks[NECK_PARTS_MAX];
	uint32_t part;
	double block2;    /* distance squared of that in the part being looked at */
	uint32_t nearest; /* the half-edge that was nearest in the last part, or GEO_NONE */
	bool failed;
};

/* Starts at a corner, with no part looked at. */
void neck_view_begin(struct neck_view *view, uint32_t half);

/*
 * Looks at the next part, between two directions at most 45° off one axis and PART apart, as far
 * as `reach`, and adds the candidates in it. Sets failed where memory ran out.
 */
void neck_view_part(struct neck_view *view, struct geo_vector low, struct geo_vector high,
		    double reach);

#endif
