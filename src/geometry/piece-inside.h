/* piece-inside.h - a point inside each piece; for the pieces' own files only. */
#ifndef GEOMETRY_PIECE_INSIDE_H
#define GEOMETRY_PIECE_INSIDE_H

#include "geometry/loops.h"
#include "geometry/pieces.h"

/* Sets `inside` of all pieces, given the piece of every loop. 0, or -1 where memory ran out. */
int geo_pieces_fill(struct geo_pieces *pieces, const struct geo_loops *loops);

#endif
