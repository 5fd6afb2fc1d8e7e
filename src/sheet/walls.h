/* walls.h - the nearest line to the end of an open outline. */
#ifndef SHEET_WALLS_H
#define SHEET_WALLS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "geometry/index.h"
#include "geometry/lines.h"

struct walls {
	const struct geo_lines *lines;
	struct geo_segment *segments;
	uint32_t *starts; /* of each segment: the vertex at which it starts */
	uint32_t *chains; /* of each segment */
	const double
		*reaches; /* of each chain: how far it is looked for (nm); NULL: any distance */
	struct geo_index *index;
	double *along; /* room for the longest open chain: see walls_nearest */
};

/*
 * Borrows `lines` and `reaches`; all but the index lives in `arena`. 0, or -1 where memory ran out.
 * Call walls_finish in both cases.
 */
int walls_init(struct walls *walls, struct arena *arena, const struct geo_lines *lines,
	       const double *reaches);
void walls_finish(struct walls *walls);

struct walls_near {
	uint32_t vertex; /* the segment; GEO_NONE: none within reach */
	uint32_t chain;
	struct geo_vector at;
	double distance; /* nm */
};

/*
 * The nearest segment to one end of an open chain. The chain itself counts only where it comes back
 * to its end: where the way along it is more than twice the distance (for half a circle, it is
 * pi/2 times). Of equals the lowest vertex.
 */
struct walls_near walls_nearest(struct walls *walls, uint32_t chain, bool last, double reach);

#endif
