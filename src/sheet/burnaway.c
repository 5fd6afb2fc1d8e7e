/* Kept faces of which the burn leaves nothing. */
#include <math.h>

#include "geometry/inscribed.h"
#include "sheet/faces.h"
#include "sheet/opening.h"

/* Of a face, its perimeter; or where it `walks` along the axes, how long the way round is then: at
 * least as long, and quick to tell. */
static double perimeter(const struct geo_arrangement *arrangement, uint32_t face, bool walks)
{
	struct face_walk walk = face_walk_start(arrangement, face);
	uint32_t half;
	double length = 0;
	while (face_walk_next(arrangement, &walk, &half)) {
		struct cutlint_point a = arrangement->nodes[geo_half_edge_from(arrangement, half)];
		struct cutlint_point b = arrangement->nodes[geo_half_edge_to(arrangement, half)];
		double x = fabs((double)b.x - a.x), y = fabs((double)b.y - a.y);
		length += walks ? x + y : hypot(x, y);
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
	double area = arrangement->faces[face].area;
	return area <= diameter * perimeter(arrangement, face, true) / 2 &&
	       area <= diameter * perimeter(arrangement, face, false) / 2;
}

static int burn_away(const struct geo_arrangement *arrangement, const struct face_sets *single,
		     double kerf, struct boundary *boundary, struct intent *intent)
{
	for (uint32_t f = 0; f < arrangement->face_count; f++) {
		bool fits;
		if (intent->kinds[f] != FACE_KEPT || !may_vanish(arrangement, f, kerf))
			continue;
		if (boundary_trace(boundary, arrangement, single, f) != 0 ||
		    geo_inscribed_fits(&boundary->lines, kerf / 2, &fits) != 0)
			return -1;
		if (!fits)
			intent->kinds[f] = FACE_WASTE;
	}
	return 0;
}

int intent_burn_away(struct sheet_work *work, const struct geo_arrangement *arrangement,
		     struct intent *intent)
{
	struct face_sets single;
	struct boundary boundary = {0};
	if (opening_single(work, arrangement, &single) != 0)
		return -1;
	int status =
		burn_away(arrangement, &single, work->job->kerf_mm * SHEET_NM, &boundary, intent);
	boundary_finish(&boundary);
	return status;
}
