/* loop.h - open outlines that join end to end into closed loops. */
#ifndef SHEET_LOOP_H
#define SHEET_LOOP_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "cutlint/model.h"

struct sheet_work;

/* One outline of a loop, walked from its first vertex to its last, or back. */
struct sheet_step {
	uint32_t outline;
	bool reversed;
};

struct sheet_loop {
	uint32_t first, count; /* into steps */
	uint32_t outline;      /* the one that comes first in the file */
};

struct sheet_loops {
	struct sheet_loop *items;
	struct sheet_step *steps;
	uint32_t *of; /* of each outline: its loop, or CUTLINT_NONE */
	uint32_t count, step_count;
};

/*
 * Finds loops among the open outlines of one role, dropped ones left out; ends within `reach_mm`
 * are one. Each outline belongs to one loop at most: they are taken off in the order of the file.
 * Appends to work->loops, whose arrays hold room for all outlines. 0, or -1 where memory ran out.
 */
int sheet_find_loops(struct sheet_work *work, enum cutlint_role role, double reach_mm);

/*
 * Puts points within `reach` nm of each other, directly or by way of others, into one set. Returns
 * the lowest-numbered point of each point's set; NULL where memory ran out.
 */
uint32_t *sheet_join_points(struct arena *arena, const struct cutlint_point *points, uint32_t count,
			    double reach);

#endif
