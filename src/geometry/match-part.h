/* match-part.h - sides that cannot belong to lines that lie on each other, told at a small cost. */
#ifndef GEOMETRY_MATCH_PART_H
#define GEOMETRY_MATCH_PART_H

#include "geometry/match-tracks.h"

/* Whether a side's whole chain is shorter than the least length. */
bool geo_side_is_short(const struct geo_tracks *tracks, uint32_t side, double least);

/*
 * Whether no stretches of at least the length `least`, at most `apart` from each other, run along
 * both sides: they are nowhere so near, or they cross too steeply and nothing goes on from there.
 * False may mean either.
 */
bool geo_sides_part(const struct geo_tracks *tracks, uint32_t a, uint32_t b, double apart,
		    double least);

#endif
