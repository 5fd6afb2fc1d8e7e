/*
 * Pieces: worked cases, and random drawings against GEOS's polygonizer, which gets the cuts as
 * lines. All corners and feet are integers, so that no rounding comes in.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "geometry/pieces.h"
#include "geos.h"
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

static void begin(void)
{
	drawing.neck_count = 0;
	drawing.lines = (struct geo_lines){drawing.points, drawing.chains, 0, 0};
}

static void add_chain(bool closed, uint32_t count, const struct cutlint_point *points)
{
	drawing.chains[drawing.lines.chain_count++] =
		(struct geo_chain){drawing.lines.point_count, count, closed};
	for (uint32_t i = 0; i < count; i++)
		drawing.points[drawing.lines.point_count++] = points[i];
}

static void rectangle(int32_t left, int32_t low, int32_t width, int32_t height)
{
	add_chain(true, 4,
		  (struct cutlint_point[]){{left, low},
					   {left + width, low},
					   {left + width, low + height},
					   {left, low + height}});
}

static void line(int32_t x0, int32_t y0, int32_t x1, int32_t y1)
{
	add_chain(false, 2, (struct cutlint_point[]){{x0, y0}, {x1, y1}});
}

static void neck(int32_t x0, int32_t y0, int32_t x1, int32_t y1)
{
	drawing.chosen[drawing.neck_count] = true;
	drawing.feet[drawing.neck_count][0] = (struct cutlint_point){x0, y0};
	drawing.feet[drawing.neck_count++][1] = (struct cutlint_point){x1, y1};
}

static struct geo_vector middle(const struct cutlint_point *feet)
{
	return (struct geo_vector){feet[0].x / 2.0 + feet[1].x / 2.0,
				   feet[0].y / 2.0 + feet[1].y / 2.0};
}

/*
 * A half-edge on which a foot lies, with the face on its left: where it lies within an edge, the
 * one on the neck's side; in a node, any of that face.
 */
static uint32_t wall_of(struct cutlint_point foot, struct cutlint_point other, uint32_t face,
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

static void cut(struct random *random)
{
	drawing.arrangement = geo_arrangement_create(&drawing.lines);
	assert_non_null(drawing.arrangement);
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
		geo_pieces_cut(drawing.arrangement, &necks, drawing.chosen, &drawing.pieces), 0);
}

static void cut_once(void)
{
	struct random random = {1};
	cut(&random);
}

static void end(void)
{
	geo_pieces_finish(&drawing.pieces);
	geo_arrangement_destroy(drawing.arrangement);
}

/* How many pieces have this area, of those with bounds. */
static uint32_t with_area(double area)
{
	uint32_t count = 0;
	for (uint32_t i = 1; i < drawing.pieces.count; i++)
		count += fabs(drawing.pieces.items[i].area - area) < 1e-6 * area;
	return count;
}

static bool is_bridge(uint32_t number)
{
	return drawing.pieces.sides[2 * number] != drawing.pieces.sides[2 * number + 1];
}

static void a_face_without_a_neck_is_one_piece(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	rectangle(40, 40, 10, 20);
	cut_once();
	assert_int_equal(drawing.pieces.count, 3);
	assert_int_equal(with_area(9800), 1);
	assert_int_equal(with_area(200), 1);
	end();
}

static void a_ring_with_one_neck_stays_one_piece(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	rectangle(20, 20, 60, 60);
	neck(50, 0, 50, 20);
	cut_once();
	assert_int_equal(drawing.pieces.count, 3);
	assert_int_equal(with_area(6400), 1);
	assert_false(is_bridge(0));
	end();
}

/* k cuts through a ring make k pieces: here quarters with mitred corners. */
static void a_ring_with_four_necks_falls_into_four(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	rectangle(20, 20, 60, 60);
	neck(0, 0, 20, 20);
	neck(100, 0, 80, 20);
	neck(80, 80, 100, 100);
	neck(20, 80, 0, 100);
	cut_once();
	assert_int_equal(drawing.pieces.count, 6);
	assert_int_equal(with_area(1600), 4);
	for (uint32_t i = 0; i < 4; i++)
		assert_true(is_bridge(i));
	end();
}

static void a_neck_that_is_not_chosen_does_not_cut(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	rectangle(20, 20, 60, 60);
	neck(50, 0, 50, 20);
	neck(50, 80, 50, 100);
	drawing.chosen[1] = false;
	cut_once();
	assert_int_equal(with_area(6400), 1);
	assert_int_equal(drawing.pieces.sides[2], drawing.pieces.sides[0]);
	assert_int_equal(drawing.pieces.sides[3], drawing.pieces.sides[0]);
	end();
}

