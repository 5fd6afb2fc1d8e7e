/* The ends of open burned outlines, with what is nearest to each. */
#include <math.h>

#include "geometry/index.h"
#include "sheet/chains.h"
#include "sheet/walls.h"
#include "sheet/work.h"

/* Farther than any two places on a sheet, in nm. */
static const double ANYWHERE = 6.0 * CUTLINT_FARTHEST_NM;

static uint32_t collect_ends(const struct chains *chains, const struct cutlint_design *design,
			     struct cutlint_end *ends)
{
	uint32_t count = 0;
	for (uint32_t c = 0; c < chains->lines.chain_count; c++) {
		const struct geo_chain *chain = &chains->lines.chains[c];
		if (chain->closed)
			continue;
		for (int last = 0; last < 2 && ends; last++) {
			uint32_t vertex = chain->first + (last ? chain->count - 1 : 0);
			ends[count + (uint32_t)last] = (struct cutlint_end){
				.outline = chains->outlines[c],
				.last = last,
				.vertex = vertex,
				.at = cutlint_point_mm(design->vertices[vertex]),
				.near_end = CUTLINT_NONE,
				.near_end_mm = INFINITY,
				.near_wall = {CUTLINT_NONE, CUTLINT_NONE, {0, 0}},
				.near_wall_mm = INFINITY,
			};
		}
		count += 2;
	}
	return count;
}

/* The places where ends lie, each once; ends at one place are nearest to each other. */
struct places {
	struct geo_segment *segments; /* of length zero */
	uint32_t *first;              /* of each place: the lowest end there */
	uint32_t count;
};

static void set_near_end(struct cutlint_end *ends, uint32_t end, uint32_t other, double distance)
{
	if (end == other)
		return;
	ends[end].near_end = other;
	ends[end].near_end_mm = distance;
}

static int collect_places(struct sheet_work *work, struct cutlint_end *ends, uint32_t count,
			  struct places *places)
{
	struct cutlint_point *points =
		ARENA_ARRAY(work->scratch, struct cutlint_point, (size_t)count + 1);
	places->segments = ARENA_ARRAY(work->scratch, struct geo_segment, (size_t)count + 1);
	places->first = ARENA_ARRAY(work->scratch, uint32_t, (size_t)count + 1);
	places->count = 0;
	if (!points || !places->segments || !places->first)
		return -1;
	for (uint32_t i = 0; i < count; i++)
		points[i] = work->design->vertices[ends[i].vertex];
	uint32_t *same = sheet_join_points(work->scratch, points, count, 0);
	if (!same)
		return -1;
	for (uint32_t i = 0; i < count; i++) {
		if (same[i] == i) {
			places->segments[places->count] =
				(struct geo_segment){points[i], points[i]};
			places->first[places->count++] = i;
			continue;
		}
		set_near_end(ends, i, same[i], 0);
		if (ends[same[i]].near_end == CUTLINT_NONE)
			set_near_end(ends, same[i], i, 0);
	}
	return 0;
}

struct nearest_place {
	const struct places *places;
	uint32_t self, best;
	double distance; /* nm */
};

static void visit_place(void *user, uint32_t other, double *reach)
{
	struct nearest_place *search = user;
	if (other == search->self)
		return;
	struct cutlint_point a = search->places->segments[search->self].from;
	struct cutlint_point b = search->places->segments[other].from;
	double distance = hypot((double)b.x - a.x, (double)b.y - a.y);
	bool nearer = distance < search->distance ||
		      (distance == search->distance && other < search->best);
	if (!nearer)
		return;
	search->best = other;
	search->distance = distance;
	*reach = fmin(*reach, distance);
}

static int find_near_ends(struct sheet_work *work, struct cutlint_end *ends, uint32_t count)
{
	struct places places;
	if (collect_places(work, ends, count, &places) != 0)
		return -1;
	struct geo_index *index = geo_index_create(places.segments, places.count);
	if (!index)
		return -1;
	for (uint32_t i = 0; i < places.count; i++) {
		if (ends[places.first[i]].near_end != CUTLINT_NONE)
			continue;
		struct nearest_place search = {&places, i, CUTLINT_NONE, INFINITY};
		geo_index_near(index, sheet_vector(places.segments[i].from), ANYWHERE, visit_place,
			       &search);
		if (search.best != CUTLINT_NONE)
			set_near_end(ends, places.first[i], places.first[search.best],
				     search.distance / SHEET_NM);
	}
	geo_index_destroy(index);
	return 0;
}

static int find_near_walls(struct sheet_work *work, const struct chains *chains,
			   struct cutlint_end *ends)
{
	struct walls walls;
	if (walls_init(&walls, work->scratch, &chains->lines, NULL) != 0) {
		walls_finish(&walls);
		return -1;
	}
	for (uint32_t c = 0, i = 0; c < chains->lines.chain_count; c++) {
		for (int last = 0; last < 2 && !chains->lines.chains[c].closed; last++, i++) {
			struct walls_near near = walls_nearest(&walls, c, last, ANYWHERE);
			if (near.vertex == GEO_NONE)
				continue;
			ends[i].near_wall = (struct cutlint_wall){chains->outlines[near.chain],
								  near.vertex, sheet_mm(near.at)};
			ends[i].near_wall_mm = near.distance / SHEET_NM;
		}
	}
	walls_finish(&walls);
	return 0;
}

int sheet_find_ends(struct sheet_work *work)
{
	struct chains chains;
	if (chains_collect(work->scratch, work->design, chains_want_cut, work->design, &chains) !=
	    0)
		return -1;
	uint32_t count = collect_ends(&chains, work->design, NULL);
	struct cutlint_end *ends = ARENA_ARRAY(work->arena, struct cutlint_end, (size_t)count + 1);
	if (!ends)
		return -1;
	collect_ends(&chains, work->design, ends);
	work->sheet->ends = ends;
	work->sheet->end_count = count;
	if (count == 0)
		return 0;
	return find_near_ends(work, ends, count) == 0 && find_near_walls(work, &chains, ends) == 0
		       ? 0
		       : -1;
}
