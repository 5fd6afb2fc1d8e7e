/*
 * neck-bisector.h - the curve of equal distance from two wall features, walked with one of them on
 * the left and the other on the right.
 *
 * It is a line between two edges or two corners, a parabola between a corner and an edge. Places on
 * it are at[0] + at[1] t + at[2] t², t grows in the direction of the walk, and whether another
 * feature is nearer than both is the sign of a polynomial in t of degree 2 at most.
 */
#ifndef GEOMETRY_NECK_BISECTOR_H
#define GEOMETRY_NECK_BISECTOR_H

#include <math.h>

#include "geometry/neck-walls.h"

/* A feature seen from a local origin. */
struct neck_shape {
	bool corner;
	struct geo_vector at;     /* the corner, or where the half-edge starts */
	struct geo_vector along;  /* of an edge: its direction, of length 1 */
	struct geo_vector normal; /* of an edge: to its left, of length 1 */
	double length;
};

enum neck_bisector_kind { NECK_LINES, NECK_POINTS, NECK_PARABOLA };

struct neck_bisector {
	enum neck_bisector_kind kind;
	struct geo_vector at[3];
	double from;          /* the t at which the walk enters */
	double radius, slope; /* of lines: distance from both is radius + slope × t */
	double apart; /* of points: half their distance; of a parabola: focus to directrix */
	struct neck_shape left, right;
};

/* f(t) = c[0] + c[1] t + c[2] t². */
struct neck_polynomial {
	double c[3];
};

/* Of an edge by its ends. */
static inline struct neck_shape neck_edge_shape(struct geo_vector from, struct geo_vector to)
{
	struct geo_vector run = neck_minus(to, from);
	double length = sqrt(neck_dot(run, run));
	struct geo_vector along = {run.x / length, run.y / length};
	return (struct neck_shape){
		.at = from, .along = along, .normal = {-along.y, along.x}, .length = length};
}

struct neck_shape neck_shape(const struct neck_walls *walls, neck_feature feature,
			     struct cutlint_point origin);

/* Enters the bisector at `x`, which is equally far from both. False where they have none. */
bool neck_bisector_init(struct neck_bisector *bisector, const struct neck_shape *left,
			const struct neck_shape *right, struct geo_vector x);

struct geo_vector neck_bisector_at(const struct neck_bisector *bisector, double t);
double neck_bisector_radius(const struct neck_bisector *bisector, double t);

/* The length of the curve from one t to a later one. */
double neck_bisector_length(const struct neck_bisector *bisector, double from, double to);

/* The t at which the curve has run a length from another t on. */
double neck_bisector_after(const struct neck_bisector *bisector, double from, double length);

/* The first t from `from` on at which the radius is above, or below, a bound; else INFINITY. */
double neck_bisector_above(const struct neck_bisector *bisector, double radius);
double neck_bisector_below(const struct neck_bisector *bisector, double radius);

/* Negative where another feature is nearer than both: a point; or the line of an edge, of which the
 * walk is on the left. */
struct neck_polynomial neck_bisector_to_point(const struct neck_bisector *bisector,
					      struct geo_vector point);
struct neck_polynomial neck_bisector_to_edge(const struct neck_bisector *bisector,
					     const struct neck_shape *edge);

/* Negative where a foot has left the feature at the end towards which the walk goes. For a corner,
 * `way` is the direction of the edge that comes next. */
struct neck_polynomial neck_bisector_leaves(const struct neck_bisector *bisector, bool left,
					    struct geo_vector way);

/* The t, `from` or later, at which a polynomial turns negative; INFINITY if never. It may be
 * negative by `slack` at `from`, if it grows. */
double neck_turns_negative(const struct neck_polynomial *f, double from, double slack);

#endif
