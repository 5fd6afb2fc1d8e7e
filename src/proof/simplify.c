#include "proof/simplify.h"

/*
 * A line is looked at in stretches of so many points, whose ends stay: the search is quadratic in a
 * stretch at worst, and linear in the line. A choice, that of the rule needless-nodes.
 */
enum { STRETCH = 1024 };

/* A chain by number; a closed one comes back to its first point. */
struct chain {
	const struct cutlint_point *points;
	uint32_t count;
	double tolerance;
};

static struct cutlint_point point_at(const struct chain *chain, uint32_t number)
{
	return chain->points[number < chain->count ? number : 0];
}

/* The square of how far a point lies from the straight stretch between two others. */
static double square_from(struct cutlint_point at, struct cutlint_point from,
			  struct cutlint_point to)
{
	double x = (double)to.x - from.x, y = (double)to.y - from.y;
	double dx = (double)at.x - from.x, dy = (double)at.y - from.y;
	double square = x * x + y * y;
	double share = square > 0 ? (dx * x + dy * y) / square : 0;
	share = share < 0 ? 0 : share > 1 ? 1 : share;
	dx -= share * x;
	dy -= share * y;
	return dx * dx + dy * dy;
}

/* The point between two that lies farthest off; `from` if all are within the tolerance. */
static uint32_t farthest(const struct chain *chain, uint32_t from, uint32_t to)
{
	struct cutlint_point a = point_at(chain, from), b = point_at(chain, to);
	double most = chain->tolerance * chain->tolerance;
	uint32_t which = from;
	for (uint32_t i = from + 1; i < to; i++) {
		double off = square_from(chain->points[i], a, b);
		if (off <= most)
			continue;
		most = off;
		which = i;
	}
	return which;
}

/* Keeps points from one up to, not including, another. Returns how many. */
static uint32_t keep(const struct chain *chain, uint32_t from, uint32_t to,
		     struct cutlint_point *out)
{
	uint32_t ends[STRETCH + 1], depth = 0, kept = 0;
	ends[depth++] = to;
	while (depth > 0) {
		uint32_t split = farthest(chain, from, ends[depth - 1]);
		if (split != from) {
			ends[depth++] = split;
			continue;
		}
		out[kept++] = chain->points[from];
		from = ends[--depth];
	}
	return kept;
}

uint32_t simplify(const struct cutlint_point *points, uint32_t count, bool closed,
		  double tolerance_nm, struct cutlint_point *out)
{
	const struct chain chain = {points, count, tolerance_nm};
	uint32_t last = closed ? count : count - 1, kept = 0;
	for (uint32_t from = 0; from < last; from += STRETCH) {
		uint32_t to = last - from > STRETCH ? from + STRETCH : last;
		kept += keep(&chain, from, to, &out[kept]);
	}
	if (!closed)
		out[kept++] = points[last];
	return kept;
}
