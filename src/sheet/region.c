#include "sheet/region.h"

#include <math.h>

static struct cutlint_xy point_after(const struct region *region, uint32_t i)
{
	return region->points[i + 1 < region->count ? i + 1 : 0];
}

double region_area(const struct region *region)
{
	double twice = 0;
	for (uint32_t i = 0; i < region->count; i++) {
		struct cutlint_xy o = region->points[0], a = region->points[i];
		struct cutlint_xy b = point_after(region, i);
		twice += (a.x - o.x) * (b.y - o.y) - (b.x - o.x) * (a.y - o.y);
	}
	return fabs(twice) / 2;
}

struct cutlint_box region_box(const struct region *region)
{
	struct cutlint_box box = cutlint_box_empty();
	for (uint32_t i = 0; i < region->count; i++)
		cutlint_box_add(&box, region->points[i]);
	return box;
}

/* Where the side from a to b meets the level y; false where it does not cross it. */
static bool crosses_level(struct cutlint_xy a, struct cutlint_xy b, double y, double *x)
{
	if ((a.y <= y) == (b.y <= y))
		return false;
	*x = a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y));
	return true;
}

bool region_contains(const struct region *region, struct cutlint_xy at)
{
	bool inside = false;
	for (uint32_t i = 0; i < region->count; i++) {
		double x;
		if (crosses_level(region->points[i], point_after(region, i), at.y, &x) && x > at.x)
			inside = !inside;
	}
	return inside;
}

/* The crossing of the level y next to the right of x; INFINITY without one. */
static double next_crossing(const struct region *region, double y, double x)
{
	double best = INFINITY;
	for (uint32_t i = 0; i < region->count; i++) {
		double found;
		if (crosses_level(region->points[i], point_after(region, i), y, &found) &&
		    found > x)
			best = fmin(best, found);
	}
	return best;
}

struct cutlint_xy region_inside(const struct region *region)
{
	/* Few crossings are enough: a region with very many has a wide stretch among the first. */
	enum { MOST_CROSSINGS = 64 };
	struct cutlint_xy best = cutlint_box_middle(region_box(region));
	double width = 0, x = -INFINITY;
	for (int i = 0; i < MOST_CROSSINGS; i++) {
		double from = next_crossing(region, best.y, x);
		double to = next_crossing(region, best.y, from);
		if (!isfinite(to))
			break;
		if (to - from > width) {
			width = to - from;
			best.x = (from + to) / 2;
		}
		x = to;
	}
	return best;
}

double region_left_of(struct cutlint_xy from, struct cutlint_xy to, struct cutlint_xy at)
{
	double dx = to.x - from.x, dy = to.y - from.y;
	double length = hypot(dx, dy);
	if (length == 0)
		return 0;
	/* y runs down, so that the left hand of someone who walks right points up. */
	return ((at.x - from.x) * dy - (at.y - from.y) * dx) / length;
}

int region_clip(struct arena *arena, const struct region *region, struct cutlint_xy from,
		struct cutlint_xy to, bool left, struct region *out)
{
	out->count = 0;
	out->points = ARENA_ARRAY(arena, struct cutlint_xy, 2 * (size_t)region->count + 1);
	if (!out->points)
		return -1;

	double sign = left ? 1 : -1;
	for (uint32_t i = 0; i < region->count; i++) {
		struct cutlint_xy a = region->points[i], b = point_after(region, i);
		double in_a = sign * region_left_of(from, to, a);
		double in_b = sign * region_left_of(from, to, b);
		if (in_a >= 0)
			out->points[out->count++] = a;
		if ((in_a > 0 && in_b < 0) || (in_a < 0 && in_b > 0)) {
			double t = in_a / (in_a - in_b);
			out->points[out->count++] =
				(struct cutlint_xy){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
		}
	}
	return 0;
}

bool region_stretch(const struct region *region, struct cutlint_xy from, struct cutlint_xy to,
		    double *enters, double *leaves)
{
	double length = hypot(to.x - from.x, to.y - from.y);
	if (length == 0)
		return false;
	struct cutlint_xy along = {(to.x - from.x) / length, (to.y - from.y) / length};
	double low = -INFINITY, high = INFINITY;
	bool inside = false;
	for (uint32_t i = 0; i < region->count; i++) {
		struct cutlint_xy a = region->points[i], b = point_after(region, i);
		double side_a = region_left_of(from, to, a), side_b = region_left_of(from, to, b);
		if ((side_a > 0) == (side_b > 0))
			continue;
		double t = side_a / (side_a - side_b);
		double at = (a.x + t * (b.x - a.x) - from.x) * along.x +
			    (a.y + t * (b.y - a.y) - from.y) * along.y;
		if (at <= length / 2) {
			low = fmax(low, at);
		} else {
			high = fmin(high, at);
			inside = !inside;
		}
	}
	*enters = low;
	*leaves = high;
	return inside && isfinite(low);
}
