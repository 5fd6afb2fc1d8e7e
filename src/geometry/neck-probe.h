/* neck-probe.h - finds the candidates of all walls. */
#ifndef GEOMETRY_NECK_PROBE_H
#define GEOMETRY_NECK_PROBE_H

#include "geometry/neck-candidate.h"

/* Candidates of all walls up to a width, in no order, each at least once. 0, or -1. */
int neck_probe(const struct neck_walls *walls, const struct geo_neck_search *search,
	       struct neck_candidates *out);

#endif
