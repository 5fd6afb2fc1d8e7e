#include "proof/flags.h"

#include <math.h>
#include <stdbool.h>

/* Beyond so many flags they are not kept apart: nobody could tell them anyway at this size. */
enum { APART_MOST = 2000, DIRECTIONS = 12, RINGS = 6 };

static const double TURN = 3.14159265358979323846 / 6;

static bool is_near(struct cutlint_xy a, struct cutlint_xy b, double reach)
{
	return hypot(a.x - b.x, a.y - b.y) < reach;
}

static bool is_free(struct cutlint_xy at, const struct cutlint_xy *places, uint32_t count,
		    const struct cutlint_xy *flags, uint32_t placed, double radius)
{
	for (uint32_t i = 0; i < count; i++) {
		if (is_near(at, places[i], 1.4 * radius))
			return false;
	}
	for (uint32_t i = 0; i < placed; i++) {
		if (is_near(at, flags[i], 2.2 * radius))
			return false;
	}
	return true;
}

/* Up and to the right first, then round, then farther out. */
static struct cutlint_xy around(struct cutlint_xy at, int ring, int step, double radius)
{
	double angle = -TURN * 1.5 + (step % 2 ? -1 : 1) * ((step + 1) / 2) * TURN;
	double out = radius * (2.2 + 1.4 * ring);
	return (struct cutlint_xy){at.x + out * cos(angle), at.y + out * sin(angle)};
}

static struct cutlint_xy find(const struct cutlint_xy *places, uint32_t count,
			      const struct cutlint_xy *flags, uint32_t number, double radius)
{
	for (int ring = 0; ring < RINGS && count <= APART_MOST; ring++) {
		for (int step = 0; step < DIRECTIONS; step++) {
			struct cutlint_xy at = around(places[number], ring, step, radius);
			if (is_free(at, places, count, flags, number, radius))
				return at;
		}
	}
	return around(places[number], 0, 0, radius);
}

void flags_place(const struct cutlint_xy *places, uint32_t count, double radius_mm,
		 struct cutlint_xy *out)
{
	for (uint32_t i = 0; i < count; i++)
		out[i] = find(places, count, out, i, radius_mm);
}
