/* piece-rings.h - the boundaries of pieces as closed chains of points. */
#ifndef GEOMETRY_PIECE_RINGS_H
#define GEOMETRY_PIECE_RINGS_H

#include <stdint.h>

#include "cutlint/point.h"

struct geo_loops;

/*
 * Ring r bounds piece pieces[r], which lies on its left, and has the points first[r] up to, not
 * including, first[r + 1]. A line that ends inside a piece is walked to its end and back.
 */
struct geo_rings {
	struct cutlint_point *points;
	uint32_t *first, *pieces;
	uint32_t count;
};

/* Traces all loops, whose pieces are known. 0, or -1 without memory; finish it in either case. */
int geo_rings_trace(const struct geo_loops *loops, struct geo_rings *out);
void geo_rings_finish(struct geo_rings *rings);

#endif
