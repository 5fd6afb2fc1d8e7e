/*
 * Pieces of random drawings against GEOS's polygonizer, which gets the cuts as lines. All corners
 * and feet are integers, so that no rounding comes in.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "cutting.h"
#include "geos.h"

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
		cmocka_unit_test(random_cuts_agree_with_polygonizing),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
