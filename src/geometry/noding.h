/* noding.h - snap rounding: lines drawn through the hot pixels that they pass. */
#ifndef GEOMETRY_NODING_H
#define GEOMETRY_NODING_H

#include "geometry/arrangement.h"

/*
 * Sets the arrangement's nodes, edges and covers. 0, or -1 where memory ran out or `crowding`
 * (NULL: no bound) is exceeded.
 */
int geo_node_lines(const struct geo_lines *lines, struct geo_arrangement *arrangement,
		   struct geo_crowding *crowding);

#endif
