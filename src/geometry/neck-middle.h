/* neck-middle.h - candidates of strips, as the middle of an edge sees them. */
#ifndef GEOMETRY_NECK_MIDDLE_H
#define GEOMETRY_NECK_MIDDLE_H

#include "geometry/neck-candidate.h"

/*
 * Looks straight across from the middle of a half-edge: where both ends of a strip are free, no
 * corner does. Adds what it finds; false where memory ran out.
 */
bool neck_probe_middle(const struct neck_walls *walls, const struct geo_neck_search *search,
		       uint32_t half, struct neck_candidates *out);

#endif
