#include "geometry/curve.h"

#include <math.h>
#include <stdbool.h>

#define MOST_STEPS 1000000u

/* Starts of the search for a nearest point: enough that a cubic's at most five stationary points
 * are told apart wherever that makes a visible difference. */
#define STARTS 16

/* Halvings after which a length's integral stops, which a cusp reaches at about half of them. */
#define MOST_HALVINGS 40

static struct cutlint_xy combine(double a, struct cutlint_xy p, double b, struct cutlint_xy q)
{
	return (struct cutlint_xy){a * p.x + b * q.x, a * p.y + b * q.y};
}

static double dot(struct cutlint_xy a, struct cutlint_xy b)
{
	return a.x * b.x + a.y * b.y;
}

/* a - 2b + c */
static struct cutlint_xy second_difference(struct cutlint_xy a, struct cutlint_xy b,
					   struct cutlint_xy c)
{
	return (struct cutlint_xy){a.x - 2 * b.x + c.x, a.y - 2 * b.y + c.y};
}

static double arc_angle(const struct curve *curve, double t)
{
	return curve->p[3].x + t * curve->p[3].y;
}

struct cutlint_xy curve_at(const struct curve *curve, double t)
{
	const struct cutlint_xy *p = curve->p;
	double s = 1 - t;
	if (curve->kind == CURVE_ARC) {
		double angle = arc_angle(curve, t);
		struct cutlint_xy off = combine(cos(angle), p[1], sin(angle), p[2]);
		return combine(1, p[0], 1, off);
	}
	if (curve->kind == CURVE_QUADRATIC)
		return combine(1, combine(s * s, p[0], 2 * s * t, p[1]), t * t, p[2]);
	struct cutlint_xy start = combine(s * s * s, p[0], 3 * s * s * t, p[1]);
	return combine(1, start, 1, combine(3 * s * t * t, p[2], t * t * t, p[3]));
}

struct cutlint_xy curve_derivative(const struct curve *curve, double t)
{
	const struct cutlint_xy *p = curve->p;
	double s = 1 - t;
	if (curve->kind == CURVE_ARC) {
		double angle = arc_angle(curve, t), sweep = p[3].y;
		return combine(-sweep * sin(angle), p[1], sweep * cos(angle), p[2]);
	}
	if (curve->kind == CURVE_QUADRATIC)
		return combine(2 * s, combine(1, p[1], -1, p[0]), 2 * t,
			       combine(1, p[2], -1, p[1]));
	struct cutlint_xy ends = combine(3 * s * s, combine(1, p[1], -1, p[0]), 3 * t * t,
					 combine(1, p[3], -1, p[2]));
	return combine(1, ends, 6 * s * t, combine(1, p[2], -1, p[1]));
}

static struct cutlint_xy second_derivative(const struct curve *curve, double t)
{
	const struct cutlint_xy *p = curve->p;
	if (curve->kind == CURVE_ARC) {
		double angle = arc_angle(curve, t), square = p[3].y * p[3].y;
		return combine(-square * cos(angle), p[1], -square * sin(angle), p[2]);
	}
	struct cutlint_xy first = second_difference(p[0], p[1], p[2]);
	if (curve->kind == CURVE_QUADRATIC)
		return combine(2, first, 0, first);
	return combine(6 * (1 - t), first, 6 * t, second_difference(p[1], p[2], p[3]));
}

/* The larger singular value of the matrix [u v]: the larger half-axis of the ellipse. */
static double larger_axis(struct cutlint_xy u, struct cutlint_xy v)
{
	double sum = hypot(u.x + v.y, u.y - v.x), difference = hypot(u.x - v.y, u.y + v.x);
	return (sum + difference) / 2;
}

/* max |P''|; of a cubic it is at an end, since P'' is linear in t. */
static double most_bend(const struct curve *curve)
{
	const struct cutlint_xy *p = curve->p;
	if (curve->kind == CURVE_ARC)
		return larger_axis(p[1], p[2]) * p[3].y * p[3].y;
	struct cutlint_xy first = second_difference(p[0], p[1], p[2]);
	if (curve->kind == CURVE_QUADRATIC)
		return 2 * hypot(first.x, first.y);
	struct cutlint_xy last = second_difference(p[1], p[2], p[3]);
	return 6 * fmax(hypot(first.x, first.y), hypot(last.x, last.y));
}

