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

/* Whether a flag stays in a box when it is shown so many times as large, with its place fixed. */
static bool is_in(struct cutlint_xy place, struct cutlint_xy at, double times, double radius,
		  struct cutlint_box box)
{
	double x = place.x + times * (at.x - place.x), y = place.y + times * (at.y - place.y);
	double room = times * radius;
	return x - room >= box.left && x + room <= box.right && y - room >= box.top &&
	       y + room <= box.bottom;
}

/* The first place that is free and stays inside; `times` is 0 where it need not. */
static bool find(const struct cutlint_xy *places, uint32_t count, struct cutlint_xy *flags,
		 uint32_t number, double radius, struct cutlint_box box, double times)
{
	int rings = count <= APART_MOST ? RINGS : 1;
	for (int ring = 0; ring < rings; ring++) {
		for (int step = 0; step < DIRECTIONS; step++) {
			struct cutlint_xy at = around(places[number], ring, step, radius);
			if (times > 0 && !is_in(places[number], at, times, radius, box))
				continue;
			flags[number] = at;
			if (count > APART_MOST || is_free(at, places, count, flags, number, radius))
				return true;
		}
	}
	return false;
}

void flags_place(const struct cutlint_xy *places, uint32_t count, double radius_mm,
		 struct cutlint_box box, struct cutlint_xy *out)
{
	/* As on a screen of 360 px, of 1280 px, on paper. */
	static const double TIMES[] = {3, 1.8, 1, 0};
	for (uint32_t i = 0; i < count; i++) {
		bool found = false;
		for (int k = 0; k < 4 && !found; k++)
			found = find(places, count, out, i, radius_mm, box, TIMES[k]);
		if (!found)
			out[i] = around(places[i], 0, 0, radius_mm);
	}
}
