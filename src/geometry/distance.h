/* distance.h - distances between points, segments and chains, in nm. */
#ifndef GEOMETRY_DISTANCE_H
#define GEOMETRY_DISTANCE_H

#include "geometry/lines.h"

/* The point of segment a-b nearest to p. */
struct geo_vector geo_nearest_on_segment(struct geo_vector a, struct geo_vector b,
					 struct geo_vector p);

/* The nearest points of segments a-b and c-d; returns their distance, 0 where they meet. */
double geo_segment_distance(struct geo_vector a, struct geo_vector b, struct geo_vector c,
			    struct geo_vector d, struct geo_vector *on_ab,
			    struct geo_vector *on_cd);

/* Whether a point lies inside a closed chain, by even-odd crossing; on the line counts inside. */
bool geo_chain_contains(const struct geo_lines *lines, uint32_t chain, struct geo_vector at);

/* Twice the signed area of a closed chain, exact to the last bit of a double. */
double geo_chain_area2(const struct geo_lines *lines, uint32_t chain);

#endif
