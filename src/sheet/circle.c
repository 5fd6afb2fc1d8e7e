#include <math.h>
#include <stdbool.h>

#include "sheet/refine.h"
#include "sheet/xy.h"

/* A wall that a circle touches: the unit vector from the touching place to the centre. */
struct touch {
	struct refine_foot foot;
	bool fixed; /* the place is a corner of the region, and not where its curve comes nearest */
	struct cutlint_xy normal;
	double distance;
};

static struct cutlint_xy nearest_on(const struct refine_chord *chord, struct cutlint_xy at)
{
	struct cutlint_xy along = xy_minus(chord->to, chord->from);
	double square = xy_dot(along, along);
	double t = square > 0 ? xy_dot(xy_minus(at, chord->from), along) / square : 0;
	t = fmin(1, fmax(0, t));
	return (struct cutlint_xy){chord->from.x + t * along.x, chord->from.y + t * along.y};
}

/*
 * Starts from the chord. Where its curve comes nearer than the flattening explains, it does so
 * beyond the region's corner, inside another window; then the circle touches that corner.
 */
static struct touch touch_start(const struct cutlint_design *design, const struct geo_lines *lines,
				const struct refine_chord *chord, struct cutlint_xy centre)
{
	struct touch touch = {.foot = {chord->segment, nearest_on(chord, centre), false}};
	struct refine_foot curved = refine_nearest(design, lines, touch.foot, centre);
	double off =
		xy_length(xy_minus(centre, curved.at)) - xy_length(xy_minus(centre, touch.foot.at));
	touch.fixed = fabs(off) > design->flatness_mm + REFINE_ROUNDING_MM;
	return touch;
}

static void touch_walls(const struct cutlint_design *design, const struct geo_lines *lines,
			struct touch *touches, uint32_t count, struct cutlint_xy centre)
{
	for (uint32_t i = 0; i < count; i++) {
		struct touch *touch = &touches[i];
		if (!touch->fixed)
			touch->foot = refine_nearest(design, lines, touch->foot, centre);
		struct cutlint_xy away = xy_minus(centre, touch->foot.at);
		touch->distance = xy_length(away);
		touch->normal =
			(struct cutlint_xy){away.x / touch->distance, away.y / touch->distance};
	}
}

static double least_distance(const struct touch *touches, uint32_t count)
{
	double least = INFINITY;
	for (uint32_t i = 0; i < count; i++)
		least = fmin(least, touches[i].distance);
	return least;
}

/* Moves touches with directions of their own to the front, so that two on one spot count once. */
static uint32_t pick_distinct(struct touch *touches, uint32_t count)
{
	const double nearly_same = 1e-3;
	uint32_t distinct = 0;
	for (uint32_t i = 0; i < count; i++) {
		bool same = false;
		for (uint32_t j = 0; j < distinct; j++)
			same = same || xy_length(xy_minus(touches[i].normal, touches[j].normal)) <
					       nearly_same;
		if (same)
			continue;
		struct touch swap = touches[distinct];
		touches[distinct++] = touches[i];
		touches[i] = swap;
	}
	return distinct;
}

/*
 * The step to equal distances r from all walls: with n the normal and d the distance of each,
 * n · step + d = r. Two walls leave the step across them at zero.
 */
static bool centre_step(const struct touch *touches, uint32_t count, struct cutlint_xy *step)
{
	if (count < 2)
		return false;
	struct cutlint_xy u = xy_minus(touches[1].normal, touches[0].normal);
	double du = touches[0].distance - touches[1].distance;
	if (count == 2) {
		double square = xy_dot(u, u);
		*step = (struct cutlint_xy){du * u.x / square, du * u.y / square};
		return true;
	}
	struct cutlint_xy v = xy_minus(touches[2].normal, touches[0].normal);
	double dv = touches[0].distance - touches[2].distance;
	double determinant = u.x * v.y - u.y * v.x;
	*step = (struct cutlint_xy){(du * v.y - dv * u.y) / determinant,
				    (u.x * dv - v.x * du) / determinant};
	return determinant != 0;
}

void refine_circle(const struct cutlint_design *design, const struct geo_lines *lines,
		   const struct refine_chord *chords, uint32_t count, struct cutlint_xy *centre,
		   double *radius)
{
	if (count < 1 || count > 3 || *radius <= 0)
		return;
	struct touch touches[3];
	for (uint32_t i = 0; i < count; i++)
		touches[i] = touch_start(design, lines, &chords[i], *centre);
	double most = *radius + 3 * design->flatness_mm + REFINE_ROUNDING_MM;
	struct cutlint_xy at = *centre, step;
	double best = 0;
	for (int round = 0; round < 20; round++) {
		touch_walls(design, lines, touches, count, at);
		double reached = least_distance(touches, count);
		if (!(reached > best + REFINE_SETTLED_MM) || reached > most)
			break;
		best = reached;
		*centre = at;
		if (!centre_step(touches, pick_distinct(touches, count), &step))
			break;
		at = (struct cutlint_xy){at.x + step.x, at.y + step.y};
	}
	if (best > 0)
		*radius = best;
}
