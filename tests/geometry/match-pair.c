/*
 * Both edges of a traced stroke. Strokes are made by closed forms or by GEOS (GEOSBuffer,
 * GEOSBufferWithStyle, C interface 3.11), and the distances judged by its GEOSDistance.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include "check.h"
#include "geometry/match.h"
#include "geos.h"
#include "shapes.h"

static struct shapes shapes;
static struct geo_pairs found;

static int start(void **state)
{
	(void)state;
	shapes_clear(&shapes);
	return 0;
}

static int finish(void **state)
{
	(void)state;
	geo_pairs_finish(&found);
	return 0;
}

/* Above 0.05 mm, at most 0.6 mm, within 20 %. */
static void find(void)
{
	struct geo_lines lines = shapes_lines(&shapes);
	geo_pairs_finish(&found);
	assert_int_equal(geo_pairs_find(&lines, 50000, 600000, 0.2, &found), 0);
}

static void is_pair(uint32_t item, uint32_t outer, uint32_t inner, double mean_mm)
{
	assert_true(item < found.count);
	assert_int_equal(found.items[item].outer, outer);
	assert_int_equal(found.items[item].inner, inner);
	close_to(found.items[item].mean * 1e-6, mean_mm, 0.01);
	assert_true(found.items[item].least <= found.items[item].mean);
	assert_true(found.items[item].mean <= found.items[item].most);
}

static void two_circles_of_one_stroke(void **state)
{
	(void)state;
	shapes_circle(&shapes, 5, 5, 19.7, 150, 0.5);
	shapes_circle(&shapes, 5, 5, 20, 160, 0);
	find();
	assert_int_equal(found.count, 1);
	is_pair(0, 1, 0, 0.3);
	close_to(hypot(found.items[0].at.x - 5e6, found.items[0].at.y - 5e6), 19.7e6, 5000);
}

static void rectangle_with_mitred_corners(void **state)
{
	(void)state;
	shapes_rectangle(&shapes, 0, 0, 50, 30);
	shapes_rectangle(&shapes, 0.4, 0.4, 49.2, 29.2);
	find();
	assert_int_equal(found.count, 1);
	is_pair(0, 0, 1, 0.4);
	close_to(found.items[0].most - found.items[0].least, 0, 1);
}

static void distance_has_to_be_above_the_least_and_up_to_the_most(void **state)
{
	(void)state;
	static const double distances[] = {0.04, 0.06, 0.59, 0.61};
	for (int i = 0; i < 4; i++) {
		shapes_clear(&shapes);
		shapes_rectangle(&shapes, 0, 0, 50, 30);
		double d = distances[i];
		shapes_rectangle(&shapes, d, d, 50 - 2 * d, 30 - 2 * d);
		find();
		assert_int_equal(found.count, i == 1 || i == 2);
	}
}

/* Offset e of circles R and r: from R - r - e to R - r + e. */
static void uneven_ring_is_no_stroke(void **state)
{
	(void)state;
	for (int i = 0; i < 2; i++) {
		shapes_clear(&shapes);
		shapes_circle(&shapes, 0, 0, 20, 300, 0);
		shapes_circle(&shapes, i == 0 ? 0.02 : 0.05, 0, 19.7, 300, 0);
		find();
		assert_int_equal(found.count, i == 0);
	}
}

static void neighbours_side_by_side_are_no_stroke(void **state)
{
	(void)state;
	shapes_rectangle(&shapes, 0, 0, 10, 10);
	shapes_rectangle(&shapes, 10.3, 0, 10, 11);
	find();
	assert_int_equal(found.count, 0);
}

static void hole_near_one_edge_is_no_stroke(void **state)
{
	(void)state;
	shapes_rectangle(&shapes, 0, 0, 30, 20);
	shapes_rectangle(&shapes, 0.3, 0.3, 10, 19.4);
	find();
	assert_int_equal(found.count, 0);
}

/* The outer line follows the inner one, and then goes off in a long tongue. */
static void outer_line_that_goes_elsewhere_is_no_stroke(void **state)
{
	(void)state;
	shapes_begin(&shapes, true);
	static const double outer[][2] = {{0, 0},     {30, 0},    {30, 9.9}, {60, 9.9},
					  {60, 10.1}, {30, 10.1}, {30, 20},  {0, 20}};
	for (int i = 0; i < 8; i++)
		shapes_add(&shapes, outer[i][0], outer[i][1]);
	shapes_rectangle(&shapes, 0.3, 0.3, 29.4, 19.4);
	find();
	assert_int_equal(found.count, 0);
}

static void open_lines_are_no_stroke(void **state)
{
	(void)state;
	shapes_line(&shapes, 0, 0, 20, 0);
	shapes_line(&shapes, 0, 0.3, 20, 0.3);
	shapes_begin(&shapes, true);
	shapes_add(&shapes, 1, 1);
	find();
	assert_int_equal(found.count, 0);
}

