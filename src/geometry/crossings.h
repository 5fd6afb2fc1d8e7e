/* crossings.h - all pairs of segments that cross. */
#ifndef GEOMETRY_CROSSINGS_H
#define GEOMETRY_CROSSINGS_H

#include "geometry/index.h"

/*
 * Calls `visit` for every pair of the index's segments that cross inside both; a pair may come more
 * than once. Its time grows with the entries of the index and the crossings, however crowded a cell
 * is with lines that pass each other by. Returns 0, 1 where `visit` stopped it, or -1 where memory
 * ran out.
 */
int geo_crossings_each(const struct geo_index *index, geo_visit_pair *visit, void *user);

#endif
