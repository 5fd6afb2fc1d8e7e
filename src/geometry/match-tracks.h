/* match-tracks.h - chains measured along their length, and their sides in an index. */
#ifndef GEOMETRY_MATCH_TRACKS_H
#define GEOMETRY_MATCH_TRACKS_H

#include "geometry/index.h"
#include "geometry/lines.h"

/*
 * Sides of length zero are left out everywhere: a chain's sides are numbered on from
 * sides[chain].first, and follow each other.
 */
struct geo_side {
	uint32_t vertex, chain;
	double at, length; /* arc length from the chain's first vertex; nm */
};

struct geo_track {
	uint32_t first, count; /* its sides */
	double length;
	bool closed;
};

struct geo_tracks {
	struct geo_track *chains;
	struct geo_side *sides;
	struct geo_segment *segments; /* of each side */
	struct geo_index *index;      /* of the distinct ones among them */
	struct geo_segment *distinct;
	uint32_t *side_of; /* of each distinct segment: the first side that is the same */
	uint32_t chain_count, side_count, distinct_count;
};

/* 0, or -1 where memory ran out; finish it in either case. */
int geo_tracks_init(struct geo_tracks *tracks, const struct geo_lines *lines);
void geo_tracks_finish(struct geo_tracks *tracks);

static inline struct geo_vector geo_vector_of(struct cutlint_point p)
{
	return (struct geo_vector){p.x, p.y};
}

/* The place `along` nm from the start of a side. */
struct geo_vector geo_side_at(const struct geo_tracks *tracks, uint32_t side, double along);

/* How far along a side, from 0 to its length, its nearest point to a place lies. */
double geo_side_nearest(const struct geo_tracks *tracks, uint32_t side, struct geo_vector place);

double geo_distance(struct geo_vector a, struct geo_vector b);

#endif