static void strips_and_contacts_do_not_cut(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	neck(50, 0, 50, 100);
	cut_once();
	assert_int_equal(with_area(5000), 2);
	geo_pieces_finish(&drawing.pieces);
	struct geo_necks necks = {drawing.necks, 1};
	for (int kind = GEO_STRIP; kind <= GEO_CONTACT; kind++) {
		drawing.necks[0].kind = (enum geo_neck_kind)kind;
		assert_int_equal(geo_pieces_cut(drawing.arrangement, &necks, drawing.chosen,
						&drawing.pieces),
				 0);
		assert_int_equal(with_area(10000), 1);
		geo_pieces_finish(&drawing.pieces);
	}
	geo_arrangement_destroy(drawing.arrangement);
}

/* Cuts between holes alone part nothing until they close a ring. */
static void holes_joined_in_a_ring_part_what_lies_within(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	rectangle(10, 10, 10, 80);
	rectangle(80, 10, 10, 80);
	rectangle(50, 50, 4, 4);
	neck(20, 15, 80, 15);
	cut_once();
	assert_int_equal(with_area(10000 - 1600 - 16), 1);
	assert_false(is_bridge(0));
	end();

	neck(80, 85, 20, 85);
	cut_once();
	assert_int_equal(with_area(60 * 70 - 16), 1);
	assert_int_equal(with_area(10000 - 1600 - 60 * 70), 1);
	assert_true(is_bridge(0));
	assert_true(is_bridge(1));
	end();
}

/* A hole on each side of a cut that runs below both of them. */
static void a_hole_goes_to_the_piece_that_holds_it(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	rectangle(10, 60, 10, 10);
	rectangle(70, 10, 20, 20);
	rectangle(30, 80, 5, 5);
	neck(0, 0, 100, 100);
	cut_once();
	assert_int_equal(with_area(5000 - 100 - 25), 1);
	assert_int_equal(with_area(5000 - 400), 1);
	end();
}

/* The upright line through the hole's first corner meets the foot of the cut below it. */
static void a_hole_straight_above_a_foot_lies_above_its_cut(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 400, 400);
	rectangle(300, 100, 50, 80);
	rectangle(300, 250, 20, 20);
	neck(300, 180, 400, 200);
	neck(300, 100, 0, 100);
	cut_once();
	assert_int_equal(with_area(300 * 300 + 100 * 210 - 400), 1);
	assert_int_equal(with_area(160000 - 111000 - 4000), 1);
	end();
}

static void necks_on_one_edge_and_from_one_foot_are_ordered(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	neck(70, 0, 70, 100);
	neck(20, 0, 20, 100);
	neck(70, 0, 100, 30);
	neck(100, 60, 70, 0);
	cut_once();
	assert_int_equal(with_area(2000), 1);
	assert_int_equal(with_area(5000), 1);
	assert_int_equal(with_area(30 * 30 / 2.0), 2);
	assert_int_equal(with_area(3000 - 900), 1);
	end();
}

/* The rest is against GEOS. */

static GEOSContextHandle_t geos;

static GEOSGeometry *segment_of(struct cutlint_point a, struct cutlint_point b)
{
	GEOSCoordSequence *sequence = GEOSCoordSeq_create_r(geos, 2, 2);
	GEOSCoordSeq_setXY_r(geos, sequence, 0, a.x, a.y);
	GEOSCoordSeq_setXY_r(geos, sequence, 1, b.x, b.y);
	return GEOSGeom_createLineString_r(geos, sequence);
}

static GEOSGeometry *polygons_of_drawing(void)
{
	GEOSGeometry *parts[MOST_NECKS + 1];
	parts[0] = geos_lines(geos, &drawing.lines);
	for (uint32_t i = 0; i < drawing.neck_count; i++)
		parts[i + 1] = segment_of(drawing.feet[i][0], drawing.feet[i][1]);
	GEOSGeometry *all = GEOSGeom_createCollection_r(geos, GEOS_GEOMETRYCOLLECTION, parts,
							drawing.neck_count + 1);
	GEOSGeometry *noded = GEOSUnaryUnion_r(geos, all);
	const GEOSGeometry *one = noded;
	GEOSGeometry *polygons = GEOSPolygonize_r(geos, &one, 1);
	GEOSGeom_destroy_r(geos, noded);
	GEOSGeom_destroy_r(geos, all);
	return polygons;
}

