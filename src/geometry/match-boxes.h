/* match-boxes.h - which chains may be the outer edge of a stroke, by their boxes alone. */
#ifndef GEOMETRY_MATCH_BOXES_H
#define GEOMETRY_MATCH_BOXES_H

#include "geometry/box.h"
#include "geometry/match-tracks.h"

/* Boxes of closed chains with sides, in cells of a grid by their corners of least x and y. */
struct geo_boxes {
	const struct geo_tracks *tracks;
	struct geo_box *of; /* of each chain */
	struct geo_box_place {
		uint64_t cell;
		uint32_t chain;
	} * places; /* by cell */
	uint32_t count;
	double reach; /* the outer edge goes no farther beyond the inner one; nm */
};

/* 0, or -1 where memory ran out; finish it in either case. */
int geo_boxes_init(struct geo_boxes *boxes, const struct geo_tracks *tracks, double reach);
void geo_boxes_finish(struct geo_boxes *boxes);

/* Whether the outer box holds the inner chain's first vertex, and goes no farther than it may. */
bool geo_boxes_fit(const struct geo_boxes *boxes, uint32_t outer, uint32_t inner);

/* Whether any other chain's box does. */
bool geo_boxes_any_fits(const struct geo_boxes *boxes, uint32_t inner);

#endif
