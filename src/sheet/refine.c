#include "sheet/refine.h"

#include <math.h>
#include <stdbool.h>

#include "geometry/curve.h"
#include "model/private.h"

/* One side of a line: a stretch of its true curve, or a straight segment with t from 0 to 1. */
struct side {
	uint32_t segment;
	const struct curve *curve; /* NULL for a straight one */
	uint32_t first;            /* the vertex at which the curve starts */
	double low, high;          /* of t */
	struct cutlint_xy from, to;
};

static struct cutlint_xy minus(struct cutlint_xy a, struct cutlint_xy b)
{
	return (struct cutlint_xy){a.x - b.x, a.y - b.y};
}

static double dot(struct cutlint_xy a, struct cutlint_xy b)
{
	return a.x * b.x + a.y * b.y;
}

static double length(struct cutlint_xy a)
{
	return hypot(a.x, a.y);
}

static uint32_t segment_end(const struct geo_lines *lines, uint32_t segment)
{
	uint32_t end = geo_chain_next(&lines->chains[geo_lines_chain(lines, segment)], segment);
	return end == GEO_NONE ? segment : end;
}

/* The segment before (-1) or after (+1) in its chain; GEO_NONE beyond an open chain's ends. */
static uint32_t neighbour(const struct geo_lines *lines, uint32_t segment, int step)
{
	const struct geo_chain *chain = &lines->chains[geo_lines_chain(lines, segment)];
	uint32_t place = segment - chain->first;
	if (step < 0 && place == 0)
		return chain->closed ? chain->first + chain->count - 1 : GEO_NONE;
	if (step < 0)
		return segment - 1;
	uint32_t next = geo_chain_next(chain, segment);
	return next != GEO_NONE && geo_chain_next(chain, next) != GEO_NONE ? next : GEO_NONE;
}

/* The side under a segment: of a curve, the segment's own piece with two on either hand. */
static struct side load(const struct cutlint_design *design, const struct geo_lines *lines,
			uint32_t segment)
{
	struct side side = {.segment = segment, .low = 0, .high = 1};
	side.from = cutlint_point_mm(lines->points[segment]);
	side.to = cutlint_point_mm(lines->points[segment_end(lines, segment)]);
	const struct cutlint_command *command =
		segment < design->vertex_count ? cutlint_vertex_command(design, segment) : NULL;
	if (!command || command->curve == CUTLINT_NONE)
		return side;
	side.curve = &design->priv->curves[command->curve];
	side.first = command->first_vertex;
	double piece = (double)(segment - command->first_vertex), pieces = side.curve->pieces;
	side.low = fmin(1, fmax(0, (piece - 2) / pieces));
	side.high = fmin(1, (piece + 3) / pieces);
	return side;
}

static struct cutlint_xy place(const struct side *side, double t)
{
	if (side->curve)
		return curve_at(side->curve, t);
	return (struct cutlint_xy){side->from.x + t * (side->to.x - side->from.x),
				   side->from.y + t * (side->to.y - side->from.y)};
}

static struct cutlint_xy slope(const struct side *side, double t)
{
	return side->curve ? curve_derivative(side->curve, t) : minus(side->to, side->from);
}

/* The second derivative: by central differences, exact for Bézier curves up to the third degree. */
static struct cutlint_xy bend(const struct side *side, double t)
{
	const double step = 1e-4;
	if (!side->curve)
		return (struct cutlint_xy){0, 0};
	struct cutlint_xy after = curve_derivative(side->curve, t + step);
	struct cutlint_xy before = curve_derivative(side->curve, t - step);
	return (struct cutlint_xy){(after.x - before.x) / (2 * step),
				   (after.y - before.y) / (2 * step)};
}

static double nearest(const struct side *side, struct cutlint_xy at)
{
	if (side->curve)
		return curve_nearest(side->curve, at, side->low, side->high);
	struct cutlint_xy along = minus(side->to, side->from);
	double square = dot(along, along);
	return square > 0 ? fmin(1, fmax(0, dot(minus(at, side->from), along) / square)) : 0;
}

/* A foot that moves by less, in mm, has settled. */
static const double SETTLED = 1e-10;

/* Vertices and feet are rounded to the grid, so that distances are off by as much (mm). */
static const double ROUNDING = 5e-6;

/* Two sides with the parameters of a foot on each. */
struct pair {
	struct side sides[2];
	double t[2];
};

static double width(const struct pair *pair)
{
	return length(
		minus(place(&pair->sides[0], pair->t[0]), place(&pair->sides[1], pair->t[1])));
}

static double clamp(const struct side *side, double t)
{
	return fmin(side->high, fmax(side->low, t));
}