/* The polygon that holds a place; -1 for the unbounded space. */
static int polygon_at(const GEOSGeometry *polygons, double x, double y)
{
	GEOSGeometry *point = GEOSGeom_createPointFromXY_r(geos, x, y);
	int found = -1;
	for (int i = 0; i < GEOSGetNumGeometries_r(geos, polygons) && found < 0; i++)
		if (GEOSContains_r(geos, GEOSGetGeometryN_r(geos, polygons, i), point) == 1)
			found = i;
	GEOSGeom_destroy_r(geos, point);
	return found;
}

/* Each piece is the polygon that its own point lies in, and no two are the same. */
static void pieces_are_the_polygons(const GEOSGeometry *polygons, int *polygon_of)
{
	char taken[1000] = {0};
	assert_int_equal(GEOSGetNumGeometries_r(geos, polygons), drawing.pieces.count - 1);
	for (uint32_t i = 0; i < drawing.pieces.count; i++) {
		const struct geo_piece *piece = &drawing.pieces.items[i];
		polygon_of[i] = polygon_at(polygons, piece->inside.x, piece->inside.y);
		assert_int_equal(polygon_of[i] < 0, i == 0);
		assert_int_equal(geo_face_at(drawing.arrangement, piece->inside), piece->face);
		if (i == 0)
			continue;
		assert_int_equal(taken[polygon_of[i]]++, 0);
		double area;
		GEOSArea_r(geos, GEOSGetGeometryN_r(geos, polygons, polygon_of[i]), &area);
		assert_true(fabs(area - piece->area) <= 1e-9 * area);
	}
}

/* A little to the left of a place on a line. */
static int polygon_left_of(const GEOSGeometry *polygons, struct geo_vector at, double dx, double dy)
{
	double length = hypot(dx, dy);
	return polygon_at(polygons, at.x - dy / length * 1e-4, at.y + dx / length * 1e-4);
}

static void sides_are_right(const GEOSGeometry *polygons, const int *polygon_of)
{
	for (uint32_t foot = 0; foot < 2 * drawing.neck_count; foot++) {
		const struct cutlint_point *feet = drawing.feet[foot / 2];
		struct cutlint_point to = feet[foot & 1], from = feet[~foot & 1];
		int expected =
			polygon_left_of(polygons, middle(feet), to.x - from.x, to.y - from.y);
		assert_int_equal(polygon_of[drawing.pieces.sides[foot]], expected);
	}
}

static void half_edges_are_right(const GEOSGeometry *polygons, const int *polygon_of)
{
	const struct geo_arrangement *a = drawing.arrangement;
	for (uint32_t half = 0; half < 2 * a->edge_count; half++) {
		struct cutlint_point from = a->nodes[geo_half_edge_from(a, half)];
		struct cutlint_point to = a->nodes[geo_half_edge_to(a, half)];
		double dx = to.x - from.x, dy = to.y - from.y, length = hypot(dx, dy);
		struct geo_vector at = {from.x + dx / length * 0.25, from.y + dy / length * 0.25};
		assert_int_equal(polygon_of[drawing.pieces.of_half_edge[half]],
				 polygon_left_of(polygons, at, dx, dy));
	}
	for (uint32_t i = 0; i < drawing.pieces.count; i++) {
		uint32_t half = drawing.pieces.items[i].half_edge;
		assert_int_equal(a->face[half], drawing.pieces.items[i].face);
	}
}

/* Frames in cells of a grid, with frames within and slits beside them. */
static void random_windows(struct random *random)
{
	rectangle(0, 0, 400, 400);
	for (int32_t cell = 0; cell < 16; cell++) {
		int32_t x = cell % 4 * 100 + 5 + (int32_t)random_below(random, 20);
		int32_t y = cell / 4 * 100 + 5 + (int32_t)random_below(random, 20);
		int32_t width = 30 + (int32_t)random_below(random, 40);
		int32_t height = 30 + (int32_t)random_below(random, 40);
		uint32_t kind = random_below(random, 5);
		if (kind < 3)
			rectangle(x, y, width, height);
		if (kind == 1)
			rectangle(x + 8, y + 8, width - 16, height - 16);
		if (kind == 2)
			line(x, y, x - 3, y + (int32_t)random_below(random, 20));
		if (kind == 3)
			line(x, y, x + width, y + height);
	}
	if (random_below(random, 2))
		rectangle(420, 20, 50, 60);
}

static struct cutlint_point random_foot(struct random *random)
{
	for (;;) {
		uint32_t at = random_below(random, drawing.lines.point_count);
		const struct geo_chain *chain =
			&drawing.chains[geo_lines_chain(&drawing.lines, at)];
		uint32_t next = geo_chain_next(chain, at);
		if (random_below(random, 2) || next == GEO_NONE)
			return drawing.points[at];
		struct cutlint_point a = drawing.points[at], b = drawing.points[next];
		if (a.x != b.x && a.y != b.y)
			continue;
		int32_t steps = abs(b.x - a.x) + abs(b.y - a.y);
		int32_t step = (int32_t)random_below(random, (uint32_t)steps);
		return (struct cutlint_point){a.x + (b.x - a.x) / steps * step,
					      a.y + (b.y - a.y) / steps * step};
	}
}

