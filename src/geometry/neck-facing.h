/*
 * neck-facing.h - the directions in which walls are faced, as sets of 64 sectors of the turn.
 *
 * A corner can only be one end of a neck whose other end is seen in a direction in which both are
 * faced: opposite to a normal of the other wall. Sectors tell most corners that there is none.
 */
#ifndef GEOMETRY_NECK_FACING_H
#define GEOMETRY_NECK_FACING_H

#include "geometry/neck-walls.h"

/* All sectors from one direction counter-clockwise to another, at most half a turn on. */
uint64_t neck_facing_between(struct geo_vector from, struct geo_vector to);

/* Flags the segments of the walls' index with the sectors in which they are faced. 0, or -1. */
int neck_facing_flag(const struct neck_walls *walls);

#endif
