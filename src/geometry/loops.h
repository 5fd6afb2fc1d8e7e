/*
 * loops.h - the boundaries of the pieces: those of the faces, with the cuts as further edges.
 *
 * The boundary between a stop and the next one round the face is the first stop's arc. After the
 * arc, the loop round a piece follows the cut of the stop that it has come to.
 */
#ifndef GEOMETRY_LOOPS_H
#define GEOMETRY_LOOPS_H

#include "geometry/cuts.h"

/* A boundary of a face. */
struct geo_boundary {
	uint32_t half_edge, under; /* as in the arrangement; `under` of an inner one */
	uint32_t first_stop;       /* GEO_NONE where no cut ends on it */
	uint32_t group;            /* a boundary that cuts tie it to; its own in the end */
};

struct geo_loop {
	uint32_t label; /* an arc of it, or a boundary without a stop: see geo_loops */
	uint32_t group; /* of its boundaries */
	uint32_t piece;
	bool rim; /* it lies within the piece as the rim of a hole, not round it */
	double area2;
	double low, high; /* of its corners' y */
};

struct geo_loops {
	const struct geo_arrangement *arrangement;
	const struct geo_cuts *cuts;
	struct geo_boundary *boundaries; /* grouped by face, the outer one first */
	struct geo_loop *loops;          /* grouped by face */
	uint32_t *first_boundary;        /* of each face, and one behind the last */
	uint32_t *first_loop;            /* likewise */
	uint32_t *following;             /* the next stop round the face after each stop */
	/*
	 * Labels are arcs (a stop's number) and boundaries without a stop (their number plus that
	 * of stops).
	 */
	uint32_t *of_half_edge; /* the label of each half-edge's start */
	uint32_t *of_label;     /* the loop of each label */
	uint32_t loop_count;
};

/* 0, or -1 where memory ran out. Finish it in either case. */
int geo_loops_init(struct geo_loops *loops, const struct geo_arrangement *arrangement,
		   const struct geo_cuts *cuts);
void geo_loops_finish(struct geo_loops *loops);

/* The loop of a place along a half-edge, just after what stops there. */
uint32_t geo_loop_at(const struct geo_loops *loops, uint32_t half_edge, double along);

/* Calls `visit` for each straight stretch of a loop, in order. */
typedef void geo_visit_stretch(void *user, struct geo_vector from, struct geo_vector to);
void geo_loop_each(const struct geo_loops *loops, uint32_t loop, geo_visit_stretch *visit,
		   void *user);

#endif
