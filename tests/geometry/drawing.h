/* drawing.h - small drawings in millimetres for the tests of necks, and their necks. */
#ifndef TESTS_GEOMETRY_DRAWING_H
#define TESTS_GEOMETRY_DRAWING_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "geometry/neck.h"

#define DRAWING_POINTS 400000
#define DRAWING_CHAINS 20000

struct drawing {
	struct cutlint_point *points;
	struct geo_chain *chains;
	uint32_t point_count, chain_count;
	double turn; /* all that is drawn is turned about the origin, in radians */
	struct geo_arrangement *arrangement;
	bool *kept;
	struct geo_necks necks;
};

static inline struct drawing draw_start(double turn)
{
	struct drawing drawing = {.turn = turn};
	drawing.points = malloc(DRAWING_POINTS * sizeof *drawing.points);
	drawing.chains = malloc(DRAWING_CHAINS * sizeof *drawing.chains);
	assert_non_null(drawing.points);
	assert_non_null(drawing.chains);
	return drawing;
}

static inline void draw_finish(struct drawing *drawing)
{
	geo_necks_finish(&drawing->necks);
	geo_arrangement_destroy(drawing->arrangement);
	free(drawing->kept);
	free(drawing->points);
	free(drawing->chains);
}

static inline void draw_begin(struct drawing *drawing, bool closed)
{
	assert_true(drawing->chain_count < DRAWING_CHAINS);
	drawing->chains[drawing->chain_count++] =
		(struct geo_chain){drawing->point_count, 0, closed};
}

static inline void draw_to(struct drawing *drawing, double x, double y)
{
	assert_true(drawing->point_count < DRAWING_POINTS);
	double c = cos(drawing->turn), s = sin(drawing->turn);
	drawing->points[drawing->point_count++] = (struct cutlint_point){
		(int32_t)lround((c * x - s * y) * 1e6), (int32_t)lround((s * x + c * y) * 1e6)};
	drawing->chains[drawing->chain_count - 1].count++;
}

static inline void draw_rectangle(struct drawing *drawing, double x, double y, double w, double h)
{
	draw_begin(drawing, true);
	draw_to(drawing, x, y);
	draw_to(drawing, x + w, y);
	draw_to(drawing, x + w, y + h);
	draw_to(drawing, x, y + h);
}

/* Chords whose ends lie on the ellipse; the first end at the angle `from`. */
static inline void draw_ellipse(struct drawing *drawing, double x, double y, double a, double b,
				int sides, double from)
{
	draw_begin(drawing, true);
	for (int i = 0; i < sides; i++) {
		double angle = from + 2 * acos(-1) * i / sides;
		draw_to(drawing, x + a * cos(angle), y + b * sin(angle));
	}
}

static inline void draw_line(struct drawing *drawing, double x, double y, double to_x, double to_y)
{
	draw_begin(drawing, false);
	draw_to(drawing, x, y);
	draw_to(drawing, to_x, to_y);
}

/* Kept is what lies an odd number of edges from outside. Widths up to `limit` mm. */
static inline uint32_t draw_search(struct drawing *drawing, double limit)
{
	struct geo_lines lines = {drawing->points, drawing->chains, drawing->point_count,
				  drawing->chain_count};
	drawing->arrangement = geo_arrangement_create(&lines, NULL);
	assert_non_null(drawing->arrangement);
	drawing->kept = calloc(drawing->arrangement->face_count, sizeof *drawing->kept);
	assert_non_null(drawing->kept);
	for (uint32_t i = 0; i < drawing->arrangement->face_count; i++)
		drawing->kept[i] = drawing->arrangement->faces[i].depth & 1;
	struct geo_neck_search search = {limit * 1e6, 0.02 * 1e6, 0.05, drawing->kept};
	assert_int_equal(geo_necks_find(drawing->arrangement, &search, &drawing->necks), 0);
	return drawing->necks.count;
}

static inline uint32_t draw_count(const struct drawing *drawing, enum geo_neck_kind kind)
{
	uint32_t count = 0;
	for (uint32_t i = 0; i < drawing->necks.count; i++)
		count += drawing->necks.items[i].kind == kind;
	return count;
}

/* The narrowest of a kind; there must be one. */
static inline const struct geo_neck *draw_narrowest(const struct drawing *drawing,
						    enum geo_neck_kind kind)
{
	const struct geo_neck *best = NULL;
	for (uint32_t i = 0; i < drawing->necks.count; i++) {
		const struct geo_neck *neck = &drawing->necks.items[i];
		if (neck->kind == kind && (!best || neck->width < best->width))
			best = neck;
	}
	assert_non_null(best);
	return best;
}

/* How far a place lies from (x, y), in mm, in the drawing's own axes. */
static inline double draw_apart(const struct drawing *drawing, struct geo_vector at, double x,
				double y)
{
	double c = cos(drawing->turn), s = sin(drawing->turn);
	return hypot(at.x * 1e-6 - (c * x - s * y), at.y * 1e-6 - (s * x + c * y));
}

/* Whether both feet, in either order, lie within `tolerance` mm of two places. */
static inline bool draw_spans(const struct drawing *drawing, const struct geo_neck *neck, double ax,
			      double ay, double bx, double by, double tolerance)
{
	const struct geo_foot *feet = neck->feet;
	return (draw_apart(drawing, feet[0].at, ax, ay) <= tolerance &&
		draw_apart(drawing, feet[1].at, bx, by) <= tolerance) ||
	       (draw_apart(drawing, feet[1].at, ax, ay) <= tolerance &&
		draw_apart(drawing, feet[0].at, bx, by) <= tolerance);
}

#endif
