/* cuts.h - the chosen necks as cuts between stops on the boundaries of faces. */
#ifndef GEOMETRY_CUTS_H
#define GEOMETRY_CUTS_H

#include "geometry/neck.h"

/*
 * An end of a cut on a half-edge; one in a node lies at the end of the half-edge whose corner, to
 * the next one round the face, holds the cut. Of several in one place, the first is the one that a
 * walk round the face meets first: clockwise from the way back.
 */
struct geo_stop {
	struct geo_vector at;
	double along; /* nm from the half-edge's start */
	double turn;  /* radians, clockwise from the way back to the cut */
	uint32_t half_edge;
	uint32_t foot; /* 2 * neck + 0 or 1 */
};

struct geo_cuts {
	struct geo_stop *stops; /* ordered by half-edge, then as a walk round the face meets them */
	uint32_t *of_foot;      /* the stop of each foot; GEO_NONE for a neck that doesn't cut */
	uint8_t *marks;         /* a bit for each half-edge: whether it has a stop */
	uint32_t count;
};

/* 0, or -1 where memory ran out. Finish it in either case. */
int geo_cuts_init(struct geo_cuts *cuts, const struct geo_arrangement *arrangement,
		  const struct geo_necks *necks, const bool *chosen);
void geo_cuts_finish(struct geo_cuts *cuts);

static inline bool geo_cuts_on(const struct geo_cuts *cuts, uint32_t half_edge)
{
	return cuts->marks[half_edge / 8] >> half_edge % 8 & 1;
}

/* The first stop on a half-edge or on one with a higher number. */
uint32_t geo_cuts_first(const struct geo_cuts *cuts, uint32_t half_edge);

/* How far along a half-edge the point of it nearest to a place lies, in nm. */
double geo_along(const struct geo_arrangement *arrangement, uint32_t half_edge,
		 struct geo_vector at);

/* The stop at the other end of a stop's cut. */
static inline uint32_t geo_cuts_mate(const struct geo_cuts *cuts, uint32_t stop)
{
	return cuts->of_foot[cuts->stops[stop].foot ^ 1];
}

#endif
