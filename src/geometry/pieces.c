#include "geometry/pieces.h"

#include <stdlib.h>

#include "geometry/loops.h"
#include "geometry/piece-inside.h"
#include "geometry/piece-nest.h"

/* A half-edge on a loop: of the first arc that has a length. */
static uint32_t half_edge_of(const struct geo_loops *loops, uint32_t loop)
{
	const struct geo_cuts *cuts = loops->cuts;
	uint32_t label = loops->loops[loop].label, stop = label;
	if (label >= cuts->count)
		return loops->boundaries[label - cuts->count].half_edge;
	do {
		const struct geo_stop *from = &cuts->stops[stop];
		const struct geo_stop *to = &cuts->stops[loops->following[stop]];
		if (to <= from || to->half_edge != from->half_edge)
			return loops->arrangement->next[from->half_edge];
		if (to->along > from->along)
			return from->half_edge;
		stop = geo_cuts_mate(cuts, loops->following[stop]);
	} while (stop != label);
	return cuts->stops[label].half_edge;
}

/* A piece for each loop that is no rim, and one without bounds. first_piece tells where the pieces
 * of each face start. */
static int list_pieces(struct geo_pieces *out, struct geo_loops *loops, uint32_t *first_piece)
{
	uint32_t count = 1;
	for (uint32_t i = 0; i < loops->loop_count; i++)
		count += !loops->loops[i].rim;
	out->items = calloc(count, sizeof(*out->items));
	if (!out->items)
		return -1;
	out->items[out->count++] = (struct geo_piece){.half_edge = GEO_NONE};
	for (uint32_t face = 0; face < loops->arrangement->face_count; face++) {
		first_piece[face] = face ? out->count : 0;
		for (uint32_t i = loops->first_loop[face]; i < loops->first_loop[face + 1]; i++) {
			if (loops->loops[i].rim)
				continue;
			loops->loops[i].piece = out->count;
			out->items[out->count++] = (struct geo_piece){
				.face = face, .half_edge = half_edge_of(loops, i)};
		}
	}
	first_piece[loops->arrangement->face_count] = out->count;
	return 0;
}

/* The area of a face that is whole is known exactly. */
static void measure(struct geo_pieces *out, const struct geo_loops *loops,
		    const uint32_t *first_piece)
{
	for (uint32_t i = 0; i < loops->loop_count; i++)
		out->items[loops->loops[i].piece].area += loops->loops[i].area2 / 2;
	for (uint32_t face = 0; face < loops->arrangement->face_count; face++)
		if (first_piece[face + 1] - first_piece[face] == 1)
			out->items[first_piece[face]].area = loops->arrangement->faces[face].area;
}

static void settle_half_edges(struct geo_pieces *out, struct geo_loops *loops)
{
	for (uint32_t i = 0; i < 2 * loops->arrangement->edge_count; i++)
		loops->of_half_edge[i] =
			loops->loops[loops->of_label[loops->of_half_edge[i]]].piece;
	out->of_half_edge = loops->of_half_edge;
	loops->of_half_edge = NULL; /* now owned by the pieces */
	for (uint32_t i = 0; i < loops->loop_count && out->items[0].half_edge == GEO_NONE; i++)
		if (loops->loops[i].piece == 0)
			out->items[0].half_edge = half_edge_of(loops, i);
}

/* Left of a cut from a foot to the other, there is the loop that goes on from the other. */
static void settle_sides(struct geo_pieces *out, const struct geo_loops *loops,
			 const struct geo_necks *necks)
{
	for (uint32_t foot = 0; foot < 2 * necks->count; foot++) {
		const struct geo_foot *first = &necks->items[foot / 2].feet[0];
		uint32_t stop = loops->cuts->of_foot[foot];
		uint32_t loop = stop != GEO_NONE
					? loops->of_label[stop]
					: geo_loop_at(loops, first->half_edge,
						      geo_along(loops->arrangement,
								first->half_edge, first->at));
		out->sides[foot] = loops->loops[loop].piece;
	}
}

static int cut(struct geo_pieces *out, struct geo_loops *loops, const struct geo_necks *necks,
	       struct geo_rings *rings)
{
	uint32_t *first_piece =
		malloc(((size_t)loops->arrangement->face_count + 1) * sizeof(*first_piece));
	int status = -1;
	out->sides = malloc((size_t)necks->count * 2 * sizeof(*out->sides) + 1);
	if (first_piece && out->sides && !list_pieces(out, loops, first_piece) &&
	    !geo_pieces_nest(loops, first_piece) && !geo_pieces_fill(out, loops) &&
	    (!rings || !geo_rings_trace(loops, rings))) {
		measure(out, loops, first_piece);
		settle_sides(out, loops, necks);
		settle_half_edges(out, loops);
		status = 0;
	}
	free(first_piece);
	return status;
}

int geo_pieces_cut(const struct geo_arrangement *arrangement, const struct geo_necks *necks,
		   const bool *chosen, struct geo_pieces *out, struct geo_rings *rings)
{
	struct geo_cuts cuts = {0};
	struct geo_loops loops = {0};
	*out = (struct geo_pieces){0};
	if (rings)
		*rings = (struct geo_rings){0};
	int status = -1;
	if (!geo_cuts_init(&cuts, arrangement, necks, chosen) &&
	    !geo_loops_init(&loops, arrangement, &cuts))
		status = cut(out, &loops, necks, rings);
	geo_loops_finish(&loops);
	geo_cuts_finish(&cuts);
	if (status)
		geo_pieces_finish(out);
	return status;
}

void geo_pieces_finish(struct geo_pieces *pieces)
{
	free(pieces->items);
	free(pieces->sides);
	free(pieces->of_half_edge);
	*pieces = (struct geo_pieces){0};
}
