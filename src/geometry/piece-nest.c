/*
 * As the faces do, a rim lies in what bounds the space straight under its first node: the edge
 * there, or a cut that passes between. What lies there began earlier in the order of x, then y, so
 * rims are settled in the order of their first nodes.
 */
#include "geometry/piece-nest.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/index.h"
#include "geometry/wide.h"

/* More than the rounding of a height that was worked out in doubles from places within 2^32 nm. */
#define SAME_HEIGHT 0x1p-16

struct rim {
	struct cutlint_point first;
	uint32_t loop, boundary; /* the boundary that holds the first node */
};

struct nest {
	struct geo_loops *loops;
	struct rim *rims;           /* of one face, by their first nodes */
	uint32_t *first_of_group;   /* the boundary of a group with its first node */
	struct geo_segment *chords; /* the cuts, rounded */
	uint32_t *stops;            /* of each chord, one of its two */
	struct geo_index *index;    /* made when first needed */
	uint32_t rim_count, chord_count;
};

/* A search for the highest cut in a face under a point. */
struct under {
	const struct nest *nest;
	struct geo_vector at;
	double highest, slope; /* there */
	uint32_t face, loop;   /* the loop above what was found */
};

static int make_chords(struct nest *nest)
{
	const struct geo_cuts *cuts = nest->loops->cuts;
	nest->chords = malloc(cuts->count * sizeof(*nest->chords) + 1);
	nest->stops = malloc(cuts->count * sizeof(*nest->stops) + 1);
	if (!nest->chords || !nest->stops)
		return -1;
	for (uint32_t stop = 0; stop < cuts->count; stop++) {
		const struct geo_stop *from = &cuts->stops[stop];
		const struct geo_stop *to = &cuts->stops[geo_cuts_mate(cuts, stop)];
		if (from->foot & 1)
			continue;
		nest->stops[nest->chord_count] = stop;
		nest->chords[nest->chord_count++] = (struct geo_segment){
			{(int32_t)lround(from->at.x), (int32_t)lround(from->at.y)},
			{(int32_t)lround(to->at.x), (int32_t)lround(to->at.y)}};
	}
	nest->index = geo_index_create(nest->chords, nest->chord_count);
	return nest->index ? 0 : -1;
}

/* Of two that start from one place, the steeper lies over the other just to the right of it. */
static bool lies_over(const struct under *under, double height, double slope)
{
	if (fabs(height - under->highest) <= SAME_HEIGHT)
		return slope > under->slope;
	return height > under->highest;
}

static bool look_at_chord(void *user, uint32_t chord)
{
	struct under *under = user;
	const struct geo_loops *loops = under->nest->loops;
	const struct geo_cuts *cuts = loops->cuts;
	uint32_t left = under->nest->stops[chord], right = geo_cuts_mate(cuts, left);
	if (cuts->stops[left].at.x > cuts->stops[right].at.x) {
		right = left;
		left = geo_cuts_mate(cuts, left);
	}
	struct geo_vector from = cuts->stops[left].at, to = cuts->stops[right].at;
	if (loops->arrangement->face[cuts->stops[left].half_edge] != under->face ||
	    from.x > under->at.x || to.x <= under->at.x)
		return true;
	double slope = (to.y - from.y) / (to.x - from.x);
	double height = from.y + (under->at.x - from.x) * slope;
	if (height < under->at.y && lies_over(under, height, slope)) {
		under->highest = height;
		under->slope = slope;
		under->loop = loops->of_label[right];
	}
	return true;
}

