/*
 * pieces.h - the pieces that faces fall into when they are cut along their necks.
 */
#ifndef GEOMETRY_PIECES_H
#define GEOMETRY_PIECES_H

#include "geometry/neck.h"
#include "geometry/piece-rings.h"

struct geo_piece {
	uint32_t face;
	double area;              /* nm² */
	struct geo_vector inside; /* a point inside it */
	uint32_t half_edge;       /* one on its boundary, of an edge of the arrangement */
};

/*
 * `sides[2n]` and `sides[2n+1]` are the pieces on both sides of neck n: different for a bridge, the
 * same for a thin wall. Faces without a neck are one piece each; every face has at least one.
 */
struct geo_pieces {
	struct geo_piece *items;
	uint32_t *sides;
	uint32_t *of_half_edge; /* the piece left of each half-edge's start (just after its from) */
	uint32_t count;
};

/*
 * `chosen[n]`: whether neck n cuts (strips and contacts never do). `rings` takes the boundaries of
 * the pieces, to be finished in either case; NULL where they are not wanted. 0, or -1 without
 * memory.
 */
int geo_pieces_cut(const struct geo_arrangement *arrangement, const struct geo_necks *necks,
		   const bool *chosen, struct geo_pieces *out, struct geo_rings *rings);
void geo_pieces_finish(struct geo_pieces *pieces);

#endif
