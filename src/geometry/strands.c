#include "geometry/strands.h"

#include <stdlib.h>

#include "geometry/wide.h"

int geo_strands_reserve(struct geo_strands *strands, uint32_t capacity)
{
	struct geo_strand *items = realloc(strands->items, (size_t)capacity * sizeof(*items) + 1);
	if (!items)
		return -1;
	strands->items = items;
	strands->capacity = capacity;
	return 0;
}

void geo_strands_finish(struct geo_strands *strands)
{
	free(strands->items);
	*strands = (struct geo_strands){0};
}

int geo_strands_add(struct geo_strands *strands, const struct cutlint_point *nodes, uint32_t from,
		    uint32_t to, uint32_t segment)
{
	if (strands->count == strands->capacity) {
		/* Half-edges are numbered in 32 bits. */
		if (strands->count >= GEO_NONE / 4)
			return -1;
		if (geo_strands_reserve(strands, strands->count + strands->count / 2 + 64))
			return -1;
	}
	bool forward = geo_order(nodes[from], nodes[to]) < 0;
	strands->items[strands->count++] =
		(struct geo_strand){forward ? from : to, forward ? to : from, segment};
	return 0;
}

/* The places of the strands, grouped by the node that they start from, in their own order. */
static uint32_t *group(const struct geo_strands *strands, uint32_t node_count, uint32_t *starts)
{
	uint32_t *order = malloc((size_t)strands->count * sizeof(*order) + 1);
	if (!order)
		return NULL;
	for (uint32_t i = 0; i < strands->count; i++)
		starts[strands->items[i].from + 1]++;
	for (uint32_t node = 0; node < node_count; node++)
		starts[node + 1] += starts[node];
	for (uint32_t i = 0; i < strands->count; i++)
		order[starts[strands->items[i].from]++] = i;
	return order;
}

static int by_end(const void *a, const void *b)
{
	const struct geo_strand *left = a, *right = b;
	if (left->to != right->to)
		return left->to < right->to ? -1 : 1;
	return (left->segment > right->segment) - (left->segment < right->segment);
}

static void sort_by_end(struct geo_strand *strands, uint32_t count)
{
	if (count > 8) {
		qsort(strands, count, sizeof(*strands), by_end);
		return;
	}
	for (uint32_t i = 1; i < count; i++) {
		struct geo_strand moved = strands[i];
		uint32_t at = i;
		for (; at && by_end(&strands[at - 1], &moved) > 0; at--)
			strands[at] = strands[at - 1];
		strands[at] = moved;
	}
}

/* Appends the edges of one node's strands, which are sorted by their ends. */
static void append_edges(struct geo_arrangement *arrangement, const struct geo_strand *strands,
			 uint32_t count)
{
	for (uint32_t i = 0; i < count; i++) {
		const struct geo_strand *strand = &strands[i];
		if (!i || strand->to != strand[-1].to)
			arrangement->edges[arrangement->edge_count++] =
				(struct geo_edge){strand->from, strand->to, strand->segment,
						  arrangement->cover_count};
		else if (strand->segment == strand[-1].segment)
			continue;
		arrangement->covers[arrangement->cover_count++] = strand->segment;
	}
}

static void shrink(struct geo_arrangement *arrangement)
{
	struct geo_edge *edges =
		realloc(arrangement->edges, arrangement->edge_count * sizeof(*edges) + 1);
	if (edges)
		arrangement->edges = edges;
}

int geo_strands_merge(struct geo_strands *strands, struct geo_arrangement *arrangement)
{
	const uint32_t count = strands->count, node_count = arrangement->node_count;
	int status = -1;
	free(arrangement->edges);
	free(arrangement->covers);
	arrangement->edge_count = arrangement->cover_count = 0;
	arrangement->edges = malloc((size_t)count * sizeof(*arrangement->edges) + 1);
	arrangement->covers = malloc((size_t)count * sizeof(*arrangement->covers) + 1);
	uint32_t *starts = calloc((size_t)node_count + 1, sizeof(*starts));
	uint32_t *order = starts ? group(strands, node_count, starts) : NULL;
	struct geo_strand *bucket = malloc((size_t)count * sizeof(*bucket) + 1);
	if (!arrangement->edges || !arrangement->covers || !order || !bucket)
		goto out;

	for (uint32_t i = 0; i < count; i++)
		bucket[i] = strands->items[order[i]];
	for (uint32_t node = 0, from = 0; node < node_count; from = starts[node++]) {
		sort_by_end(bucket + from, starts[node] - from);
		append_edges(arrangement, bucket + from, starts[node] - from);
	}
	shrink(arrangement);
	status = 0;
out:
	free(bucket);
	free(order);
	free(starts);
	geo_strands_finish(strands);
	return status;
}