/* Whether a parameter is at a bound and the distance would fall only beyond it. */
static bool is_stuck(const struct side *side, double t, double slope_there)
{
	return (t <= side->low && slope_there >= 0) || (t >= side->high && slope_there <= 0);
}

/* Newton's step for half the squared distance; a gradient step where that is not convex. */
static void find_step(const struct pair *pair, double step[2])
{
	const struct side *a = &pair->sides[0], *b = &pair->sides[1];
	struct cutlint_xy d = minus(place(a, pair->t[0]), place(b, pair->t[1]));
	struct cutlint_xy da = slope(a, pair->t[0]), db = slope(b, pair->t[1]);
	double ga = dot(d, da), gb = -dot(d, db);
	double aa = dot(da, da) + dot(d, bend(a, pair->t[0]));
	double bb = dot(db, db) - dot(d, bend(b, pair->t[1]));
	double ab = -dot(da, db), determinant = aa * bb - ab * ab;
	bool stuck_a = is_stuck(a, pair->t[0], ga), stuck_b = is_stuck(b, pair->t[1], gb);

	step[0] = step[1] = 0;
	if (!stuck_a && !stuck_b && aa > 0 && determinant > 1e-9 * aa * bb) {
		step[0] = (ab * gb - bb * ga) / determinant;
		step[1] = (ab * ga - aa * gb) / determinant;
		return;
	}
	if (!stuck_a && dot(da, da) > 0)
		step[0] = -ga / (aa > 0 ? aa : dot(da, da));
	bool still_a = fabs(step[0]) * length(da) < SETTLED;
	if (!stuck_b && still_a && dot(db, db) > 0)
		step[1] = -gb / (bb > 0 ? bb : dot(db, db));
}

/* Goes to the local minimum of the distance within both sides' bounds. */
static void settle(struct pair *pair)
{
	for (int i = 0; i < 30; i++) {
		double step[2], before = width(pair);
		find_step(pair, step);
		struct pair next = *pair;
		double share = 1;
		for (int halved = 0; halved < 12; halved++, share /= 2) {
			for (int s = 0; s < 2; s++)
				next.t[s] = clamp(&pair->sides[s], pair->t[s] + share * step[s]);
			if (width(&next) <= before)
				break;
		}
		if (width(&next) > before)
			return;
		double moved = 0;
		for (int s = 0; s < 2; s++)
			moved += fabs(next.t[s] - pair->t[s]) *
				 length(slope(&pair->sides[s], pair->t[s]));
		*pair = next;
		if (moved < SETTLED)
			return;
	}
}

/* The segment of a side's piece at t. */
static uint32_t segment_at(const struct side *side, double t)
{
	if (!side->curve)
		return side->segment;
	double piece = fmin(floor(t * side->curve->pieces), side->curve->pieces - 1.0);
	return side->first + (uint32_t)fmax(0, piece);
}

/*
 * Where a foot came to rest at the end of what its side covers, goes on from the next piece of the
 * same curve, or from the neighbouring side, if the distance falls there.
 */
static bool move_on(const struct cutlint_design *design, const struct geo_lines *lines,
		    struct pair *pair, int s)
{
	const struct side *side = &pair->sides[s];
	if (pair->t[s] > side->low && pair->t[s] < side->high)
		return false;
	bool up = pair->t[s] >= side->high;
	bool within = side->curve && (up ? side->high < 1 : side->low > 0);
	uint32_t segment = segment_at(side, pair->t[s]);
	if (!within)
		segment = neighbour(lines, segment, up ? 1 : -1);
	if (segment == GEO_NONE)
		return false;

	const double gained = 1e-9;
	struct pair next = *pair;
	next.sides[s] = load(design, lines, segment);
	next.t[s] = nearest(&next.sides[s], place(&pair->sides[1 - s], pair->t[1 - s]));
	settle(&next);
	if (width(&next) > width(pair) - gained)
		return false;
	*pair = next;
	return true;
}

/*
 * Settles a pair and lets its feet move on; the second only where it lies on `lines`. Keeps the
 * feet where they were if that leads farther off than flattening and rounding explain.
 */
static double refine_pair(const struct cutlint_design *design, const struct geo_lines *lines,
			  struct pair *pair, struct refine_foot feet[2])
{
	enum { MOST_MOVES = 8 };
	double start = length(minus(feet[0].at, feet[1].at));
	bool fixed = feet[1].segment == GEO_NONE;
	if (!pair->sides[0].curve && !pair->sides[1].curve)
		return start;
	settle(pair);
	for (int i = 0; i < MOST_MOVES; i++) {
		if (!move_on(design, lines, pair, 0) && (fixed || !move_on(design, lines, pair, 1)))
			break;
	}

