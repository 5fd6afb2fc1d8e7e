/* way.h - places along chains, by the length of the way to them. */
#ifndef SHEET_WAY_H
#define SHEET_WAY_H

#include "base/arena.h"
#include "cutlint/point.h"
#include "geometry/lines.h"
#include "geometry/match.h"

/* The way in nm from a chain's first vertex to each of its vertices, by vertex; NULL: no memory. */
double *way_measure(struct arena *arena, const struct geo_lines *lines);

/* The length of a chain, its closing side included, in nm. */
double way_length(const struct geo_lines *lines, const double *along, uint32_t chain);

struct way_place {
	uint32_t segment;
	struct cutlint_xy at;
};

/* The place on a stretch's chain so far from its first vertex (nm), looked for from its start on.
 */
struct way_place way_place(const struct geo_lines *lines, const double *along,
			   const struct geo_stretch *stretch, double way);

#endif