/* Whether two segments meet but in ends of both. */
static bool conflict(struct cutlint_point a, struct cutlint_point b, struct cutlint_point c,
		     struct cutlint_point d)
{
	if (planar_side(a, b, c) * planar_side(a, b, d) < 0 &&
	    planar_side(c, d, a) * planar_side(c, d, b) < 0)
		return true;
	const struct cutlint_point ends[4] = {a, b, c, d};
	for (int i = 0; i < 4; i++) {
		const struct cutlint_point *other = i < 2 ? &ends[2] : &ends[0];
		if (planar_on(other[0], other[1], ends[i]) &&
		    !planar_on(other[0], other[0], ends[i]) &&
		    !planar_on(other[1], other[1], ends[i]))
			return true;
	}
	return (planar_on(a, a, c) && planar_on(b, b, d)) ||
	       (planar_on(a, a, d) && planar_on(b, b, c));
}

/* Whether a line touches the drawing and the other necks in its own ends alone. */
static bool is_free(struct cutlint_point p, struct cutlint_point q)
{
	for (uint32_t at = 0; at < drawing.lines.point_count; at++) {
		const struct geo_chain *chain =
			&drawing.chains[geo_lines_chain(&drawing.lines, at)];
		uint32_t next = geo_chain_next(chain, at);
		if (next == GEO_NONE)
			continue;
		struct cutlint_point a = drawing.points[at], b = drawing.points[next];
		bool meets_ends =
			!(planar_on(p, q, a) && !planar_on(p, p, a) && !planar_on(q, q, a)) &&
			!(planar_on(p, q, b) && !planar_on(p, p, b) && !planar_on(q, q, b));
		bool along = !planar_side(a, b, p) && !planar_side(a, b, q);
		bool crosses = planar_side(a, b, p) * planar_side(a, b, q) < 0 &&
			       planar_side(p, q, a) * planar_side(p, q, b) < 0;
		if (!meets_ends || along || crosses)
			return false;
	}
	for (uint32_t i = 0; i < drawing.neck_count; i++)
		if (conflict(p, q, drawing.feet[i][0], drawing.feet[i][1]))
			return false;
	return true;
}

static void random_necks(struct random *random)
{
	uint32_t wanted = 1 + random_below(random, 24);
	for (int tries = 0; tries < 600 && drawing.neck_count < wanted; tries++) {
		struct cutlint_point p = random_foot(random), q = random_foot(random);
		if (hypot(p.x - q.x, p.y - q.y) < 200 && !planar_on(p, p, q) && is_free(p, q))
			neck(p.x, p.y, q.x, q.y);
	}
}

static void random_cuts_agree_with_polygonizing(void **state)
{
	(void)state;
	struct random random = {77};
	int polygon_of[1000];
	geos = GEOS_init_r();
	uint32_t pieces = 0, faces = 0;
	for (int i = 0; i < 200; i++) {
		begin();
		random_windows(&random);
		random_necks(&random);
		cut(&random);
		GEOSGeometry *polygons = polygons_of_drawing();
		pieces_are_the_polygons(polygons, polygon_of);
		sides_are_right(polygons, polygon_of);
		half_edges_are_right(polygons, polygon_of);
		pieces += drawing.pieces.count;
		faces += drawing.arrangement->face_count;
		GEOSGeom_destroy_r(geos, polygons);
		end();
	}
	assert_true(pieces > faces + 200);
	GEOS_finish_r(geos);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_face_without_a_neck_is_one_piece),
		cmocka_unit_test(a_ring_with_one_neck_stays_one_piece),
		cmocka_unit_test(a_ring_with_four_necks_falls_into_four),
		cmocka_unit_test(a_neck_that_is_not_chosen_does_not_cut),
		cmocka_unit_test(strips_and_contacts_do_not_cut),
		cmocka_unit_test(holes_joined_in_a_ring_part_what_lies_within),
		cmocka_unit_test(a_hole_goes_to_the_piece_that_holds_it),
		cmocka_unit_test(a_hole_straight_above_a_foot_lies_above_its_cut),
		cmocka_unit_test(necks_on_one_edge_and_from_one_foot_are_ordered),
		cmocka_unit_test(random_cuts_agree_with_polygonizing),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
