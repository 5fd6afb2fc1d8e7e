#include "sheet/boundary.h"

#include <stdlib.h>

#include "sheet/faces.h"

struct trace {
	struct boundary *boundary;
	const struct geo_arrangement *arrangement;
	const struct face_sets *sets;
	uint32_t set;
	uint32_t count; /* of the set's sides */
};

static bool is_side(const struct trace *trace, uint32_t half)
{
	return trace->sets->of[trace->arrangement->face[half ^ 1]] != trace->set;
}

static int compare_sides(const void *left, const void *right)
{
	const struct boundary_side *a = left, *b = right;
	return a->half < b->half ? -1 : a->half > b->half;
}

/* Room for so many sides and as many points. */
static int reserve(struct boundary *boundary, uint32_t count)
{
	if (count <= boundary->room)
		return 0;
	size_t room = (size_t)count + count / 2;
	boundary_finish(boundary);
	boundary->halves = malloc(room * sizeof *boundary->halves);
	boundary->points = malloc(room * sizeof *boundary->points);
	boundary->chains = malloc(room * sizeof *boundary->chains);
	boundary->sides = malloc(room * sizeof *boundary->sides);
	if (!boundary->halves || !boundary->points || !boundary->chains || !boundary->sides)
		return -1;
	boundary->room = (uint32_t)room;
	return 0;
}

void boundary_finish(struct boundary *boundary)
{
	free(boundary->halves);
	free(boundary->points);
	free(boundary->chains);
	free(boundary->sides);
	*boundary = (struct boundary){0};
}

/* Counts the set's sides, and finds the lowest. */
static uint32_t count_sides(struct trace *trace)
{
	const struct face_sets *sets = trace->sets;
	uint32_t lowest = GEO_NONE;
	for (uint32_t i = sets->first[trace->set]; i < sets->first[trace->set + 1]; i++) {
		struct face_walk walk = face_walk_start(trace->arrangement, sets->members[i]);
		uint32_t half;
		while (face_walk_next(trace->arrangement, &walk, &half)) {
			if (!is_side(trace, half))
				continue;
			lowest = half < lowest ? half : lowest;
			trace->count++;
		}
	}
	return lowest;
}

static void collect_sides(const struct trace *trace)
{
	const struct face_sets *sets = trace->sets;
	struct boundary_side *side = trace->boundary->sides;
	for (uint32_t i = sets->first[trace->set]; i < sets->first[trace->set + 1]; i++) {
		struct face_walk walk = face_walk_start(trace->arrangement, sets->members[i]);
		uint32_t half;
		while (face_walk_next(trace->arrangement, &walk, &half))
			if (is_side(trace, half))
				*side++ = (struct boundary_side){half, false};
	}
	qsort(trace->boundary->sides, trace->count, sizeof *side, compare_sides);
}

/* The side that follows on another one, round the set. */
static uint32_t side_after(const struct trace *trace, uint32_t half)
{
	uint32_t next = trace->arrangement->next[half];
	while (!is_side(trace, next))
		next = trace->arrangement->next[next ^ 1];
	return next;
}

static void add_chain(const struct trace *trace, uint32_t first)
{
	struct boundary *boundary = trace->boundary;
	const struct geo_arrangement *arrangement = trace->arrangement;
	uint32_t start = boundary->lines.point_count, half = first;
	do {
		boundary->points[boundary->lines.point_count] =
			arrangement->nodes[geo_half_edge_from(arrangement, half)];
		boundary->halves[boundary->lines.point_count++] = half;
		half = side_after(trace, half);
	} while (half != first);
	boundary->chains[boundary->lines.chain_count++] =
		(struct geo_chain){start, boundary->lines.point_count - start, true};
}

static struct boundary_side *find_side(const struct trace *trace, uint32_t half)
{
	struct boundary_side wanted = {half, false};
	return bsearch(&wanted, trace->boundary->sides, trace->count, sizeof wanted, compare_sides);
}

/* Chains start at their lowest sides, and come in the order of these. */
static void add_chains(const struct trace *trace)
{
	struct boundary *boundary = trace->boundary;
	collect_sides(trace);
	for (uint32_t i = 0; i < trace->count; i++) {
		uint32_t start = boundary->lines.point_count;
		if (boundary->sides[i].traced)
			continue;
		add_chain(trace, boundary->sides[i].half);
		for (uint32_t p = start; p < boundary->lines.point_count; p++)
			find_side(trace, boundary->halves[p])->traced = true;
	}
}

int boundary_trace(struct boundary *boundary, const struct geo_arrangement *arrangement,
		   const struct face_sets *sets, uint32_t set)
{
	struct trace trace = {boundary, arrangement, sets, set, 0};
	uint32_t lowest = count_sides(&trace);
	if (reserve(boundary, trace.count) != 0)
		return -1;
	boundary->lines = (struct geo_lines){boundary->points, boundary->chains, 0, 0};
	if (trace.count == 0)
		return 0;
	/* Most sets have one line all round, which needs no list of what was traced. */
	add_chain(&trace, lowest);
	if (boundary->lines.point_count < trace.count) {
		boundary->lines = (struct geo_lines){boundary->points, boundary->chains, 0, 0};
		add_chains(&trace);
	}
	return 0;
}
