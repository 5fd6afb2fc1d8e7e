/* shapes.h - chains for tests, built point by point in millimetres. */
#ifndef TESTS_GEOMETRY_SHAPES_H
#define TESTS_GEOMETRY_SHAPES_H

#include <math.h>

#include "geometry/lines.h"
#include "random.h"

#define SHAPES_POINTS 400000
#define SHAPES_CHAINS 4000

static const double pi = 3.14159265358979323846;

/* A drawing under construction. Too large for the stack: make it static. */
struct shapes {
	struct cutlint_point points[SHAPES_POINTS];
	struct geo_chain chains[SHAPES_CHAINS];
	uint32_t point_count, chain_count;
};

static inline void shapes_begin(struct shapes *shapes, bool closed)
{
	shapes->chains[shapes->chain_count++] =
		(struct geo_chain){.first = shapes->point_count, .closed = closed};
}

/* A vertex in mm on the chain begun last. */
static inline void shapes_add(struct shapes *shapes, double x, double y)
{
	shapes->points[shapes->point_count++] =
		(struct cutlint_point){(int32_t)lround(x * 1e6), (int32_t)lround(y * 1e6)};
	shapes->chains[shapes->chain_count - 1].count++;
}

static inline struct geo_lines shapes_lines(const struct shapes *shapes)
{
	return (struct geo_lines){.points = shapes->points,
				  .chains = shapes->chains,
				  .point_count = shapes->point_count,
				  .chain_count = shapes->chain_count};
}

static inline void shapes_clear(struct shapes *shapes)
{
	shapes->point_count = shapes->chain_count = 0;
}

static inline void shapes_rectangle(struct shapes *shapes, double x, double y, double width,
				    double height)
{
	shapes_begin(shapes, true);
	shapes_add(shapes, x, y);
	shapes_add(shapes, x + width, y);
	shapes_add(shapes, x + width, y + height);
	shapes_add(shapes, x, y + height);
}

static inline void shapes_line(struct shapes *shapes, double x0, double y0, double x1, double y1)
{
	shapes_begin(shapes, false);
	shapes_add(shapes, x0, y0);
	shapes_add(shapes, x1, y1);
}

/* A polygon inscribed in a circle, its first vertex at `start` radians. */
static inline void shapes_circle(struct shapes *shapes, double x, double y, double radius,
				 int count, double start)
{
	shapes_begin(shapes, true);
	for (int i = 0; i < count; i++) {
		double angle = start + 2 * pi * i / count;
		shapes_add(shapes, x + radius * cos(angle), y + radius * sin(angle));
	}
}

/* A star-shaped polygon with random radii between `least` and `most`. */
static inline void shapes_blob(struct shapes *shapes, struct random *random, double x, double y,
			       double least, double most, int count)
{
	shapes_begin(shapes, true);
	for (int i = 0; i < count; i++) {
		double angle = 2 * pi * (i + random_between(random, 0, 0.8)) / count;
		double radius = random_between(random, least, most);
		shapes_add(shapes, x + radius * cos(angle), y + radius * sin(angle));
	}
}

#endif
