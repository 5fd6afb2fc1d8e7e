#include "geometry/loops.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/least.h"
#include "geometry/wide.h"

static uint32_t group_of(const struct geo_loops *loops, uint32_t boundary)
{
	struct geo_boundary *all = loops->boundaries;
	while (all[boundary].group != boundary) {
		all[boundary].group = all[all[boundary].group].group;
		boundary = all[boundary].group;
	}
	return boundary;
}

static void list_boundaries(struct geo_loops *loops)
{
	const struct geo_arrangement *arrangement = loops->arrangement;
	uint32_t count = 0;
	for (uint32_t number = 0; number < arrangement->face_count; number++) {
		const struct geo_face *face = &arrangement->faces[number];
		loops->first_boundary[number] = count;
		if (face->outer != GEO_NONE) {
			loops->boundaries[count] =
				(struct geo_boundary){face->outer, GEO_NONE, GEO_NONE, count};
			count++;
		}
		for (uint32_t i = face->first_inner; i < face->first_inner + face->inner_count;
		     i++, count++)
			loops->boundaries[count] = (struct geo_boundary){
				arrangement->inners[i], arrangement->unders[i], GEO_NONE, count};
	}
	loops->first_boundary[arrangement->face_count] = count;
}

/* Labels a boundary without a stop as a whole. */
static void label_whole(struct geo_loops *loops, uint32_t boundary)
{
	uint32_t start = loops->boundaries[boundary].half_edge, half = start;
	do {
		loops->of_half_edge[half] = loops->cuts->count + boundary;
		half = loops->arrangement->next[half];
	} while (half != start);
}

/* Links the stops of a boundary, from one of its half-edges that has some on. */
static void label_arcs(struct geo_loops *loops, uint32_t boundary, uint32_t start)
{
	const struct geo_cuts *cuts = loops->cuts;
	uint32_t half = start;
	loops->boundaries[boundary].first_stop = geo_cuts_first(cuts, start);
	do {
		uint32_t stop = geo_cuts_first(cuts, half);
		for (; stop + 1 < cuts->count && cuts->stops[stop + 1].half_edge == half; stop++)
			loops->following[stop] = stop + 1;
		do {
			half = loops->arrangement->next[half];
			loops->of_half_edge[half] = stop;
		} while (!geo_cuts_on(cuts, half));
		loops->following[stop] = geo_cuts_first(cuts, half);
	} while (half != start);
}

static void label_boundary(struct geo_loops *loops, uint32_t boundary)
{
	uint32_t start = loops->boundaries[boundary].half_edge, half = start;
	while (!geo_cuts_on(loops->cuts, half)) {
		half = loops->arrangement->next[half];
		if (half == start) {
			label_whole(loops, boundary);
			return;
		}
	}
	label_arcs(loops, boundary, half);
}

/* Ties boundaries that a cut joins. Until then of_label holds the boundary of each stop. */
static void tie_boundaries(struct geo_loops *loops)
{
	const struct geo_cuts *cuts = loops->cuts;
	uint32_t count = loops->first_boundary[loops->arrangement->face_count];
	for (uint32_t boundary = 0; boundary < count; boundary++) {
		uint32_t first = loops->boundaries[boundary].first_stop, stop = first;
		while (stop != GEO_NONE) {
			loops->of_label[stop] = boundary;
			stop = loops->following[stop] == first ? GEO_NONE : loops->following[stop];
		}
	}
	for (uint32_t stop = 0; stop < cuts->count; stop++) {
		uint32_t here = group_of(loops, loops->of_label[stop]);
		uint32_t there = group_of(loops, loops->of_label[geo_cuts_mate(cuts, stop)]);
		loops->boundaries[here > there ? here : there].group = here > there ? there : here;
	}
	for (uint32_t boundary = 0; boundary < count; boundary++)
		loops->boundaries[boundary].group = group_of(loops, boundary);
}

