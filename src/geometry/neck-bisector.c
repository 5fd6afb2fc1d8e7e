#include "geometry/neck-bisector.h"

#include <math.h>

#include "geometry/least.h"

struct neck_shape neck_shape(const struct neck_walls *walls, neck_feature feature,
			     struct cutlint_point origin)
{
	const struct geo_arrangement *arrangement = walls->arrangement;
	uint32_t half = neck_half(feature);
	struct neck_shape shape = {.corner = neck_is_corner(feature)};
	shape.at = neck_place(walls, geo_half_edge_from(arrangement, half), origin);
	if (shape.corner)
		return shape;
	return neck_edge_shape(shape.at,
			       neck_place(walls, geo_half_edge_to(arrangement, half), origin));
}

/* Turns a vector from the right wall to the left one into the direction of the walk. */
static struct geo_vector forward(struct geo_vector across)
{
	double length = sqrt(neck_dot(across, across));
	return (struct geo_vector){across.y / length, -across.x / length};
}

static double above_line(const struct neck_shape *edge, struct geo_vector x)
{
	return neck_dot(edge->normal, neck_minus(x, edge->at));
}

static bool between_lines(struct neck_bisector *bisector, struct geo_vector x)
{
	const struct neck_shape *left = &bisector->left, *right = &bisector->right;
	struct geo_vector across = neck_minus(right->normal, left->normal);
	if (neck_dot(across, across) < 1e-20)
		return false;
	bisector->kind = NECK_LINES;
	bisector->at[0] = x;
	bisector->at[1] = forward(across);
	bisector->radius = (above_line(left, x) + above_line(right, x)) / 2;
	bisector->slope = (neck_dot(left->normal, bisector->at[1]) +
			   neck_dot(right->normal, bisector->at[1])) /
			  2;
	return true;
}

static bool between_points(struct neck_bisector *bisector, struct geo_vector x)
{
	struct geo_vector p = bisector->left.at, q = bisector->right.at;
	struct geo_vector across = neck_minus(p, q);
	if (neck_dot(across, across) <= 0)
		return false;
	bisector->kind = NECK_POINTS;
	bisector->at[0] = (struct geo_vector){(p.x + q.x) / 2, (p.y + q.y) / 2};
	bisector->at[1] = forward(across);
	bisector->apart = sqrt(neck_dot(across, across)) / 2;
	bisector->from = neck_dot(neck_minus(x, bisector->at[0]), bisector->at[1]);
	return true;
}

/* In the frame whose origin is the corner's foot on the edge: (t, (t² + p²) / 2p). */
static bool between_both(struct neck_bisector *bisector, struct geo_vector x)
{
	bool edge_left = bisector->right.corner;
	const struct neck_shape *edge = edge_left ? &bisector->left : &bisector->right;
	const struct neck_shape *corner = edge_left ? &bisector->right : &bisector->left;
	double p = above_line(edge, corner->at);
	if (p <= 0)
		return false;
	bisector->kind = NECK_PARABOLA;
	bisector->apart = p;
	bisector->at[0] = neck_along(corner->at, -p / 2, edge->normal);
	bisector->at[1] =
		edge_left ? (struct geo_vector){-edge->along.x, -edge->along.y} : edge->along;
	bisector->at[2] = (struct geo_vector){edge->normal.x / (2 * p), edge->normal.y / (2 * p)};
	bisector->from = neck_dot(neck_minus(x, corner->at), bisector->at[1]);
	return true;
}

bool neck_bisector_init(struct neck_bisector *bisector, const struct neck_shape *left,
			const struct neck_shape *right, struct geo_vector x)
{
	*bisector = (struct neck_bisector){.left = *left, .right = *right};
	if (left->corner && right->corner)
		return between_points(bisector, x);
	if (!left->corner && !right->corner)
		return between_lines(bisector, x);
	return between_both(bisector, x);
}

struct geo_vector neck_bisector_at(const struct neck_bisector *bisector, double t)
{
	return neck_along(neck_along(bisector->at[0], t, bisector->at[1]), t * t, bisector->at[2]);
}

double neck_bisector_radius(const struct neck_bisector *bisector, double t)
{
	switch (bisector->kind) {
	case NECK_LINES:
		return bisector->radius + bisector->slope * t;
	case NECK_POINTS:
		return sqrt(bisector->apart * bisector->apart + t * t);
	case NECK_PARABOLA:
		break;
	}
	return (t * t / bisector->apart + bisector->apart) / 2;
}

/* The integral of √(1 + u²) from u to v, with one asinh for both ends by its addition theorem. */
static double parabola_between(double u, double v)
{
	double a = sqrt(1 + u * u), b = sqrt(1 + v * v);
	return (v * b - u * a + asinh(v * a - u * b)) / 2;
}

/* The integral of √(1 + u²) from 0. */
static double parabola_length(double u)
{
	return (u * sqrt(1 + u * u) + asinh(u)) / 2;
}

double neck_bisector_length(const struct neck_bisector *bisector, double from, double to)
{
	if (bisector->kind != NECK_PARABOLA)
		return to - from;
	double p = bisector->apart;
	return p * parabola_between(from / p, to / p);
}

/*
 * Newton's method on a function that grows by √(1 + u²): it settles to rounding in some five steps
 * once the error is below 1, and until then that error shrinks at least by the square root.
 */
