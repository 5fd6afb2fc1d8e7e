/* rim.h - one closed boundary of a face as a way round, with its turns. */
#ifndef SHEET_RIM_H
#define SHEET_RIM_H

#include <stdbool.h>
#include <stdint.h>

#include "cutlint/point.h"
#include "geometry/arrangement.h"

/* The face lies on its left. A zeroed one is empty. */
struct rim {
	uint32_t *halves;
	struct cutlint_xy *points; /* where each half-edge starts */
	double *way;               /* to each point, in mm; one more than points */
	double *turn;              /* at each point: by rim_turn() */
	uint32_t count, capacity;
};

/* Walks once round from a half-edge; room is used again. 0, or -1 where memory ran out. */
int rim_load(struct rim *rim, const struct geo_arrangement *arrangement, uint32_t start);
void rim_finish(struct rim *rim);

/*
 * The place so far round, and the half-edge it lies on; `way` may lie one trip off on both sides.
 * Looks near `point` first and leaves there the point before the place: short ways take no search.
 */
struct cutlint_xy rim_place(const struct rim *rim, double way, uint32_t *point, uint32_t *half);

static inline double rim_trip(const struct rim *rim)
{
	return rim->way[rim->count];
}

/* The turn at a point in rad; positive where the face is convex. Worked out when it is asked for.
 */
double rim_turn(struct rim *rim, uint32_t point);

/* Whether that turn is positive, which is found at once. */
bool rim_is_convex(const struct rim *rim, uint32_t point);

static inline uint32_t rim_next(const struct rim *rim, uint32_t point)
{
	return point + 1 < rim->count ? point + 1 : 0;
}

static inline uint32_t rim_before(const struct rim *rim, uint32_t point)
{
	return point ? point - 1 : rim->count - 1;
}

/* Of the side that starts at a point, in mm. */
static inline double rim_side(const struct rim *rim, uint32_t point)
{
	return rim->way[point + 1] - rim->way[point];
}

#endif
