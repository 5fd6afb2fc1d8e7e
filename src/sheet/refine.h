/* refine.h - places on the true curves, from places on their chords. */
#ifndef SHEET_REFINE_H
#define SHEET_REFINE_H

#include <stdbool.h>
#include <stdint.h>

#include "cutlint/model.h"
#include "geometry/lines.h"

/* A foot or a centre that moves by less has settled. */
#define REFINE_SETTLED_MM 1e-10

/* Vertices and feet are rounded to the grid, so that distances are off by as much. */
#define REFINE_ROUNDING_MM 5e-6

/* By how much a refined distance differs from the one between chords at most, in mm. */
static inline double refine_most(const struct cutlint_design *design)
{
	return 3 * design->flatness_mm + REFINE_ROUNDING_MM;
}

/* A place on a segment of `lines`; below the design's vertex_count that is a vertex's side. */
struct refine_foot {
	uint32_t segment;
	struct cutlint_xy at;
	bool fixed; /* it stays: a corner where its line goes on into another window */
};

/*
 * Moves two feet to where the true curves under them are locally nearest, by Newton's method on
 * their parameters; straight sides stay. Returns the distance in mm. Where the curves lead farther
 * off than the flattening explains, the feet stay.
 */
double refine_width(const struct cutlint_design *design, const struct geo_lines *lines,
		    struct refine_foot feet[2]);

/* The same with a straight segment from `from` to `to` in place of the second line. */
double refine_to_segment(const struct cutlint_design *design, const struct geo_lines *lines,
			 struct refine_foot feet[2], struct cutlint_xy from, struct cutlint_xy to);

/*
 * The place nearest to `at` on the side under a foot; from the end of a curve it goes on to the
 * next side, where that leads on smoothly.
 */
struct refine_foot refine_nearest(const struct cutlint_design *design,
				  const struct geo_lines *lines, struct refine_foot foot,
				  struct cutlint_xy at);

/* A chord that a circle touches: all of a segment, or the part of it that bounds a region. */
struct refine_chord {
	uint32_t segment;
	struct cutlint_xy from, to;
};

/*
 * Moves a circle so that it touches the true curves under up to three chords instead of
 * those. Centre and radius in mm; the circle grows by no more than the flattening explains.
 */
void refine_circle(const struct cutlint_design *design, const struct geo_lines *lines,
		   const struct refine_chord *chords, uint32_t count, struct cutlint_xy *centre,
		   double *radius);

#endif
