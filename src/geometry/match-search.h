/* match-search.h - what comes near a side where a long enough stretch must show. */
#ifndef GEOMETRY_MATCH_SEARCH_H
#define GEOMETRY_MATCH_SEARCH_H

#include "geometry/match-tracks.h"

/*
 * Visits distinct segments that come within `apart` of a side: not all, but of two stretches that
 * are at least `least` long and lie on each other, a pair of sides that are together somewhere is
 * visited at one side or another; those whose first side comes later are of no interest. Segments
 * may come several times, and some are farther off; where `visit` returns false it may be called
 * again all the same.
 */
void geo_side_search(const struct geo_tracks *tracks, uint32_t side, double least, double apart,
		     geo_visit *visit, void *user);

#endif
