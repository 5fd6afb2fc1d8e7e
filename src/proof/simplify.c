#include "proof/simplify.h"

#include <math.h>
#include <stdlib.h>

/* Stretches still to be looked at: from each kept point to the next one. */
struct work {
	const struct cutlint_point *points;
	uint32_t count;
	double tolerance;
	bool *kept;       /* count + 1: a closed chain comes back to its first point */
	uint32_t *stack;  /* pairs */
	uint32_t pending; /* on the stack */
};

static struct cutlint_point point_at(const struct work *work, uint32_t number)
{
	return work->points[number % work->count];
}

/* How far a point lies from the straight stretch between two others. */
static double distance(struct cutlint_point at, struct cutlint_point from, struct cutlint_point to)
{
	double x = (double)to.x - from.x, y = (double)to.y - from.y;
	double dx = (double)at.x - from.x, dy = (double)at.y - from.y;
	double square = x * x + y * y;
	double share = square > 0 ? (dx * x + dy * y) / square : 0;
	share = share < 0 ? 0 : share > 1 ? 1 : share;
	return hypot(dx - share * x, dy - share * y);
}

static void push(struct work *work, uint32_t from, uint32_t to)
{
	if (to - from < 2)
		return;
	work->stack[work->pending++] = from;
	work->stack[work->pending++] = to;
}

/* Keeps the farthest point of a stretch, and looks at both sides of it. */
static void split(struct work *work, uint32_t from, uint32_t to)
{
	struct cutlint_point a = point_at(work, from), b = point_at(work, to);
	double farthest = work->tolerance;
	uint32_t which = from;
	for (uint32_t i = from + 1; i < to; i++) {
		double off = distance(work->points[i], a, b);
		if (off <= farthest)
			continue;
		farthest = off;
		which = i;
	}
	if (which == from)
		return;
	work->kept[which] = true;
	push(work, from, which);
	push(work, which, to);
}

static uint32_t collect(const struct work *work, struct cutlint_point *out)
{
	uint32_t left = 0;
	for (uint32_t i = 0; i < work->count; i++) {
		if (work->kept[i])
			out[left++] = work->points[i];
	}
	return left;
}

uint32_t simplify(const struct cutlint_point *points, uint32_t count, bool closed,
		  double tolerance_nm, struct cutlint_point *out)
{
	struct work work = {.points = points,
			    .count = count,
			    .tolerance = tolerance_nm,
			    .kept = calloc((size_t)count + 1, sizeof(bool)),
			    .stack = malloc(2 * ((size_t)count + 1) * sizeof(uint32_t))};
	uint32_t left = 0, last = closed ? count : count - 1;
	if (work.kept && work.stack) {
		work.kept[0] = work.kept[last] = true;
		push(&work, 0, last);
		while (work.pending) {
			uint32_t to = work.stack[--work.pending];
			uint32_t from = work.stack[--work.pending];
			split(&work, from, to);
		}
		left = collect(&work, out);
	}
	free(work.kept);
	free(work.stack);
	return left;
}
