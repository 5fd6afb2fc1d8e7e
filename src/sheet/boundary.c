#include "sheet/boundary.h"

#include <stdlib.h>

#include "sheet/faces.h"

/* A half-edge on the boundary, looked up to tell whether it was traced. */
struct side {
	uint32_t half;
	bool traced;
};

struct trace {
	const struct geo_arrangement *arrangement;
	const struct face_sets *sets;
	uint32_t set;
	struct side *sides; /* ascending in half */
	uint32_t count;
};

static bool is_side(const struct trace *trace, uint32_t half)
{
	return trace->sets->of[trace->arrangement->face[half ^ 1]] != trace->set;
}

static int compare_sides(const void *left, const void *right)
{
	const struct side *a = left, *b = right;
	return a->half < b->half ? -1 : a->half > b->half;
}

/* Counts the set's sides; where there is room for them, collects them. */
static void collect_sides(struct trace *trace)
{
	const struct face_sets *sets = trace->sets;
	trace->count = 0;
	for (uint32_t i = sets->first[trace->set]; i < sets->first[trace->set + 1]; i++) {
		struct face_walk walk = face_walk_start(trace->arrangement, sets->members[i]);
		uint32_t half;
		while (face_walk_next(trace->arrangement, &walk, &half)) {
			if (!is_side(trace, half))
				continue;
			if (trace->sides)
				trace->sides[trace->count] = (struct side){half, false};
			trace->count++;
		}
	}
}

/* The side that follows on another one, round the set. */
static uint32_t side_after(const struct trace *trace, uint32_t half)
{
	uint32_t next = trace->arrangement->next[half];
	while (!is_side(trace, next))
		next = trace->arrangement->next[next ^ 1];
	return next;
}

static struct side *find_side(const struct trace *trace, uint32_t half)
{
	struct side wanted = {half, false};
	return bsearch(&wanted, trace->sides, trace->count, sizeof wanted, compare_sides);
}

int boundary_trace(struct arena *arena, const struct geo_arrangement *arrangement,
		   const struct face_sets *sets, uint32_t set, struct boundary *out)
{
	struct trace trace = {arrangement, sets, set, NULL, 0};
	collect_sides(&trace);
	size_t room = (size_t)trace.count + 1;
	trace.sides = ARENA_ARRAY(arena, struct side, room);
	struct cutlint_point *points = ARENA_ARRAY(arena, struct cutlint_point, room);
	struct geo_chain *chains = ARENA_ARRAY(arena, struct geo_chain, room);
	uint32_t *halves = ARENA_ARRAY(arena, uint32_t, room);
	if (!trace.sides || !points || !chains || !halves)
		return -1;
	collect_sides(&trace);
	qsort(trace.sides, trace.count, sizeof *trace.sides, compare_sides);

	out->lines = (struct geo_lines){points, chains, 0, 0};
	out->halves = halves;
	for (uint32_t i = 0; i < trace.count; i++) {
		if (trace.sides[i].traced)
			continue;
		uint32_t start = out->lines.point_count, half = trace.sides[i].half;
		do {
			find_side(&trace, half)->traced = true;
			points[out->lines.point_count] =
				arrangement->nodes[geo_half_edge_from(arrangement, half)];
			halves[out->lines.point_count++] = half;
			half = side_after(&trace, half);
		} while (half != trace.sides[i].half);
		chains[out->lines.chain_count++] =
			(struct geo_chain){start, out->lines.point_count - start, true};
	}
	return 0;
}
