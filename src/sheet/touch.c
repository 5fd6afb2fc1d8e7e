#include "sheet/touch.h"

#include <math.h>

#include "sheet/refine.h"
#include "sheet/way.h"
#include "sheet/work.h"
#include "sheet/xy.h"

/*
 * Two circles of 80 mm that touch are within 0.05 mm of each other over 4 mm. Where lines keep as
 * near for longer the card is burned twice, whatever they are. Common practice, no source.
 */
static const double LONGEST_MM = 4;

/* Not at the very ends, where one of the two may turn a corner. A bend of less (mm) is none: lines
 * that keep their distance. A choice of this project. */
static const double LEAST_BEND_MM = 0.01;

/*
 * Half way to its ends a parabola has a quarter of its height; where lines run along each other and
 * part at the ends it is less, where they cross it is no parabola. How far off a quarter is still
 * one is a choice of this project.
 */
static const double LEAST_SHARE = 0.15, MOST_SHARE = 0.4;

static struct refine_foot foot_at(const struct geo_lines *lines, const double *along,
				  const struct geo_stretch *stretch, double way)
{
	struct way_place place = way_place(lines, along, stretch, way);
	return (struct refine_foot){place.segment, place.at, false};
}

/* How far the second curve lies left of the first, at a share of the way along both. */
static double offset_at(const struct cutlint_design *design, const struct geo_lines *lines,
			const double *along, const struct geo_overlap *found, double share)
{
	double length = found->a.to - found->a.from, other = found->b.to - found->b.from;
	double way = found->a.from + share * length;
	double way_b =
		found->reversed ? found->b.to - share * other : found->b.from + share * other;
	double step = length / 64;
	struct refine_foot a = foot_at(lines, along, &found->a, way);
	struct cutlint_xy before =
		way_place(lines, along, &found->a, fmax(way - step, found->a.from)).at;
	struct cutlint_xy after =
		way_place(lines, along, &found->a, fmin(way + step, found->a.to)).at;
	a = refine_nearest(design, lines, a, a.at);
	struct refine_foot b =
		refine_nearest(design, lines, foot_at(lines, along, &found->b, way_b), a.at);
	struct cutlint_xy ahead = xy_minus(after, before), across = xy_minus(b.at, a.at);
	double left = xy_cross(ahead, across);
	return left < 0 ? -xy_length(across) : xy_length(across);
}

bool touch_is_all(const struct cutlint_design *design, const struct geo_lines *lines,
		  const double *along, const struct geo_overlap *found)
{
	double offsets[5];
	if (found->a.to - found->a.from > LONGEST_MM * SHEET_NM)
		return false;
	for (int i = 0; i < 5; i++)
		offsets[i] = offset_at(design, lines, along, found, 0.1 + 0.2 * i);
	double rise = (offsets[0] + offsets[4]) / 2 - offsets[2];
	double half_way = (offsets[1] + offsets[3]) / 2 - offsets[2];
	if (fabs(rise) < LEAST_BEND_MM || offsets[0] * offsets[4] <= 0)
		return false;
	double share = half_way / rise;
	return share >= LEAST_SHARE && share <= MOST_SHARE;
}
