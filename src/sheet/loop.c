#include "sheet/loop.h"

#include "sheet/work.h"

/*
 * The open outlines of one role as a graph: its nodes are the places where ends join, its edges the
 * outlines. Edge k has the ends 2k (its first vertex) and 2k + 1 (its last).
 */
struct graph {
	uint32_t *outlines;   /* of each edge */
	uint32_t *nodes;      /* of each end */
	uint32_t *first, *by; /* ends grouped by node: by[first[n]] to by[first[n + 1]] */
	uint32_t *cursor;     /* of each node: the next end to try */
	bool *used;           /* of each edge */
	uint32_t edge_count;
};

/* The way walked so far: its edge i starts at `nodes[i]`, with the end `ends[i]`. */
struct way {
	uint32_t *ends, *nodes;
	uint32_t *place; /* of each node: 1 + its place on the way, or 0 */
	uint32_t count;
};

static uint32_t collect_edges(const struct sheet_work *work, enum cutlint_role role,
			      struct graph *graph)
{
	const struct cutlint_design *design = work->design;
	uint32_t count = 0;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		if (design->outlines[i].closed || !sheet_has_sides(&design->outlines[i]) ||
		    work->dropped[i] || cutlint_outline_role(design, i) != role)
			continue;
		if (graph->outlines)
			graph->outlines[count] = i;
		count++;
	}
	return count;
}

static int build_graph(struct sheet_work *work, enum cutlint_role role, double reach_mm,
		       struct graph *graph)
{
	struct arena *arena = work->scratch;
	*graph = (struct graph){.edge_count = 0};
	size_t edges = collect_edges(work, role, graph);
	graph->outlines = ARENA_ARRAY(arena, uint32_t, edges + 1);
	struct cutlint_point *points = ARENA_ARRAY(arena, struct cutlint_point, 2 * edges + 1);
	graph->first = ARENA_ARRAY(arena, uint32_t, 2 * edges + 2);
	graph->by = ARENA_ARRAY(arena, uint32_t, 2 * edges + 1);
	graph->cursor = ARENA_ARRAY(arena, uint32_t, 2 * edges + 1);
	graph->used = ARENA_ARRAY(arena, bool, edges + 1);
	if (!graph->outlines || !points || !graph->first || !graph->by || !graph->cursor ||
	    !graph->used)
		return -1;

	graph->edge_count = collect_edges(work, role, graph);
	uint32_t ends = 2 * graph->edge_count;
	for (uint32_t e = 0; e < ends; e++) {
		const struct cutlint_outline *outline =
			&work->design->outlines[graph->outlines[e / 2]];
		points[e] = work->design->vertices[sheet_end_vertex(outline, e & 1)];
	}
	graph->nodes = sheet_join_points(arena, points, ends, reach_mm * SHEET_NM);
	if (!graph->nodes)
		return -1;

	for (uint32_t e = 0; e < ends; e++)
		graph->first[graph->nodes[e] + 1]++;
	for (uint32_t n = 0; n < ends; n++) {
		graph->first[n + 1] += graph->first[n];
		graph->cursor[n] = graph->first[n];
	}
	for (uint32_t e = 0; e < ends; e++)
		graph->by[graph->cursor[graph->nodes[e]]++] = e;
	for (uint32_t n = 0; n < ends; n++)
		graph->cursor[n] = graph->first[n];
	return 0;
}

/* An end at a node whose outline was not walked yet; CUTLINT_NONE without one. */
static uint32_t take_end(struct graph *graph, uint32_t node)
{
	while (graph->cursor[node] < graph->first[node + 1]) {
		uint32_t end = graph->by[graph->cursor[node]++];
		if (!graph->used[end / 2]) {
			graph->used[end / 2] = true;
			return end;
		}
	}
	return CUTLINT_NONE;
}

/* Takes the edges of the way from place `from` on off it, as a loop. */
static void take_loop(struct sheet_work *work, const struct graph *graph, struct way *way,
		      uint32_t from)
{
	struct sheet_loops *loops = &work->loops;
	struct sheet_loop *loop = &loops->items[loops->count];
	*loop = (struct sheet_loop){.first = loops->step_count, .outline = CUTLINT_NONE};
	for (uint32_t i = from; i < way->count; i++) {
		uint32_t end = way->ends[i], outline = graph->outlines[end / 2];
		loops->steps[loops->step_count++] = (struct sheet_step){outline, end & 1};
		loops->of[outline] = loops->count;
		loop->outline = outline < loop->outline ? outline : loop->outline;
		if (i > from)
			way->place[way->nodes[i]] = 0;
	}
	loop->count = way->count - from;
	loops->count++;
	way->count = from;
}

/*
 * Walks from a node until nothing is left to walk: where the way meets itself, a loop comes off;
 * from a dead end it goes back. Every outline is walked once.
 */
static void walk(struct sheet_work *work, struct graph *graph, struct way *way, uint32_t start)
{
	uint32_t node = start;
	way->count = 0;
	way->place[start] = 1;
	for (;;) {
		uint32_t end = take_end(graph, node);
		if (end == CUTLINT_NONE) {
			way->place[node] = 0;
			if (way->count == 0)
				return;
			node = way->nodes[--way->count];
			continue;
		}
		way->ends[way->count] = end;
		way->nodes[way->count++] = node;
		node = graph->nodes[end ^ 1];
		if (way->place[node])
			take_loop(work, graph, way, way->place[node] - 1);
		else
			way->place[node] = way->count + 1;
	}
}

int sheet_find_loops(struct sheet_work *work, enum cutlint_role role, double reach_mm)
{
	struct graph graph;
	if (build_graph(work, role, reach_mm, &graph) != 0)
		return -1;
	size_t edges = graph.edge_count;
	struct way way = {.ends = ARENA_ARRAY(work->scratch, uint32_t, edges + 1),
			  .nodes = ARENA_ARRAY(work->scratch, uint32_t, edges + 1),
			  .place = ARENA_ARRAY(work->scratch, uint32_t, 2 * edges + 1)};
	if (!way.ends || !way.nodes || !way.place)
		return -1;
	for (uint32_t k = 0; k < graph.edge_count; k++) {
		if (!graph.used[k])
			walk(work, &graph, &way, graph.nodes[2 * k]);
	}
	return 0;
}