	double end = width(pair);
	if (fabs(end - start) > 3 * design->flatness_mm + ROUNDING)
		return start;
	for (int s = 0; s < 2; s++) {
		feet[s].at = place(&pair->sides[s], pair->t[s]);
		feet[s].segment = segment_at(&pair->sides[s], pair->t[s]);
	}
	return end;
}

double refine_width(const struct cutlint_design *design, const struct geo_lines *lines,
		    struct refine_foot feet[2])
{
	struct pair pair;
	for (int s = 0; s < 2; s++) {
		pair.sides[s] = load(design, lines, feet[s].segment);
		pair.t[s] = nearest(&pair.sides[s], feet[s].at);
	}
	return refine_pair(design, lines, &pair, feet);
}

double refine_to_segment(const struct cutlint_design *design, const struct geo_lines *lines,
			 struct refine_foot feet[2], struct cutlint_xy from, struct cutlint_xy to)
{
	struct pair pair = {.sides = {load(design, lines, feet[0].segment),
				      {.segment = GEO_NONE, .high = 1, .from = from, .to = to}}};
	for (int s = 0; s < 2; s++)
		pair.t[s] = nearest(&pair.sides[s], feet[s].at);
	feet[1].segment = GEO_NONE;
	return refine_pair(design, lines, &pair, feet);
}

/* The place nearest to `at` on one side. */
static struct refine_foot foot_on(const struct side *side, struct cutlint_xy at, double *t)
{
	*t = nearest(side, at);
	return (struct refine_foot){segment_at(side, *t), place(side, *t)};
}

struct refine_foot refine_nearest(const struct cutlint_design *design,
				  const struct geo_lines *lines, struct refine_foot foot,
				  struct cutlint_xy at)
{
	struct side side = load(design, lines, foot.segment);
	double t, beyond;
	struct refine_foot best = foot_on(&side, at, &t);
	if (!side.curve || (t > 0 && t < 1))
		return best;
	uint32_t segment = neighbour(lines, best.segment, t > 0 ? 1 : -1);
	if (segment == GEO_NONE)
		return best;
	side = load(design, lines, segment);
	struct refine_foot other = foot_on(&side, at, &beyond);
	double gained = length(minus(best.at, at)) - length(minus(other.at, at));
	return gained > 0 && gained <= design->flatness_mm ? other : best;
}

/* A wall that a circle touches: the unit vector from the touching place to the centre. */
struct touch {
	struct refine_foot foot;
	struct cutlint_xy normal;
	double distance;
};

static void touch_walls(const struct cutlint_design *design, const struct geo_lines *lines,
			struct touch *touches, uint32_t count, struct cutlint_xy centre)
{
	for (uint32_t i = 0; i < count; i++) {
		struct touch *touch = &touches[i];
		touch->foot = refine_nearest(design, lines, touch->foot, centre);
		struct cutlint_xy away = minus(centre, touch->foot.at);
		touch->distance = length(away);
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
			same = same ||
			       length(minus(touches[i].normal, touches[j].normal)) < nearly_same;
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
	struct cutlint_xy u = minus(touches[1].normal, touches[0].normal);
	double du = touches[0].distance - touches[1].distance;
	if (count == 2) {
		double square = dot(u, u);
		*step = (struct cutlint_xy){du * u.x / square, du * u.y / square};
		return true;
	}
	struct cutlint_xy v = minus(touches[2].normal, touches[0].normal);
	double dv = touches[0].distance - touches[2].distance;
	double determinant = u.x * v.y - u.y * v.x;
	*step = (struct cutlint_xy){(du * v.y - dv * u.y) / determinant,
				    (u.x * dv - v.x * du) / determinant};
	return determinant != 0;
}

void refine_circle(const struct cutlint_design *design, const struct geo_lines *lines,
		   const uint32_t *segments, uint32_t count, struct cutlint_xy *centre,
		   double *radius)
{
	if (count < 1 || count > 3 || *radius <= 0)
		return;
	struct touch touches[3];
	for (uint32_t i = 0; i < count; i++)
		touches[i].foot = (struct refine_foot){segments[i], {0, 0}};
	double most = *radius + 3 * design->flatness_mm + ROUNDING;
	struct cutlint_xy at = *centre, step;
	double best = 0;
	for (int round = 0; round < 20; round++) {
		touch_walls(design, lines, touches, count, at);
		double reached = least_distance(touches, count);
		if (!(reached > best + SETTLED) || reached > most)
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
