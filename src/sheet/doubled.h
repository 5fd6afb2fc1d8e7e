/*
 * doubled.h - tells whether a place lies on a stretch that is drawn twice.
 *
 * An index over the sides of the lines that have such stretches, and of each line its stretches by
 * where they begin along it, as a tree of intervals: a line that runs along itself in many places
 * and crosses itself in many others is asked about each crossing, and each time only the stretches
 * at that place are looked at.
 */
#ifndef SHEET_DOUBLED_H
#define SHEET_DOUBLED_H

#include "geometry/index.h"
#include "sheet/work.h"

struct doubled_interval;

struct doubled {
	const struct sheet_work *work;
	struct geo_segment *segments; /* sides of the lines that come first of two */
	double *along;                /* where each starts, in mm along its outline */
	uint32_t *outlines;
	uint32_t side_count;
	struct doubled_interval *intervals; /* by the first outline, then by place along it */
	uint32_t interval_count;
	struct geo_index *index;
};

/* 0, or -1 where memory ran out; finish it either way. */
int doubled_init(struct doubled *doubled, const struct sheet_work *work);
void doubled_finish(struct doubled *doubled);

/* Whether a place (mm) lies on a stretch of one outline that is drawn twice, by another one or
 * itself: by its course along the one that comes first in the file. */
bool doubled_at(const struct doubled *doubled, uint32_t a, uint32_t b, struct cutlint_xy at);

#endif
