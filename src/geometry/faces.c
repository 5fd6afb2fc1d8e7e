#include "geometry/faces.h"

#include <stdlib.h>

/* The next half-edge round the face on the left of one that arrives at a node is the one clockwise
 * of its way back. */
static void link_next(const struct geo_arrangement *arrangement,
		      const struct geo_rotation *rotation)
{
	for (uint32_t node = 0; node < arrangement->node_count; node++) {
		uint32_t first = rotation->first[node], behind = rotation->first[node + 1];
		for (uint32_t i = first; i < behind; i++) {
			uint32_t clockwise = i > first ? i - 1 : behind - 1;
			arrangement->next[rotation->half_edges[i] ^ 1] =
				rotation->half_edges[clockwise];
		}
	}
}

/* Numbers the faces by their outer boundaries; face 0 has none. */
static int make_faces(struct geo_arrangement *arrangement, struct geo_cycles *cycles)
{
	uint32_t count = 1;
	for (uint32_t i = 0; i < cycles->count; i++)
		count += cycles->items[i].area2 > 0;
	arrangement->faces = calloc(count, sizeof(*arrangement->faces));
	arrangement->inners = malloc((cycles->count - count + 1) * sizeof(uint32_t) + 1);
	arrangement->unders = malloc((cycles->count - count + 1) * sizeof(uint32_t) + 1);
	if (!arrangement->faces || !arrangement->inners || !arrangement->unders)
		return -1;
	arrangement->face_count = 1;
	arrangement->faces[0].outer = GEO_NONE;
	for (uint32_t i = 0; i < cycles->count; i++) {
		if (cycles->items[i].area2 <= 0)
			continue;
		cycles->items[i].face = arrangement->face_count;
		arrangement->faces[arrangement->face_count++].outer = cycles->items[i].half_edge;
	}
	return 0;
}

/* Groups the rims by face, in the order of their numbers. */
static void group_rims(struct geo_arrangement *arrangement, const struct geo_cycles *cycles)
{
	struct geo_face *faces = arrangement->faces;
	for (uint32_t i = 0; i < cycles->count; i++)
		if (cycles->items[i].area2 <= 0)
			faces[cycles->items[i].face].inner_count++;
	for (uint32_t face = 0; face < arrangement->face_count; face++) {
		faces[face].first_inner = arrangement->inner_count;
		arrangement->inner_count += faces[face].inner_count;
		faces[face].inner_count = 0;
	}
	for (uint32_t i = 0; i < cycles->count; i++) {
		const struct geo_cycle *rim = &cycles->items[i];
		if (rim->area2 > 0)
			continue;
		uint32_t at = faces[rim->face].first_inner + faces[rim->face].inner_count++;
		arrangement->inners[at] = rim->half_edge;
		arrangement->unders[at] = rim->under;
	}
}

/* Adds up exactly, then rounds once. */
static int measure(struct geo_arrangement *arrangement, const struct geo_cycles *cycles)
{
	geo_wide *area2 = calloc(arrangement->face_count, sizeof(*area2));
	if (!area2)
		return -1;
	for (uint32_t i = 0; i < cycles->count; i++)
		area2[cycles->items[i].face] += cycles->items[i].area2;
	for (uint32_t face = 0; face < arrangement->face_count; face++)
		arrangement->faces[face].area = (double)area2[face] / 2;
	free(area2);
	return 0;
}

static void reach_across(const struct geo_arrangement *arrangement, uint32_t start, uint32_t *queue,
			 uint32_t *queued)
{
	uint32_t here = arrangement->face[start];
	uint32_t half = start;
	do {
		uint32_t there = arrangement->face[half ^ 1];
		if (arrangement->faces[there].depth == GEO_NONE) {
			arrangement->faces[there].depth = arrangement->faces[here].depth + 1;
			queue[(*queued)++] = there;
		}
		half = arrangement->next[half];
	} while (half != start);
}

/* Breadth first from face 0. */
static int find_depths(struct geo_arrangement *arrangement)
{
	uint32_t *queue = malloc(arrangement->face_count * sizeof(*queue));
	if (!queue)
		return -1;
	for (uint32_t face = 1; face < arrangement->face_count; face++)
		arrangement->faces[face].depth = GEO_NONE;
	uint32_t queued = 1;
	queue[0] = 0;
	for (uint32_t i = 0; i < queued; i++) {
		const struct geo_face *face = &arrangement->faces[queue[i]];
		if (face->outer != GEO_NONE)
			reach_across(arrangement, face->outer, queue, &queued);
		for (uint32_t inner = 0; inner < face->inner_count; inner++)
			reach_across(arrangement, arrangement->inners[face->first_inner + inner],
				     queue, &queued);
	}
	free(queue);
	return 0;
}

static int from_cycles(struct geo_arrangement *arrangement, struct geo_cycles *cycles,
		       const struct geo_rotation *rotation)
{
	if (geo_cycles_trace(cycles, arrangement) || make_faces(arrangement, cycles) ||
	    geo_rims_nest(cycles, arrangement, rotation))
		return -1;
	for (uint32_t half = 0; half < 2 * arrangement->edge_count; half++)
		arrangement->face[half] = cycles->items[arrangement->face[half]].face;
	group_rims(arrangement, cycles);
	return measure(arrangement, cycles) || find_depths(arrangement) ? -1 : 0;
}

int geo_faces_find(struct geo_arrangement *arrangement)
{
	struct geo_rotation rotation = {0};
	struct geo_cycles cycles = {0};
	int status = -1;
	arrangement->next = malloc((size_t)arrangement->edge_count * 2 * sizeof(uint32_t) + 1);
	arrangement->face = malloc((size_t)arrangement->edge_count * 2 * sizeof(uint32_t) + 1);
	if (!arrangement->next || !arrangement->face || geo_rotation_init(&rotation, arrangement))
		goto out;
	link_next(arrangement, &rotation);
	status = from_cycles(arrangement, &cycles, &rotation);
out:
	geo_rotation_finish(&rotation);
	free(cycles.items);
	return status;
}
