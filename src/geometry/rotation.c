#include <stdlib.h>
#include <string.h>

#include "geometry/faces.h"

/* Whether half-edge b of one node comes before a, going round; both are even or both odd, so less
 * than half a turn lies between them. */
static bool in_wrong_order(const struct geo_arrangement *arrangement, uint32_t a, uint32_t b)
{
	if ((a & 1) != (b & 1))
		return a & 1;
	struct cutlint_point at = arrangement->nodes[geo_half_edge_from(arrangement, a)];
	return geo_cross(at, arrangement->nodes[geo_half_edge_to(arrangement, a)], at,
			 arrangement->nodes[geo_half_edge_to(arrangement, b)]) < 0;
}

static void sift(const struct geo_arrangement *arrangement, uint32_t *heap, uint32_t root,
		 uint32_t count)
{
	for (uint32_t child; (child = 2 * root + 1) < count; root = child) {
		if (child + 1 < count && in_wrong_order(arrangement, heap[child + 1], heap[child]))
			child++;
		if (!in_wrong_order(arrangement, heap[child], heap[root]))
			return;
		uint32_t swap = heap[root];
		heap[root] = heap[child];
		heap[child] = swap;
	}
}

/* Heapsort: qsort would need the arrangement in each item. */
static void sort_heap(const struct geo_arrangement *arrangement, uint32_t *half_edges,
		      uint32_t count)
{
	for (uint32_t i = count / 2; i-- > 0;)
		sift(arrangement, half_edges, i, count);
	for (uint32_t last = count; last-- > 1;) {
		uint32_t swap = half_edges[0];
		half_edges[0] = half_edges[last];
		half_edges[last] = swap;
		sift(arrangement, half_edges, 0, last);
	}
}

static void sort_round(const struct geo_arrangement *arrangement, uint32_t *half_edges,
		       uint32_t count)
{
	if (count > 12) {
		sort_heap(arrangement, half_edges, count);
		return;
	}
	for (uint32_t i = 1; i < count; i++) {
		uint32_t moved = half_edges[i], at = i;
		for (; at && in_wrong_order(arrangement, half_edges[at - 1], moved); at--)
			half_edges[at] = half_edges[at - 1];
		half_edges[at] = moved;
	}
}

/* The half-edges of each node in any order; `first` then tells where each node's end. */
static void fill(struct geo_rotation *rotation, const struct geo_arrangement *arrangement)
{
	uint32_t *first = rotation->first;
	for (uint32_t edge = 0; edge < arrangement->edge_count; edge++) {
		first[arrangement->edges[edge].from + 1]++;
		first[arrangement->edges[edge].to + 1]++;
	}
	for (uint32_t node = 0; node < arrangement->node_count; node++)
		first[node + 1] += first[node];
	for (uint32_t edge = 0; edge < arrangement->edge_count; edge++) {
		rotation->half_edges[first[arrangement->edges[edge].from]++] = 2 * edge;
		rotation->half_edges[first[arrangement->edges[edge].to]++] = 2 * edge + 1;
	}
}

int geo_rotation_init(struct geo_rotation *rotation, const struct geo_arrangement *arrangement)
{
	const uint32_t node_count = arrangement->node_count;
	rotation->first = calloc((size_t)node_count + 1, sizeof(uint32_t));
	rotation->half_edges = malloc((size_t)arrangement->edge_count * 2 * sizeof(uint32_t) + 1);
	if (!rotation->first || !rotation->half_edges)
		return -1;
	fill(rotation, arrangement);
	memmove(rotation->first + 1, rotation->first, node_count * sizeof(uint32_t));
	rotation->first[0] = 0;
	for (uint32_t node = 0; node < node_count; node++)
		sort_round(arrangement, rotation->half_edges + rotation->first[node],
			   rotation->first[node + 1] - rotation->first[node]);
	return 0;
}

void geo_rotation_finish(struct geo_rotation *rotation)
{
	free(rotation->first);
	free(rotation->half_edges);
	*rotation = (struct geo_rotation){0};
}
