#include <math.h>

#include "geometry/match-turns.h"
#include "geometry/match.h"

/* Places of the form that are laid on the other one to refine a placing. */
#define PLACES 512
#define ROUNDS 30

struct fitting {
	const struct geo_form *a, *b;
	struct geo_vector places[PLACES]; /* of a */
	double tolerance;
};

/* The sums of a least squares problem in three unknowns: turn, and shift in x and y. */
struct sums {
	double matrix[3][3], right[3];
};

static void add_row(struct sums *sums, const double row[3], double value)
{
	for (int i = 0; i < 3; i++) {
		for (int k = 0; k < 3; k++)
			sums->matrix[i][k] += row[i] * row[k];
		sums->right[i] += row[i] * value;
	}
}

/* Gauss's elimination; the matrix is positive definite. */
static void solve(struct sums *sums, double out[3])
{
	for (int i = 0; i < 3; i++)
		for (int k = i + 1; k < 3; k++) {
			double share = sums->matrix[k][i] / sums->matrix[i][i];
			for (int j = i; j < 3; j++)
				sums->matrix[k][j] -= share * sums->matrix[i][j];
			sums->right[k] -= share * sums->right[i];
		}
	for (int i = 2; i >= 0; i--) {
		double rest = sums->right[i];
		for (int k = i + 1; k < 3; k++)
			rest -= sums->matrix[i][k] * out[k];
		out[i] = rest / sums->matrix[i][i];
	}
}

/* The direction in which a place is off the line: across the segment that it lies on. */
static struct geo_vector across(const struct geo_form *form, uint32_t segment,
				struct geo_vector off)
{
	struct geo_segment s = form->segments[segment];
	struct geo_vector normal = {(double)s.from.y - s.to.y, (double)s.to.x - s.from.x};
	double length = hypot(normal.x, normal.y), distance = hypot(off.x, off.y);
	if (distance > 1 || length == 0) {
		normal = off;
		length = distance;
	}
	if (length == 0)
		return (struct geo_vector){0, 0};
	return (struct geo_vector){normal.x / length, normal.y / length};
}

/*
 * One round of iterative closest points, with distances taken across the lines (Y. Chen and G.
 * Medioni, "Object modelling by registration of multiple range images", 1992). What the lines do
 * not tell, such as the turn of a circle, is held by a small weight on no motion. Returns how far
 * the form has moved.
 */
static double improve(const struct fitting *fitting, struct geo_placing *placing, double reach)
{
	struct sums sums = {0};
	double size = fmax(1, fitting->a->radius), change[3];
	for (int i = 0; i < PLACES; i++) {
		struct geo_vector at = geo_placing_apply(placing, fitting->places[i]), on;
		uint32_t segment = geo_form_nearest(fitting->b, at, reach, &on);
		if (segment == GEO_NONE)
			continue;
		struct geo_vector off = {at.x - on.x, at.y - on.y};
		struct geo_vector n = across(fitting->b, segment, off);
		double x = (at.x - placing->to.x) / size, y = (at.y - placing->to.y) / size;
		double row[3] = {n.y * x - n.x * y, n.x, n.y};
		add_row(&sums, row, -(n.x * off.x + n.y * off.y));
	}
	for (int i = 0; i < 3; i++)
		sums.matrix[i][i] += 1e-6 * PLACES;
	solve(&sums, change);
	placing->turn += change[0] / size;
	placing->to.x += change[1];
	placing->to.y += change[2];
	return fabs(change[0]) + fabs(change[1]) + fabs(change[2]);
}

static bool places_are_near(const struct fitting *fitting, const struct geo_placing *placing)
{
	struct geo_vector on;
	for (int i = 0; i < PLACES; i++) {
		struct geo_vector at = geo_placing_apply(placing, fitting->places[i]);
		if (geo_form_nearest(fitting->b, at, fitting->tolerance, &on) == GEO_NONE)
			return false;
	}
	return true;
}

static double distance_at(const struct fitting *fitting, const struct geo_placing *placing)
{
	if (!places_are_near(fitting, placing))
		return INFINITY;
	return geo_form_hausdorff(fitting->a, placing, fitting->b, fitting->tolerance);
}

static struct geo_motion motion_of(const struct geo_placing *placing, double distance)
{
	return (struct geo_motion){true, remainder(placing->turn, 2 * 3.14159265358979323846),
				   distance};
}

/* The motion that a candidate leads to. The candidate itself stands where refining it does not
 * make it clearly better. */
static struct geo_motion try_turn(const struct fitting *fitting, double turn, bool mirrored)
{
	struct geo_placing start = {fitting->a->middle, fitting->b->middle, turn, mirrored};
	struct geo_placing placing = start;
	double before = distance_at(fitting, &start);
	double reach = 0.05 * fitting->a->radius + fitting->tolerance;
	for (int i = 0; i < ROUNDS; i++) {
		double moved = improve(fitting, &placing, reach);
		if (moved < 1e-4 * fitting->tolerance)
			break;
		reach = fmax(4 * fitting->tolerance, fmin(reach, 4 * moved + 0.5 * reach));
	}
	double after = distance_at(fitting, &placing);
	if (isfinite(before) && !(after < 0.5 * before))
		return motion_of(&start, before);
	if (isfinite(after))
		return motion_of(&placing, after);
	return (struct geo_motion){.distance = INFINITY};
}

static int find_motion(const struct fitting *fitting, bool mirrored, struct geo_motion *out)
{
	*out = try_turn(fitting, 0, mirrored);
	if (out->found)
		return 0;
	double turns[GEO_TURNS_MOST];
	int count = geo_turns_find(fitting->a, mirrored, fitting->b, turns);
	for (int i = 0; i < count && !out->found; i++)
		*out = try_turn(fitting, turns[i], mirrored);
	return count < 0 ? -1 : 0;
}

/* Lengths may differ where flattening or a wavy line does; sizes can't. */
static bool may_match(const struct geo_form *a, const struct geo_form *b, double tolerance)
{
	return a->count > 0 && b->count > 0 &&
	       fabs(a->radius - b->radius) <= 0.1 * a->radius + 4 * tolerance;
}

static int find_motions(const struct geo_form *a, const struct geo_form *b, double tolerance,
			struct geo_congruence *out)
{
	out->same = out->mirrored = (struct geo_motion){.distance = INFINITY};
	if (!may_match(a, b, tolerance))
		return 0;
	struct fitting fitting = {.a = a, .b = b, .tolerance = tolerance};
	geo_form_spread(a, PLACES, fitting.places);
	if (find_motion(&fitting, false, &out->same))
		return -1;
	return find_motion(&fitting, true, &out->mirrored);
}

int geo_congruent(const struct geo_lines *a, const struct geo_lines *b, double tolerance,
		  struct geo_congruence *out)
{
	struct geo_form forms[2] = {0};
	int status = geo_form_init(&forms[0], a);
	if (status == 0)
		status = geo_form_init(&forms[1], b);
	if (status == 0)
		status = find_motions(&forms[0], &forms[1], tolerance, out);
	geo_form_finish(&forms[0]);
	geo_form_finish(&forms[1]);
	return status;
}