static void add_loop(struct geo_loops *loops, uint32_t boundary, uint32_t label)
{
	uint32_t number = loops->loop_count++, group = loops->boundaries[boundary].group;
	loops->loops[number] = (struct geo_loop){.label = label, .group = group, .piece = GEO_NONE};
	if (label >= loops->cuts->count) {
		loops->of_label[label] = number;
		return;
	}
	for (uint32_t stop = label; loops->of_label[stop] == GEO_NONE;) {
		loops->of_label[stop] = number;
		stop = geo_cuts_mate(loops->cuts, loops->following[stop]);
	}
}

static void list_loops(struct geo_loops *loops)
{
	const uint32_t stop_count = loops->cuts->count;
	for (uint32_t stop = 0; stop < stop_count; stop++)
		loops->of_label[stop] = GEO_NONE;
	for (uint32_t face = 0; face < loops->arrangement->face_count; face++) {
		loops->first_loop[face] = loops->loop_count;
		for (uint32_t boundary = loops->first_boundary[face];
		     boundary < loops->first_boundary[face + 1]; boundary++) {
			uint32_t first = loops->boundaries[boundary].first_stop, stop = first;
			if (first == GEO_NONE)
				add_loop(loops, boundary, stop_count + boundary);
			while (stop != GEO_NONE) {
				if (loops->of_label[stop] == GEO_NONE)
					add_loop(loops, boundary, stop);
				stop = loops->following[stop] == first ? GEO_NONE
								       : loops->following[stop];
			}
		}
	}
	loops->first_loop[loops->arrangement->face_count] = loops->loop_count;
}

struct area {
	struct geo_vector origin;
	double area2, low, high;
};

static void add_area(void *user, struct geo_vector from, struct geo_vector to)
{
	struct area *area = user;
	area->low = geo_lesser(area->low, from.y);
	area->high = geo_greater(area->high, from.y);
	area->area2 += (from.x - area->origin.x) * (to.y - area->origin.y) -
		       (from.y - area->origin.y) * (to.x - area->origin.x);
}

static struct geo_vector place_of(const struct geo_arrangement *arrangement, uint32_t half)
{
	struct cutlint_point at = arrangement->nodes[geo_half_edge_from(arrangement, half)];
	return (struct geo_vector){at.x, at.y};
}

/*
 * Of a group that holds a face's outer boundary, no loop is a rim. Of any other, just one is: the
 * one with the least area, which is minus that of all that the group encloses.
 */
static void find_rims(struct geo_loops *loops, uint32_t face, uint32_t *rim_of_group)
{
	uint32_t outer = face ? loops->first_boundary[face] : GEO_NONE;
	uint32_t last = loops->first_loop[face + 1];
	for (uint32_t number = loops->first_loop[face]; number < last; number++) {
		struct geo_loop *loop = &loops->loops[number];
		uint32_t first = loops->boundaries[loops->first_boundary[face]].half_edge;
		struct area area = {place_of(loops->arrangement, first), 0, INFINITY, -INFINITY};
		geo_loop_each(loops, number, add_area, &area);
		loop->area2 = area.area2;
		loop->low = area.low;
		loop->high = area.high;
		if (loop->group == outer)
			continue;
		uint32_t *rim = &rim_of_group[loop->group];
		if (*rim == GEO_NONE || loop->area2 < loops->loops[*rim].area2) {
			if (*rim != GEO_NONE)
				loops->loops[*rim].rim = false;
			loop->rim = true;
			*rim = number;
		}
	}
}

static int find_all_rims(struct geo_loops *loops)
{
	uint32_t count = loops->first_boundary[loops->arrangement->face_count];
	uint32_t *rim_of_group = malloc(count * sizeof(*rim_of_group) + 1);
	if (!rim_of_group)
		return -1;
	for (uint32_t i = 0; i < count; i++)
		rim_of_group[i] = GEO_NONE;
	for (uint32_t face = 0; face < loops->arrangement->face_count; face++)
		find_rims(loops, face, rim_of_group);
	free(rim_of_group);
	return 0;
}

