/* match-turns.h - by which angles one form may have to be turned to lie on another one. */
#ifndef GEOMETRY_MATCH_TURNS_H
#define GEOMETRY_MATCH_TURNS_H

#include "geometry/match-form.h"

#define GEO_TURNS_MOST 64

/*
 * Compares how the line is spread round the middle, by angle in rings: the angles at which the
 * circular correlation of both spreads has a peak, those nearest to 0 first. Works for forms that
 * are symmetric by turning, which moments can't tell. Returns how many, or -1 where memory ran out.
 */
int geo_turns_find(const struct geo_form *a, bool mirrored, const struct geo_form *b,
		   double out[GEO_TURNS_MOST]);

#endif
