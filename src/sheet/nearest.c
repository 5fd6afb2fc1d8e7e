/* The smallest distances between outlines, and from an outline to a straight segment. */
#include "sheet/nearest.h"

#include <math.h>

#include "cutlint/box.h"
#include "geometry/distance.h"
#include "geometry/index.h"
#include "geometry/least.h"
#include "sheet/chains.h"
#include "sheet/refine.h"
#include "sheet/work.h"

/* Two segments, by the vertices at which they start, with their nearest places. */
struct closest {
	uint32_t segments[2];
	struct geo_vector at[2];
	double distance; /* nm */
};

/* The sides of one outline with an index over them. */
struct indexed {
	struct geo_lines lines;
	struct geo_chain chain;
	struct geo_segment *segments;
	uint32_t count;
	struct geo_index *index;
};

static struct geo_segment side_of(const struct geo_lines *lines, uint32_t vertex)
{
	uint32_t next = geo_chain_next(&lines->chains[0], vertex);
	return (struct geo_segment){lines->points[vertex],
				    lines->points[next == GEO_NONE ? vertex : next]};
}

static uint32_t side_count(const struct geo_chain *chain)
{
	if (chain->count < 2)
		return chain->count;
	return chain->closed ? chain->count : chain->count - 1;
}

static int index_outline(struct arena *arena, const struct cutlint_design *design, uint32_t number,
			 struct indexed *out)
{
	out->lines = chains_of_outline(design, number, &out->chain);
	out->count = side_count(&out->chain);
	out->segments = ARENA_ARRAY(arena, struct geo_segment, (size_t)out->count + 1);
	if (!out->segments)
		return -1;
	for (uint32_t i = 0; i < out->count; i++)
		out->segments[i] = side_of(&out->lines, out->chain.first + i);
	out->index = geo_index_create(out->segments, out->count);
	return out->index ? 0 : -1;
}

struct search {
	const struct indexed *other;
	uint32_t own; /* the vertex of the side that is compared */
	struct geo_segment side;
	bool swapped; /* the other outline is the first of the two */
	struct closest *best;
};

static void compare(struct search *search, uint32_t segment)
{
	const struct geo_segment *b = &search->other->segments[segment];
	struct geo_vector on_a, on_b;
	double distance =
		geo_segment_distance(sheet_vector(search->side.from), sheet_vector(search->side.to),
				     sheet_vector(b->from), sheet_vector(b->to), &on_a, &on_b);
	uint32_t other = search->other->chain.first + segment;
	if (distance >= search->best->distance)
		return;
	int mine = search->swapped ? 1 : 0;
	search->best->distance = distance;
	search->best->segments[mine] = search->own;
	search->best->segments[1 - mine] = other;
	search->best->at[mine] = on_a;
	search->best->at[1 - mine] = on_b;
}

static void visit_near(void *user, uint32_t segment, double *reach)
{
	struct search *search = user;
	compare(search, segment);
	*reach = fmin(*reach, search->best->distance);
}

static bool visit_box(void *user, uint32_t segment)
{
	struct search *search = user;
	compare(search, segment);
	return search->best->distance > 0;
}

/*
 * Compares each side of `a` with what of `b` is near its start, and with what it may cross. Done
 * both ways round this finds the smallest distance: it lies at the end of a side, or lines cross.
 */
static void compare_sides(const struct indexed *a, const struct indexed *b, bool swapped,
			  struct closest *best)
{
	for (uint32_t i = 0; i < a->count && best->distance > 0; i++) {
		const struct geo_segment *side = &a->segments[i];
		struct search search = {b, a->chain.first + i, *side, swapped, best};
		geo_index_near(b->index, sheet_vector(side->from), best->distance, visit_near,
			       &search);
		geo_index_near(b->index, sheet_vector(side->to), best->distance, visit_near,
			       &search);
		geo_index_box(b->index, fmin(side->from.x, side->to.x),
			      fmin(side->from.y, side->to.y), fmax(side->from.x, side->to.x),
			      fmax(side->from.y, side->to.y), visit_box, &search);
	}
}

static double report(const struct cutlint_design *design, const uint32_t outlines[2],
		     const struct closest *best, struct cutlint_wall out[2])
{
	struct geo_chain both[2];
	uint32_t low = outlines[0] < outlines[1] ? 0 : 1;
	(void)chains_of_outline(design, outlines[low], &both[0]);
	(void)chains_of_outline(design, outlines[1 - low], &both[1]);
	const struct geo_lines lines = {design->vertices, both, design->vertex_count,
					outlines[0] == outlines[1] ? 1 : 2};
	struct refine_foot feet[2] = {{best->segments[0], sheet_mm(best->at[0]), false},
				      {best->segments[1], sheet_mm(best->at[1]), false}};
	double distance = best->distance > 0 ? refine_width(design, &lines, feet) : 0;
	for (int i = 0; i < 2; i++)
		out[i] = (struct cutlint_wall){outlines[i], feet[i].segment, feet[i].at};
	return distance;
}

