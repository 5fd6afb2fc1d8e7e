#include "sheet/refine.h"

#include <math.h>
#include <stdbool.h>

#include "geometry/curve.h"
#include "model/private.h"
#include "sheet/xy.h"

/* One side of a line: a stretch of its true curve, or a straight segment with t from 0 to 1. */
struct side {
	uint32_t segment;
	const struct curve *curve; /* NULL for a straight one */
	uint32_t first;            /* the vertex at which the curve starts */
	double low, high;          /* of t */
	struct cutlint_xy from, to;
};

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
	return side->curve ? curve_derivative(side->curve, t) : xy_minus(side->to, side->from);
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
	struct cutlint_xy along = xy_minus(side->to, side->from);
	double square = xy_dot(along, along);
	return square > 0 ? fmin(1, fmax(0, xy_dot(xy_minus(at, side->from), along) / square)) : 0;
}

/* Two sides with the parameters of a foot on each. */
struct pair {
	struct side sides[2];
	double t[2];
};

static double width(const struct pair *pair)
{
	return xy_length(
		xy_minus(place(&pair->sides[0], pair->t[0]), place(&pair->sides[1], pair->t[1])));
}

static double clamp(const struct side *side, double t)
{
	return fmin(side->high, fmax(side->low, t));
}

/* The slopes and second derivatives of half the squared distance. */
struct slopes {
	double a, b, aa, ab, bb;
};

static struct slopes slopes_at(const struct pair *pair)
{
	const struct side *a = &pair->sides[0], *b = &pair->sides[1];
	struct cutlint_xy d = xy_minus(place(a, pair->t[0]), place(b, pair->t[1]));
	struct cutlint_xy da = slope(a, pair->t[0]), db = slope(b, pair->t[1]);
	return (struct slopes){
		.a = xy_dot(d, da),
		.b = -xy_dot(d, db),
		.aa = xy_dot(da, da) + xy_dot(d, bend(a, pair->t[0])),
		.ab = -xy_dot(da, db),
		.bb = xy_dot(db, db) - xy_dot(d, bend(b, pair->t[1])),
	};
}

/*
 * Goes a step within both sides' bounds, or a share of it, so that the distance does not grow.
 * Returns how far the feet moved, in mm; 0 if no share will do.
 */
static double go(struct pair *pair, double step_a, double step_b)
{
	enum { MOST_HALVINGS = 8 };
	double before = width(pair), share = 1;
	for (int i = 0; i < MOST_HALVINGS; i++, share /= 2) {
		struct pair next = *pair;
		next.t[0] = clamp(&pair->sides[0], pair->t[0] + share * step_a);
		next.t[1] = clamp(&pair->sides[1], pair->t[1] + share * step_b);
		if (width(&next) > before)
			continue;
		double moved = 0;
		for (int s = 0; s < 2; s++)
			moved += fabs(next.t[s] - pair->t[s]) *
				 xy_length(slope(&pair->sides[s], pair->t[s]));
		*pair = next;
		return moved;
	}
	return 0;
}

/*
 * Goes to the local minimum of the distance within both sides' bounds: by Newton's steps for both
 * feet at once, or where these do not help, as at a bound, for one after the other.
 */
static void settle(struct pair *pair)
{
	enum { MOST_STEPS = 30 };
	for (int i = 0; i < MOST_STEPS; i++) {
		struct slopes s = slopes_at(pair);
		double determinant = s.aa * s.bb - s.ab * s.ab, moved = 0;
		if (s.aa > 0 && determinant > 1e-9 * s.aa * s.bb)
			moved = go(pair, (s.ab * s.b - s.bb * s.a) / determinant,
				   (s.ab * s.a - s.aa * s.b) / determinant);
		if (moved > REFINE_SETTLED_MM)
			continue;
		s = slopes_at(pair);
		if (s.aa > 0)
			moved += go(pair, -s.a / s.aa, 0);
		s = slopes_at(pair);
		if (s.bb > 0)
			moved += go(pair, 0, -s.b / s.bb);
		if (moved < REFINE_SETTLED_MM)
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
	const double nearly = 1e-9;
	bool up = pair->t[s] >= side->high - nearly;
	if (!up && pair->t[s] > side->low + nearly)
		return false;
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
	double start = xy_length(xy_minus(feet[0].at, feet[1].at));
	if (!pair->sides[0].curve && !pair->sides[1].curve)
		return start;
	settle(pair);
	for (int i = 0; i < MOST_MOVES; i++) {
		bool moved = false;
		for (int s = 0; s < 2; s++)
			moved = moved || (!feet[s].fixed && move_on(design, lines, pair, s));
		if (!moved)
			break;
	}

	double end = width(pair);
	if (fabs(end - start) > refine_most(design))
		return start;
	for (int s = 0; s < 2; s++) {
		feet[s].at = place(&pair->sides[s], pair->t[s]);
		feet[s].segment = segment_at(&pair->sides[s], pair->t[s]);
	}
	return end;
}

/* A side of no length, for a foot that stays. */
static struct side stay(const struct refine_foot *foot)
{
	return (struct side){.segment = foot->segment, .high = 1, .from = foot->at, .to = foot->at};
}

double refine_width(const struct cutlint_design *design, const struct geo_lines *lines,
		    struct refine_foot feet[2])
{
	struct pair pair;
	for (int s = 0; s < 2; s++) {
		pair.sides[s] =
			feet[s].fixed ? stay(&feet[s]) : load(design, lines, feet[s].segment);
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
	feet[1].fixed = true;
	return refine_pair(design, lines, &pair, feet);
}

/* The place nearest to `at` on one side. */
static struct refine_foot foot_on(const struct side *side, struct cutlint_xy at, double *t)
{
	*t = nearest(side, at);
	return (struct refine_foot){segment_at(side, *t), place(side, *t), false};
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
	double gained = xy_length(xy_minus(best.at, at)) - xy_length(xy_minus(other.at, at));
	return gained > 0 && gained <= design->flatness_mm ? other : best;
}