static int take_memory(struct geo_loops *loops)
{
	const struct geo_arrangement *arrangement = loops->arrangement;
	size_t boundaries = (size_t)arrangement->face_count + arrangement->inner_count;
	size_t labels = boundaries + loops->cuts->count, faces = arrangement->face_count;
	loops->boundaries = malloc(boundaries * sizeof(*loops->boundaries));
	loops->loops = malloc(labels * sizeof(*loops->loops));
	loops->first_boundary = malloc((faces + 1) * sizeof(*loops->first_boundary));
	loops->first_loop = malloc((faces + 1) * sizeof(*loops->first_loop));
	loops->following = malloc(loops->cuts->count * sizeof(*loops->following) + 1);
	loops->of_half_edge =
		malloc((size_t)arrangement->edge_count * 2 * sizeof(*loops->of_half_edge) + 1);
	loops->of_label = malloc(labels * sizeof(*loops->of_label));
	return loops->boundaries && loops->loops && loops->first_boundary && loops->first_loop &&
			       loops->following && loops->of_half_edge && loops->of_label
		       ? 0
		       : -1;
}

int geo_loops_init(struct geo_loops *loops, const struct geo_arrangement *arrangement,
		   const struct geo_cuts *cuts)
{
	*loops = (struct geo_loops){.arrangement = arrangement, .cuts = cuts};
	if (take_memory(loops))
		return -1;
	list_boundaries(loops);
	for (uint32_t i = 0; i < loops->first_boundary[arrangement->face_count]; i++)
		label_boundary(loops, i);
	tie_boundaries(loops);
	list_loops(loops);
	return find_all_rims(loops);
}

void geo_loops_finish(struct geo_loops *loops)
{
	free(loops->boundaries);
	free(loops->loops);
	free(loops->first_boundary);
	free(loops->first_loop);
	free(loops->following);
	free(loops->of_half_edge);
	free(loops->of_label);
	*loops = (struct geo_loops){0};
}

uint32_t geo_loop_at(const struct geo_loops *loops, uint32_t half_edge, double along)
{
	const struct geo_cuts *cuts = loops->cuts;
	uint32_t label = loops->of_half_edge[half_edge];
	if (!geo_cuts_on(cuts, half_edge))
		return loops->of_label[label];
	for (uint32_t stop = geo_cuts_first(cuts, half_edge);
	     stop < cuts->count && cuts->stops[stop].half_edge == half_edge &&
	     cuts->stops[stop].along <= along;
	     stop++)
		label = stop;
	return loops->of_label[label];
}

static void each_of_boundary(const struct geo_arrangement *arrangement, uint32_t start,
			     geo_visit_stretch *visit, void *user)
{
	uint32_t half = start;
	do {
		visit(user, place_of(arrangement, half), place_of(arrangement, half ^ 1));
		half = arrangement->next[half];
	} while (half != start);
}

/* The arc that starts at a stop, up to the stop that follows. */
static void each_of_arc(const struct geo_loops *loops, uint32_t stop, geo_visit_stretch *visit,
			void *user)
{
	const struct geo_arrangement *arrangement = loops->arrangement;
	const struct geo_stop *from = &loops->cuts->stops[stop];
	const struct geo_stop *to = &loops->cuts->stops[loops->following[stop]];
	if (to > from && to->half_edge == from->half_edge) {
		visit(user, from->at, to->at);
		return;
	}
	uint32_t half = from->half_edge;
	visit(user, from->at, place_of(arrangement, half ^ 1));
	for (half = arrangement->next[half]; half != to->half_edge; half = arrangement->next[half])
		visit(user, place_of(arrangement, half), place_of(arrangement, half ^ 1));
	visit(user, place_of(arrangement, half), to->at);
}

void geo_loop_each(const struct geo_loops *loops, uint32_t loop, geo_visit_stretch *visit,
		   void *user)
{
	const struct geo_cuts *cuts = loops->cuts;
	uint32_t label = loops->loops[loop].label;
	if (label >= cuts->count) {
		each_of_boundary(loops->arrangement,
				 loops->boundaries[label - cuts->count].half_edge, visit, user);
		return;
	}
	uint32_t stop = label;
	do {
		uint32_t end = loops->following[stop], mate = geo_cuts_mate(cuts, end);
		each_of_arc(loops, stop, visit, user);
		visit(user, cuts->stops[end].at, cuts->stops[mate].at);
		stop = mate;
	} while (stop != label);
}