/* The loop straight under a rim's first node; GEO_NONE for the one without bounds. */
static uint32_t loop_under(const struct nest *nest, uint32_t face, const struct rim *rim)
{
	const struct geo_loops *loops = nest->loops;
	const struct geo_arrangement *arrangement = loops->arrangement;
	struct under under = {nest, {rim->first.x, rim->first.y}, -3e9, 0, face, GEO_NONE};
	uint32_t half = loops->boundaries[rim->boundary].under;
	if (half != GEO_NONE) {
		struct cutlint_point from =
			arrangement->nodes[geo_half_edge_from(arrangement, half)];
		struct cutlint_point to = arrangement->nodes[geo_half_edge_to(arrangement, half)];
		double share = (double)geo_dx(from, rim->first) / (double)geo_dx(from, to);
		under.highest = from.y + share * (double)geo_dy(from, to);
		under.slope = (double)geo_dy(from, to) / (double)geo_dx(from, to);
		under.loop = geo_loop_at(
			loops, half,
			share * hypot((double)geo_dx(from, to), (double)geo_dy(from, to)));
	}
	geo_index_box(nest->index, under.at.x - 2, under.highest - 2, under.at.x + 2,
		      under.at.y + 2, look_at_chord, &under);
	return under.loop;
}

static int by_first(const void *a, const void *b)
{
	const struct rim *left = a, *right = b;
	return geo_order(left->first, right->first);
}

static struct cutlint_point first_node(const struct geo_loops *loops, uint32_t boundary)
{
	const struct geo_arrangement *arrangement = loops->arrangement;
	uint32_t half = loops->boundaries[boundary].half_edge;
	return arrangement->nodes[geo_half_edge_from(arrangement, half)];
}

static void list_rims(struct nest *nest, uint32_t face)
{
	const struct geo_loops *loops = nest->loops;
	uint32_t from = loops->first_boundary[face], behind = loops->first_boundary[face + 1];
	for (uint32_t boundary = from; boundary < behind; boundary++) {
		uint32_t *first = &nest->first_of_group[loops->boundaries[boundary].group];
		if (loops->boundaries[boundary].group == boundary ||
		    geo_order(first_node(loops, boundary), first_node(loops, *first)) < 0)
			*first = boundary;
	}
	nest->rim_count = 0;
	for (uint32_t loop = loops->first_loop[face]; loop < loops->first_loop[face + 1]; loop++) {
		if (!loops->loops[loop].rim)
			continue;
		uint32_t boundary = nest->first_of_group[loops->loops[loop].group];
		nest->rims[nest->rim_count++] =
			(struct rim){first_node(loops, boundary), loop, boundary};
	}
	qsort(nest->rims, nest->rim_count, sizeof(*nest->rims), by_first);
}

static int nest_face(struct nest *nest, uint32_t face, uint32_t first_piece)
{
	struct geo_loop *loops = nest->loops->loops;
	if (!nest->index && make_chords(nest))
		return -1;
	list_rims(nest, face);
	for (uint32_t i = 0; i < nest->rim_count; i++) {
		uint32_t under = loop_under(nest, face, &nest->rims[i]);
		uint32_t piece = under == GEO_NONE ? first_piece : loops[under].piece;
		loops[nest->rims[i].loop].piece = piece == GEO_NONE ? first_piece : piece;
	}
	return 0;
}

static int nest_all(struct nest *nest, const uint32_t *first_piece)
{
	const struct geo_loops *loops = nest->loops;
	for (uint32_t face = 0; face < loops->arrangement->face_count; face++) {
		if (first_piece[face + 1] - first_piece[face] > 1) {
			if (nest_face(nest, face, first_piece[face]))
				return -1;
			continue;
		}
		for (uint32_t i = loops->first_loop[face]; i < loops->first_loop[face + 1]; i++)
			loops->loops[i].piece = first_piece[face];
	}
	return 0;
}

int geo_pieces_nest(struct geo_loops *loops, const uint32_t *first_piece)
{
	struct nest nest = {.loops = loops};
	uint32_t boundary_count = loops->first_boundary[loops->arrangement->face_count];
	int status = -1;
	nest.rims = malloc(loops->loop_count * sizeof(*nest.rims) + 1);
	nest.first_of_group = malloc(boundary_count * sizeof(*nest.first_of_group) + 1);
	if (nest.rims && nest.first_of_group)
		status = nest_all(&nest, first_piece);
	geo_index_destroy(nest.index);
	free(nest.rims);
	free(nest.first_of_group);
	free(nest.chords);
	free(nest.stops);
	return status;
}