/* Rings 0.3 mm apart: each with its next, 0.6 mm is still in the limit and skips one. */
static void concentric_rings_pair_with_those_within_the_limit(void **state)
{
	(void)state;
	for (int i = 0; i < 300; i++)
		shapes_circle(&shapes, 0, 0, 20 + 0.35 * i, 200 + 3 * i, i);
	find();
	assert_int_equal(found.count, 299);
	for (uint32_t i = 0; i < 299; i++)
		is_pair(i, i + 1, i, 0.35);
}

static void add_ring(GEOSContextHandle_t geos, const GEOSGeometry *polygon)
{
	const GEOSGeometry *ring = GEOSGetExteriorRing_r(geos, polygon);
	int count = GEOSGeomGetNumPoints_r(geos, ring);
	const GEOSCoordSequence *sequence = GEOSGeom_getCoordSeq_r(geos, ring);
	shapes_begin(&shapes, true);
	for (int i = 0; i + 1 < count; i++) {
		double x, y;
		GEOSCoordSeq_getXY_r(geos, sequence, (unsigned)i, &x, &y);
		shapes_add(&shapes, x * 1e-6, y * 1e-6);
	}
}

/* Strokes round random rounded shapes: GEOS moves the outline out and in by half their width. */
static void strokes_that_geos_made_are_found(void **state)
{
	(void)state;
	GEOSContextHandle_t geos = GEOS_init_r();
	struct random random = {41};
	uint32_t strokes = 0;
	for (int i = 0; i < 60; i++) {
		shapes_clear(&shapes);
		shapes_blob(&shapes, &random, 0, 0, 14, 20, 6 + (int)random_below(&random, 8));
		struct geo_lines lines = shapes_lines(&shapes);
		GEOSGeometry *blob = geos_polygon(geos, &lines, 0);
		/* Rounds both kinds of corners, so that the stroke is even. */
		GEOSGeometry *wide = GEOSBuffer_r(geos, blob, 4e6, 40);
		GEOSGeometry *body = GEOSBuffer_r(geos, wide, -2e6, 40);
		double width = random_between(&random, 0.1, 0.55);
		GEOSGeometry *outer = GEOSBuffer_r(geos, body, width / 2 * 1e6, 40);
		GEOSGeometry *inner = GEOSBuffer_r(geos, body, -width / 2 * 1e6, 40);
		shapes_clear(&shapes);
		if (GEOSGeomTypeId_r(geos, inner) == GEOS_POLYGON) {
			add_ring(geos, inner);
			add_ring(geos, outer);
			find();
			assert_int_equal(found.count, 1);
			is_pair(0, 1, 0, width);
			double distance;
			GEOSGeometry *line = GEOSBoundary_r(geos, outer);
			GEOSDistance_r(geos, inner, line, &distance);
			close_to(found.items[0].least, distance, 3000);
			GEOSGeom_destroy_r(geos, line);
			strokes++;
		}
		GEOSGeom_destroy_r(geos, inner);
		GEOSGeom_destroy_r(geos, outer);
		GEOSGeom_destroy_r(geos, body);
		GEOSGeom_destroy_r(geos, wide);
		GEOSGeom_destroy_r(geos, blob);
	}
	assert_in_range(strokes, 50, 60);
	GEOS_finish_r(geos);
}

/* The same with sharp corners, mitred outside and inside. */
static void sharp_strokes_that_geos_made_are_found(void **state)
{
	(void)state;
	GEOSContextHandle_t geos = GEOS_init_r();
	for (int corners = 3; corners < 9; corners++) {
		shapes_clear(&shapes);
		shapes_begin(&shapes, true);
		for (int i = 0; i < 2 * corners; i++) {
			double angle = pi * i / corners, radius = i % 2 ? 12 : 20;
			shapes_add(&shapes, radius * cos(angle), radius * sin(angle));
		}
		struct geo_lines lines = shapes_lines(&shapes);
		GEOSGeometry *star = geos_polygon(geos, &lines, 0);
		GEOSGeometry *outer = GEOSBufferWithStyle_r(geos, star, 2e5, 8, GEOSBUF_CAP_ROUND,
							    GEOSBUF_JOIN_MITRE, 10);
		add_ring(geos, outer);
		find();
		assert_int_equal(found.count, 1);
		is_pair(0, 1, 0, 0.2);
		GEOSGeom_destroy_r(geos, outer);
		GEOSGeom_destroy_r(geos, star);
	}
	GEOS_finish_r(geos);
}

#define test(name) cmocka_unit_test_setup_teardown(name, start, finish)

int main(void)
{
	const struct CMUnitTest tests[] = {
		test(two_circles_of_one_stroke),
		test(rectangle_with_mitred_corners),
		test(distance_has_to_be_above_the_least_and_up_to_the_most),
		test(uneven_ring_is_no_stroke),
		test(neighbours_side_by_side_are_no_stroke),
		test(hole_near_one_edge_is_no_stroke),
		test(outer_line_that_goes_elsewhere_is_no_stroke),
		test(open_lines_are_no_stroke),
		test(concentric_rings_pair_with_those_within_the_limit),
		test(strokes_that_geos_made_are_found),
		test(sharp_strokes_that_geos_made_are_found),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