double neck_bisector_after(const struct neck_bisector *bisector, double from, double length)
{
	if (bisector->kind != NECK_PARABOLA)
		return from + length;
	double p = bisector->apart, u = from / p, wanted = parabola_length(u) + length / p;
	for (int i = 0; i < 60; i++) {
		double change = (wanted - parabola_length(u)) / sqrt(1 + u * u);
		u += change;
		if (fabs(change) < 1e-14 * (1 + fabs(u)))
			break;
	}
	return u * p;
}

/* How far from the nearest place of a curve that has one the radius has grown to `radius`. */
static double grown(const struct neck_bisector *bisector, double radius)
{
	double p = bisector->apart;
	double square = bisector->kind == NECK_POINTS ? (radius - p) * (radius + p)
						      : 2 * p * radius - p * p;
	return square > 0 ? sqrt(square) : 0;
}

double neck_bisector_above(const struct neck_bisector *bisector, double radius)
{
	if (neck_bisector_radius(bisector, bisector->from) >= radius)
		return bisector->from;
	if (bisector->kind != NECK_LINES)
		return geo_greater(grown(bisector, radius), bisector->from);
	if (bisector->slope <= 0)
		return INFINITY;
	return geo_greater((radius - bisector->radius) / bisector->slope, bisector->from);
}

double neck_bisector_below(const struct neck_bisector *bisector, double radius)
{
	if (neck_bisector_radius(bisector, bisector->from) < radius)
		return bisector->from;
	if (bisector->kind == NECK_LINES) {
		double t = (radius - bisector->radius) / bisector->slope;
		return bisector->slope < 0 ? geo_greater(t, bisector->from) : INFINITY;
	}
	double least = bisector->kind == NECK_POINTS ? bisector->apart : bisector->apart / 2;
	if (bisector->from > 0 || least >= radius)
		return INFINITY;
	return geo_greater(-grown(bisector, radius), bisector->from);
}

struct neck_polynomial neck_bisector_to_point(const struct neck_bisector *bisector,
					      struct geo_vector point)
{
	struct geo_vector to, d = bisector->at[1];
	double p = bisector->apart, r = bisector->radius, s = bisector->slope;
	switch (bisector->kind) {
	case NECK_LINES:
		to = neck_minus(bisector->at[0], point);
		return (struct neck_polynomial){
			{neck_dot(to, to) - r * r, 2 * (neck_dot(to, d) - r * s), 1 - s * s}};
	case NECK_POINTS:
		to = neck_minus(point, bisector->at[0]);
		return (struct neck_polynomial){
			{neck_dot(to, to) - p * p, -2 * neck_dot(to, d), 0}};
	case NECK_PARABOLA:
		break;
	}
	/* In the frame of the parabola: |(t, y) - (x, h)|² - y² with y = (t² + p²) / 2p. */
	to = neck_minus(point, bisector->at[0]);
	double x = neck_dot(to, d), h = neck_dot(to, bisector->at[2]) * 2 * p + p / 2;
	return (struct neck_polynomial){{x * x + h * (h - p), -2 * x, 1 - h / p}};
}

struct neck_polynomial neck_bisector_to_edge(const struct neck_bisector *bisector,
					     const struct neck_shape *edge)
{
	double at = above_line(edge, bisector->at[0]);
	double run = neck_dot(edge->normal, bisector->at[1]), p = bisector->apart;
	switch (bisector->kind) {
	case NECK_LINES:
		return (struct neck_polynomial){{at - bisector->radius, run - bisector->slope, 0}};
	case NECK_POINTS:
		return (struct neck_polynomial){
			{at * at - p * p, 2 * at * run, (run - 1) * (run + 1)}};
	case NECK_PARABOLA:
		break;
	}
	return (struct neck_polynomial){
		{at - p / 2, run, neck_dot(edge->normal, bisector->at[2]) - 1 / (2 * p)}};
}

struct neck_polynomial neck_bisector_leaves(const struct neck_bisector *bisector, bool left,
					    struct geo_vector way)
{
	const struct neck_shape *shape = left ? &bisector->left : &bisector->right;
	struct neck_polynomial f;
	for (int i = 0; i < 3; i++)
		f.c[i] = -neck_dot(bisector->at[i], shape->corner ? way : shape->along);
	if (shape->corner) {
		f.c[0] += neck_dot(shape->at, way);
		return f;
	}
	double start = neck_dot(shape->at, shape->along);
	if (left)
		return (struct neck_polynomial){{-f.c[0] - start, -f.c[1], -f.c[2]}};
	f.c[0] += start + shape->length;
	return f;
}

/* The one root at which it falls through zero. */
static double falling_root(const struct neck_polynomial *f)
{
	double a = f->c[2], b = f->c[1], c = f->c[0], square = b * b - 4 * a * c;
	if (square < 0)
		return INFINITY;
	double root = sqrt(square);
	if (b > 0)
		return a == 0 ? INFINITY : -(b + root) / (2 * a);
	return b == 0 && root == 0 ? INFINITY : 2 * c / (root - b);
}

double neck_turns_negative(const struct neck_polynomial *f, double from, double slack)
{
	double now = f->c[0] + from * (f->c[1] + from * f->c[2]);
	double change = f->c[1] + 2 * from * f->c[2];
	if (now <= slack && change < 0)
		return from;
	double t = falling_root(f);
	return t >= from ? t : INFINITY;
}
