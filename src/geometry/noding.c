/*
 * Lines that coincide are merged first, so that a line drawn a thousand times over costs no more
 * pairs than one. Then hot pixels are the nodes so far (all ends) and the rounded crossings; each
 * edge is rerouted through the hot pixels that it passes.
 *
 * No edge of the result runs through a node that is not its end: an edge through node C, from A to
 * B, stems from a line that passed the pixels of A and B; the point of the line that corresponds
 * to C is a weighted mean of points of these two pixels, shifted as C is, and so lies in the pixel
 * of C: the line passed C's pixel too and was routed through C.
 */
#include "geometry/noding.h"

#include <stdlib.h>
#include <string.h>

#include "geometry/box.h"
#include "geometry/crossings.h"
#include "geometry/index.h"
#include "geometry/nodes.h"
#include "geometry/predicates.h"
#include "geometry/strands.h"
#include "geometry/wide.h"

/* A hot pixel that an edge passes. */
struct pass {
	uint32_t edge, node;
	int32_t x, y; /* rise along the edge: x, then y or its complement */
};

struct noder {
	const struct geo_arrangement *arrangement; /* its edges are the merged lines */
	struct geo_nodes nodes;
	struct geo_segment *segments; /* of the edges */
	struct geo_index *index;
	struct pass *passes;
	uint32_t pass_count, pass_capacity;
	uint32_t visited; /* the node whose pixel is looked at */
	struct geo_crowding *crowding;
	bool failed; /* memory ran out, or the lines are too crowded */
};

/* So many points before it is added, a point is expected. */
#define AHEAD 12

/* A strand for each segment that has a length. */
static int take_lines(const struct geo_lines *lines, struct geo_nodes *nodes,
		      struct geo_strands *strands)
{
	if (geo_nodes_init(nodes, lines->point_count) ||
	    geo_strands_reserve(strands, lines->point_count))
		return -1;
	for (uint32_t i = 0; i < lines->chain_count; i++) {
		const struct geo_chain *chain = &lines->chains[i];
		uint32_t before = GEO_NONE;
		uint32_t steps = chain->count - (chain->closed ? 0 : 1);
		for (uint32_t step = 0; chain->count && step < steps; step++) {
			uint32_t at = chain->first + step, next = geo_chain_next(chain, at);
			if (at + AHEAD < lines->point_count)
				geo_nodes_expect(nodes, lines->points[at + AHEAD]);
			if (geo_same(lines->points[at], lines->points[next]))
				continue;
			uint32_t from = before != GEO_NONE
						? before
						: geo_nodes_add(nodes, lines->points[at]);
			uint32_t to = geo_nodes_add(nodes, lines->points[next]);
			if (from == GEO_NONE || to == GEO_NONE ||
			    geo_strands_add(strands, nodes->points, from, to, at))
				return -1;
			before = to;
		}
	}
	return 0;
}

static void add_pass(struct noder *noder, uint32_t edge, uint32_t node)
{
	if (noder->pass_count == noder->pass_capacity) {
		if (noder->pass_count >= GEO_NONE / 4) {
			noder->failed = true;
			return;
		}
		uint32_t capacity = noder->pass_capacity * 2 + 256;
		struct pass *passes = realloc(noder->passes, capacity * sizeof(*passes));
		if (!passes) {
			noder->failed = true;
			return;
		}
		noder->passes = passes;
		noder->pass_capacity = capacity;
	}
	const struct geo_segment *segment = &noder->segments[edge];
	struct cutlint_point at = noder->nodes.points[node];
	bool falls = segment->to.y < segment->from.y;
	noder->passes[noder->pass_count++] = (struct pass){edge, node, at.x, falls ? ~at.y : at.y};
}

static void look_at_pixel(struct noder *noder, uint32_t edge, uint32_t node)
{
	const struct geo_edge *ends = &noder->arrangement->edges[edge];
	const struct geo_segment *segment = &noder->segments[edge];
	struct cutlint_point at = noder->nodes.points[node];
	if (node != ends->from && node != ends->to &&
	    geo_hits_pixel(segment->from, segment->to, at))
		add_pass(noder, edge, node);
}

/* Nodes behind those of the arrangement are crossings. */
static bool is_crowded(const struct noder *noder)
{
	return noder->crowding &&
	       noder->nodes.count - noder->arrangement->node_count > noder->crowding->most;
}

static bool visit_crossing(void *user, uint32_t a, uint32_t b)
{
	struct noder *noder = user;
	const struct geo_segment *first = &noder->segments[a], *second = &noder->segments[b];
	struct cutlint_point at = geo_crossing(first->from, first->to, second->from, second->to);
	noder->failed = geo_nodes_add(&noder->nodes, at) == GEO_NONE;
	if (!noder->failed && is_crowded(noder)) {
		noder->failed = noder->crowding->exceeded = true;
		noder->crowding->segments[0] = noder->arrangement->edges[a].segment;
		noder->crowding->segments[1] = noder->arrangement->edges[b].segment;
	}
	return !noder->failed;
}

