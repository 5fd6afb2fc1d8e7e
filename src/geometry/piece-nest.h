/* piece-nest.h - which piece each hole lies in; for the pieces' own files only. */
#ifndef GEOMETRY_PIECE_NEST_H
#define GEOMETRY_PIECE_NEST_H

#include "geometry/loops.h"

/*
 * Sets the piece of every rim, given that of every other loop; the first piece of each face is that
 * of first_piece, and face 0's is the one without bounds. 0, or -1 where memory ran out.
 */
int geo_pieces_nest(struct geo_loops *loops, const uint32_t *first_piece);

#endif
