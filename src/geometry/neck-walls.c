#include "geometry/neck-walls.h"

#include <math.h>
#include <stdlib.h>

static void collect_edges(struct neck_walls *walls)
{
	const struct geo_arrangement *arrangement = walls->arrangement;
	for (uint32_t e = 0; e < arrangement->edge_count; e++)
		if (walls->kept[arrangement->face[2 * e]] ||
		    walls->kept[arrangement->face[2 * e + 1]])
			walls->edges[walls->count++] = e;
	for (uint32_t h = 0; h < 2 * arrangement->edge_count; h++)
		walls->previous[arrangement->next[h]] = h;
}

/* Where all edges are walls, as in most drawings, the index of the noding serves again. */
static int make_index(struct neck_walls *walls)
{
	const struct geo_arrangement *arrangement = walls->arrangement;
	if (arrangement->index && walls->count == arrangement->edge_count) {
		walls->borrowed = true;
		walls->segments = arrangement->segments;
		walls->index = arrangement->index;
		return 0;
	}
	walls->segments = malloc(((size_t)walls->count + 1) * sizeof *walls->segments);
	if (!walls->segments)
		return -1;
	for (uint32_t i = 0; i < walls->count; i++) {
		const struct geo_edge *edge = &arrangement->edges[walls->edges[i]];
		walls->segments[i] = (struct geo_segment){arrangement->nodes[edge->from],
							  arrangement->nodes[edge->to]};
	}
	walls->index = geo_index_create(walls->segments, walls->count);
	return walls->index ? 0 : -1;
}

int neck_walls_init(struct neck_walls *walls, const struct geo_arrangement *arrangement,
		    const bool *kept)
{
	size_t edges = (size_t)arrangement->edge_count + 1;
	*walls = (struct neck_walls){.arrangement = arrangement, .kept = kept};
	walls->edges = malloc(edges * sizeof *walls->edges);
	walls->previous = malloc(2 * edges * sizeof *walls->previous);
	if (!walls->edges || !walls->previous)
		return -1;
	collect_edges(walls);
	return make_index(walls);
}

int neck_walls_index_ends(struct neck_walls *walls)
{
	const struct geo_arrangement *arrangement = walls->arrangement;
	uint32_t count = arrangement->node_count;
	if (walls->ends)
		return 0;
	free(walls->places);
	free(walls->starts);
	walls->places = malloc(((size_t)count + 1) * sizeof *walls->places);
	walls->starts = malloc(((size_t)count + 1) * sizeof *walls->starts);
	if (!walls->places || !walls->starts)
		return -1;
	for (uint32_t i = 0; i < count; i++) {
		walls->places[i] =
			(struct geo_segment){arrangement->nodes[i], arrangement->nodes[i]};
		walls->starts[i] = GEO_NONE;
	}
	for (uint32_t half = 0; half < 2 * arrangement->edge_count; half++)
		walls->starts[geo_half_edge_from(arrangement, half)] = half;
	walls->ends = geo_index_create(walls->places, count);
	return walls->ends ? 0 : -1;
}

void neck_walls_finish(struct neck_walls *walls)
{
	if (walls->borrowed) {
		geo_index_unflag(walls->index);
	} else {
		geo_index_destroy(walls->index);
		free(walls->segments);
	}
	geo_index_destroy(walls->ends);
	free(walls->places);
	free(walls->starts);
	free(walls->edges);
	free(walls->previous);
	*walls = (struct neck_walls){0};
}

void neck_ways(const struct neck_walls *walls, uint32_t half, struct geo_vector *back,
	       struct geo_vector *on)
{
	const struct geo_arrangement *arrangement = walls->arrangement;
	struct cutlint_point at = arrangement->nodes[geo_half_edge_from(arrangement, half)];
	*back = neck_place(walls, geo_half_edge_from(arrangement, walls->previous[half]), at);
	*on = neck_place(walls, geo_half_edge_to(arrangement, half), at);
}

bool neck_convex(const struct neck_walls *walls, uint32_t half)
{
	struct geo_vector back, on;
	neck_ways(walls, half, &back, &on);
	return neck_cross(on, back) > 0;
}

bool neck_faces(const struct neck_walls *walls, uint32_t half, struct geo_vector direction)
{
	struct geo_vector back, on;
	neck_ways(walls, half, &back, &on);
	return neck_cross(on, back) <= 0 &&
	       (neck_cross(on, direction) >= 0 || neck_cross(back, direction) <= 0);
}

bool neck_in_cone(const struct neck_walls *walls, uint32_t half, struct geo_vector direction)
{
	struct geo_vector back, on;
	neck_ways(walls, half, &back, &on);
	return neck_faces(walls, half, direction) && !neck_leans(direction, back) &&
	       !neck_leans(direction, on);
}