uint32_t curve_steps(const struct curve *curve, double flatness)
{
	double bend = most_bend(curve);
	if (bend == 0)
		return 1;
	double steps = ceil(sqrt(bend / (8 * flatness)));
	if (!(flatness > 0) || !(steps < MOST_STEPS))
		return MOST_STEPS;
	return steps > 1 ? (uint32_t)steps : 1;
}

static double distance_at(const struct curve *curve, struct cutlint_xy at, double t)
{
	struct cutlint_xy off = combine(1, curve_at(curve, t), -1, at);
	return hypot(off.x, off.y);
}

/*
 * Newton's method on (P - at)·P' = 0, kept inside a bracket that shrinks at every step, so that a
 * bad step becomes a halving.
 */
static double refine_nearest(const struct curve *curve, struct cutlint_xy at, double low,
			     double high)
{
	double t = (low + high) / 2;
	for (int i = 0; i < 100 && high > low; i++) {
		struct cutlint_xy off = combine(1, curve_at(curve, t), -1, at);
		struct cutlint_xy slope = curve_derivative(curve, t);
		double value = dot(off, slope);
		double rise = dot(slope, slope) + dot(off, second_derivative(curve, t));
		if (value > 0)
			high = t;
		else
			low = t;
		double next = t - value / rise;
		if (!(rise > 0) || !(next >= low && next <= high))
			next = (low + high) / 2;
		double moved = fabs(next - t) * sqrt(dot(slope, slope));
		bool stays = next == t;
		t = next;
		if (stays || (moved < 1e-12 && rise > 0))
			break;
	}
	return t;
}

double curve_nearest(const struct curve *curve, struct cutlint_xy at, double from, double to)
{
	double distances[STARTS + 1];
	double step = (to - from) / STARTS;
	for (int i = 0; i <= STARTS; i++)
		distances[i] = distance_at(curve, at, i == STARTS ? to : from + i * step);

	double best = distances[STARTS] < distances[0] ? to : from;
	double least = fmin(distances[0], distances[STARTS]);
	for (int i = 0; i <= STARTS; i++) {
		bool lower_before = i > 0 && distances[i - 1] < distances[i];
		bool lower_after = i < STARTS && distances[i + 1] < distances[i];
		if (lower_before || lower_after)
			continue;
		double low = i > 0 ? from + (i - 1) * step : from;
		double high = i + 1 < STARTS ? from + (i + 1) * step : to;
		double t = refine_nearest(curve, at, low, high);
		double distance = distance_at(curve, at, t);
		if (distance < least) {
			least = distance;
			best = t;
		}
	}
	return best;
}

/* Gauss-Legendre quadrature of |P'| with 8 nodes (Abramowitz and Stegun 1964, table 25.4). */
static double length_between(const struct curve *curve, double from, double to)
{
	static const double node[4] = {0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
				       0.9602898564975363};
	static const double weight[4] = {0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
					 0.1012285362903763};
	double middle = (from + to) / 2, half = (to - from) / 2, sum = 0;
	for (int i = 0; i < 4; i++) {
		struct cutlint_xy a = curve_derivative(curve, middle - half * node[i]);
		struct cutlint_xy b = curve_derivative(curve, middle + half * node[i]);
		sum += weight[i] * (hypot(a.x, a.y) + hypot(b.x, b.y));
	}
	return sum * half;
}

static double adaptive_length(const struct curve *curve, double from, double to, double whole,
			      double tolerance, int halvings)
{
	double middle = (from + to) / 2;
	double left = length_between(curve, from, middle);
	double right = length_between(curve, middle, to);
	if (!(fabs(left + right - whole) > tolerance) || halvings == 0)
		return left + right;
	return adaptive_length(curve, from, middle, left, tolerance, halvings - 1) +
	       adaptive_length(curve, middle, to, right, tolerance, halvings - 1);
}

double curve_length(const struct curve *curve)
{
	double whole = length_between(curve, 0, 1);
	return adaptive_length(curve, 0, 1, whole, 1e-11 * whole, MOST_HALVINGS);
}
