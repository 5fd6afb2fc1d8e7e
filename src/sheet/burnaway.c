/* Kept faces of which the burn leaves nothing. */
#include <math.h>

#include "geometry/inscribed.h"
#include "sheet/faces.h"
#include "sheet/opening.h"

static double perimeter(const struct geo_arrangement *arrangement, uint32_t face)
{
	struct face_walk walk = face_walk_start(arrangement, face);
	uint32_t half;
	double length = 0;
	while (face_walk_next(arrangement, &walk, &half)) {
		struct cutlint_point a = arrangement->nodes[geo_half_edge_from(arrangement, half)];
		struct cutlint_point b = arrangement->nodes[geo_half_edge_to(arrangement, half)];
		length += hypot((double)b.x - a.x, (double)b.y - a.y);
	}
	return length;
}

/*
 * Whether a face may have no room for a circle of that diameter. In a region whose largest circle
 * has the radius r, every point lies within r of the boundary, so that its area is at most r times
 * its perimeter.
 */
static bool may_vanish(const struct geo_arrangement *arrangement, uint32_t face, double diameter)
{
	return arrangement->faces[face].area <= diameter * perimeter(arrangement, face) / 2;
}

int intent_burn_away(struct sheet_work *work, const struct geo_arrangement *arrangement,
		     struct intent *intent)
{
	double kerf = work->job->kerf_mm * SHEET_NM;
	struct face_sets single;
	if (opening_single(work, arrangement, &single) != 0)
		return -1;
	for (uint32_t f = 0; f < arrangement->face_count; f++) {
		if (intent->kinds[f] != FACE_KEPT || !may_vanish(arrangement, f, kerf))
			continue;
		struct boundary boundary;
		bool fits;
		if (boundary_trace(work->scratch, arrangement, &single, f, &boundary) != 0 ||
		    geo_inscribed_fits(&boundary.lines, kerf / 2, &fits) != 0)
			return -1;
		if (!fits)
			intent->kinds[f] = FACE_WASTE;
	}
	return 0;
}