static bool visit_pixel(void *user, uint32_t edge)
{
	struct noder *noder = user;
	look_at_pixel(noder, edge, noder->visited);
	return !noder->failed;
}

static void look_at_node(struct noder *noder, uint32_t node)
{
	struct cutlint_point at = noder->nodes.points[node];
	const uint32_t *edges;
	uint32_t count;
	noder->visited = node;
	struct geo_vector place = {at.x, at.y};
	if (!geo_index_cell(noder->index, place, 1, &edges, &count)) {
		geo_index_box(noder->index, at.x - 1.0, at.y - 1.0, at.x + 1.0, at.y + 1.0,
			      visit_pixel, noder);
		return;
	}
	for (uint32_t i = 0; i < count; i++) {
		const struct geo_segment *segment = &noder->segments[edges[i]];
		if (geo_boxed_by(segment->from, segment->to, at))
			look_at_pixel(noder, edges[i], node);
	}
}

static void find_passes(struct noder *noder)
{
	if (geo_crossings_each(noder->index, visit_crossing, noder)) {
		noder->failed = true;
		return;
	}
	for (uint32_t node = 0; node < noder->nodes.count && !noder->failed; node++)
		look_at_node(noder, node);
}

static int along_edge(const void *a, const void *b)
{
	const struct pass *left = a, *right = b;
	if (left->edge != right->edge)
		return left->edge < right->edge ? -1 : 1;
	if (left->x != right->x)
		return left->x < right->x ? -1 : 1;
	return (left->y > right->y) - (left->y < right->y);
}

/* Adds the strands of all segments on an edge, from pixel to pixel. */
static int route(const struct noder *noder, uint32_t edge, const struct pass *passes,
		 uint32_t count, struct geo_strands *strands)
{
	const struct geo_edge *ends = &noder->arrangement->edges[edge];
	uint32_t cover_count;
	const uint32_t *covers = geo_covers(noder->arrangement, edge, &cover_count);
	uint32_t from = ends->from;
	for (uint32_t i = 0; i <= count; i++) {
		uint32_t to = i < count ? passes[i].node : ends->to;
		for (uint32_t cover = 0; from != to && cover < cover_count; cover++)
			if (geo_strands_add(strands, noder->nodes.points, from, to, covers[cover]))
				return -1;
		from = to;
	}
	return 0;
}

static int route_all(const struct noder *noder, struct geo_strands *strands)
{
	const uint32_t edge_count = noder->arrangement->edge_count;
	qsort(noder->passes, noder->pass_count, sizeof(*noder->passes), along_edge);
	if (geo_strands_reserve(strands, noder->arrangement->cover_count))
		return -1;
	uint32_t pass = 0;
	for (uint32_t edge = 0; edge < edge_count; edge++) {
		uint32_t first = pass;
		while (pass < noder->pass_count && noder->passes[pass].edge == edge)
			pass++;
		if (route(noder, edge, noder->passes + first, pass - first, strands))
			return -1;
	}
	return 0;
}

static int make_index(struct noder *noder)
{
	const struct geo_arrangement *arrangement = noder->arrangement;
	noder->segments = malloc(arrangement->edge_count * sizeof(*noder->segments) + 1);
	if (!noder->segments)
		return -1;
	for (uint32_t edge = 0; edge < arrangement->edge_count; edge++)
		noder->segments[edge] =
			(struct geo_segment){noder->nodes.points[arrangement->edges[edge].from],
					     noder->nodes.points[arrangement->edges[edge].to]};
	noder->index = geo_index_create(noder->segments, arrangement->edge_count);
	return noder->index ? 0 : -1;
}

static void hand_over_index(struct noder *noder, struct geo_arrangement *arrangement)
{
	arrangement->index = noder->index;
	arrangement->segments = noder->segments;
	noder->index = NULL;
	noder->segments = NULL;
}

int geo_node_lines(const struct geo_lines *lines, struct geo_arrangement *arrangement,
		   struct geo_crowding *crowding)
{
	struct noder noder = {.arrangement = arrangement, .crowding = crowding};
	struct geo_strands strands = {0};
	int status = -1;
	if (take_lines(lines, &noder.nodes, &strands))
		goto out;
	arrangement->node_count = noder.nodes.count;
	if (geo_strands_merge(&strands, arrangement) || make_index(&noder))
		goto out;
	find_passes(&noder);
	if (noder.failed)
		goto out;

	arrangement->node_count = noder.nodes.count;
	status = 0;
	if (noder.pass_count)
		status = route_all(&noder, &strands) || geo_strands_merge(&strands, arrangement)
				 ? -1
				 : 0;
	arrangement->nodes = noder.nodes.points;
	noder.nodes.points = NULL; /* now owned by the arrangement */
	if (status == 0 && !noder.pass_count)
		hand_over_index(&noder, arrangement);
out:
	geo_index_destroy(noder.index);
	free(noder.segments);
	free(noder.passes);
	geo_strands_finish(&strands);
	geo_nodes_finish(&noder.nodes);
	return status;
}
