/* cutting.h - a drawing with necks at known places, arranged and cut, for tests of pieces. */
#ifndef TESTS_GEOMETRY_CUTTING_H
#define TESTS_GEOMETRY_CUTTING_H

#include "geometry/pieces.h"
#include "planar.h"
#include "random.h"

#define MOST_POINTS 4000
#define MOST_CHAINS 200
#define MOST_NECKS  64

struct drawing {
	struct cutlint_point points[MOST_POINTS];
	struct geo_chain chains[MOST_CHAINS];
	struct cutlint_point feet[MOST_NECKS][2];
	struct geo_neck necks[MOST_NECKS];
	bool chosen[MOST_NECKS];
	struct geo_lines lines;
	uint32_t neck_count;
	struct geo_arrangement *arrangement;
	struct geo_pieces pieces;
};

static struct drawing drawing;

static inline void begin(void)
{
	drawing.neck_count = 0;
	drawing.lines = (struct geo_lines){drawing.points, drawing.chains, 0, 0};
}

static inline void add_chain(bool closed, uint32_t count, const struct cutlint_point *points)
{
	drawing.chains[drawing.lines.chain_count++] =
		(struct geo_chain){drawing.lines.point_count, count, closed};
	for (uint32_t i = 0; i < count; i++)
		drawing.points[drawing.lines.point_count++] = points[i];
}

static inline void rectangle(int32_t left, int32_t low, int32_t width, int32_t height)
{
	add_chain(true, 4,
		  (struct cutlint_point[]){{left, low},
					   {left + width, low},
					   {left + width, low + height},
					   {left, low + height}});
}

static inline void line(int32_t x0, int32_t y0, int32_t x1, int32_t y1)
{
	add_chain(false, 2, (struct cutlint_point[]){{x0, y0}, {x1, y1}});
}

static inline void neck(int32_t x0, int32_t y0, int32_t x1, int32_t y1)
{
	drawing.chosen[drawing.neck_count] = true;
	drawing.feet[drawing.neck_count][0] = (struct cutlint_point){x0, y0};
	drawing.feet[drawing.neck_count++][1] = (struct cutlint_point){x1, y1};
}

static inline struct geo_vector middle(const struct cutlint_point *feet)
{
	return (struct geo_vector){feet[0].x / 2.0 + feet[1].x / 2.0,
				   feet[0].y / 2.0 + feet[1].y / 2.0};
}

/*
 * A half-edge on which a foot lies, with the face on its left: where it lies within an edge, the
 * one on the neck's side; in a node, any of that face.
 */
static inline uint32_t wall_of(struct cutlint_point foot, struct cutlint_point other, uint32_t face,
			       struct random *random)
{
	const struct geo_arrangement *a = drawing.arrangement;
	uint32_t found = GEO_NONE, candidates = 0;
	for (uint32_t half = 0; half < 2 * a->edge_count; half++) {
		struct cutlint_point from = a->nodes[geo_half_edge_from(a, half)];
		struct cutlint_point to = a->nodes[geo_half_edge_to(a, half)];
		bool at_node = planar_on(from, from, foot) || planar_on(to, to, foot);
		if (!planar_on(from, to, foot) || a->face[half] != face ||
		    (!at_node && planar_side(from, to, other) <= 0))
			continue;
		if (random_below(random, ++candidates) == 0)
			found = half;
	}
	assert_true(found != GEO_NONE);
	return found;
}

static inline void cut(struct random *random)
{
	drawing.arrangement = geo_arrangement_create(&drawing.lines, NULL);
	assert_non_null(drawing.arrangement);
	assert_int_equal(geo_arrangement_locate(drawing.arrangement), 0);
	for (uint32_t i = 0; i < drawing.neck_count; i++) {
		const struct cutlint_point *feet = drawing.feet[i];
		struct geo_neck *out = &drawing.necks[i];
		*out = (struct geo_neck){.kind = GEO_NECK};
		out->face = geo_face_at(drawing.arrangement, middle(feet));
		for (int side = 0; side < 2; side++)
			out->feet[side] = (struct geo_foot){
				{feet[side].x, feet[side].y},
				wall_of(feet[side], feet[!side], out->face, random)};
	}
	struct geo_necks necks = {drawing.necks, drawing.neck_count};
	assert_int_equal(
		geo_pieces_cut(drawing.arrangement, &necks, drawing.chosen, &drawing.pieces, NULL),
		0);
}

static inline void end(void)
{
	geo_pieces_finish(&drawing.pieces);
	geo_arrangement_destroy(drawing.arrangement);
}

#endif