double cutlint_outline_distance(const struct cutlint_design *design, uint32_t a, uint32_t b,
				struct cutlint_wall out[2])
{
	struct arena *arena = arena_create();
	struct indexed sides[2] = {{.index = NULL}, {.index = NULL}};
	const uint32_t outlines[2] = {a, b};
	struct closest best = {.distance = INFINITY};
	double distance = INFINITY;
	for (int i = 0; i < 2; i++)
		out[i] = (struct cutlint_wall){outlines[i], CUTLINT_NONE, {0, 0}};
	if (arena && index_outline(arena, design, a, &sides[0]) == 0 &&
	    index_outline(arena, design, b, &sides[1]) == 0) {
		/* Farther than any two places on a sheet. */
		best.distance = 6.0 * CUTLINT_FARTHEST_NM;
		compare_sides(&sides[0], &sides[1], false, &best);
		compare_sides(&sides[1], &sides[0], true, &best);
		if (sides[0].count && sides[1].count)
			distance = report(design, outlines, &best, out);
	}
	geo_index_destroy(sides[0].index);
	geo_index_destroy(sides[1].index);
	arena_destroy(arena);
	return distance;
}

/* A straight segment that the sides of an outline are compared with. */
struct straight {
	struct geo_vector from, to;
	double left, top, right, bottom;
};

static struct straight straight_of(struct cutlint_xy from, struct cutlint_xy to)
{
	struct geo_vector a = sheet_nm(from), b = sheet_nm(to);
	return (struct straight){a,
				 b,
				 geo_lesser(a.x, b.x),
				 geo_lesser(a.y, b.y),
				 geo_greater(a.x, b.x),
				 geo_greater(a.y, b.y)};
}

/* At least how far a side is from the segment, squared: as far as their boxes. */
static double boxes_apart2(const struct straight *straight, const struct geo_segment *side)
{
	double x = geo_apart(straight->left, straight->right, side->from.x, side->to.x);
	double y = geo_apart(straight->top, straight->bottom, side->from.y, side->to.y);
	return x * x + y * y;
}

/* The side that is best looked at first, because it leaves the fewest others. */
static uint32_t likely_side(const struct straight *straight, const struct geo_lines *lines,
			    const struct geo_chain *chain)
{
	uint32_t likely = 0;
	double least = INFINITY;
	for (uint32_t i = 0; i < side_count(chain); i++) {
		struct geo_segment side = side_of(lines, chain->first + i);
		double apart2 = boxes_apart2(straight, &side);
		if (apart2 >= least)
			continue;
		least = apart2;
		likely = i;
	}
	return likely;
}

/* The side nearest to the segment, the first of equally near ones. */
static struct closest closest_side(const struct straight *straight, const struct geo_lines *lines,
				   const struct geo_chain *chain)
{
	struct closest best = {.distance = INFINITY};
	uint32_t count = side_count(chain), likely = likely_side(straight, lines, chain);
	for (uint32_t i = 0; i <= count && count > 0; i++) {
		uint32_t vertex = chain->first + (i == 0 ? likely : i - 1);
		struct geo_segment side = side_of(lines, vertex);
		if (boxes_apart2(straight, &side) > best.distance * best.distance * (1 + 1e-9))
			continue;
		struct geo_vector on_side, on_segment;
		double distance =
			geo_segment_distance(sheet_vector(side.from), sheet_vector(side.to),
					     straight->from, straight->to, &on_side, &on_segment);
		if (distance < best.distance ||
		    (distance == best.distance && vertex < best.segments[0]))
			best = (struct closest){
				{vertex, GEO_NONE}, {on_side, on_segment}, distance};
	}
	return best;
}

double cutlint_segment_distance(const struct cutlint_design *design, uint32_t outline,
				struct cutlint_xy from, struct cutlint_xy to,
				struct cutlint_wall *out)
{
	struct geo_chain chain;
	struct geo_lines lines = chains_of_outline(design, outline, &chain);
	struct straight straight = straight_of(from, to);
	struct closest best = closest_side(&straight, &lines, &chain);
	*out = (struct cutlint_wall){outline, CUTLINT_NONE, {0, 0}};
	if (!isfinite(best.distance))
		return best.distance;
	*out = (struct cutlint_wall){outline, best.segments[0], sheet_mm(best.at[0])};
	if (best.distance == 0)
		return 0;
	struct refine_foot feet[2] = {{out->vertex, out->at, false},
				      {GEO_NONE, sheet_mm(best.at[1]), true}};
	double refined = refine_to_segment(design, &lines, feet, from, to);
	out->vertex = feet[0].segment;
	out->at = feet[0].at;
	return refined;
}

bool nearest_within(const struct cutlint_design *design, uint32_t outline, struct cutlint_xy at,
		    double most_mm)
{
	struct cutlint_wall wall;
	struct cutlint_box box = cutlint_outline_box(design, outline);
	/* Twice what refining takes off, so that it makes no matter how distances are rounded. */
	double far_mm = most_mm + 2 * refine_most(design);
	struct cutlint_box around = {box.left - far_mm, box.top - far_mm, box.right + far_mm,
				     box.bottom + far_mm};
	return cutlint_box_contains(around, at) &&
	       cutlint_segment_distance(design, outline, at, at, &wall) <= most_mm;
}
