/*
 * The largest circle inside a region. Closed forms of plane geometry, and the maximum inscribed
 * circle of GEOS (GEOSMaximumInscribedCircle, C interface 3.11) on random regions.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>

#include <cmocka.h>

#include "check.h"
#include "geometry/inscribed.h"
#include "geos.h"
#include "shapes.h"

static struct shapes shapes;

static struct geo_circle largest(double tolerance)
{
	struct geo_lines lines = shapes_lines(&shapes);
	struct geo_circle circle;
	assert_int_equal(geo_inscribed_circle(&lines, tolerance, INFINITY, &circle), 0);
	return circle;
}

static void is_circle(struct geo_circle circle, double x_mm, double y_mm, double radius_mm)
{
	close_to(circle.radius, radius_mm * 1e6, 2);
	close_to(circle.centre.x, x_mm * 1e6, 4);
	close_to(circle.centre.y, y_mm * 1e6, 4);
}

static void square_has_half_its_side(void **state)
{
	(void)state;
	shapes_clear(&shapes);
	shapes_rectangle(&shapes, -30, 12, 10, 10);
	struct geo_circle circle = largest(1);
	is_circle(circle, -25, 17, 5);
	for (int i = 0; i < 3; i++)
		assert_in_range(circle.segments[i], 0, 3);
	assert_true(circle.segments[0] != circle.segments[1]);
}

/* Every place on the middle line is a best one; the work must not grow with its length. */
static void slots_have_half_their_width(void **state)
{
	(void)state;
	for (double length = 2; length < 2000; length *= 10) {
		shapes_clear(&shapes);
		shapes_rectangle(&shapes, 0, 0, length, 0.3);
		struct geo_circle circle = largest(0.01);
		close_to(circle.radius, 0.15e6, 0.02);
		close_to(circle.centre.y, 0.15e6, 0.02);
		assert_true(circle.segments[0] % 2 == circle.segments[1] % 2);
	}
	shapes_clear(&shapes);
	shapes_begin(&shapes, true);
	shapes_add(&shapes, 0, 0);
	shapes_add(&shapes, 400, 300);
	shapes_add(&shapes, 399.4, 300.8);
	shapes_add(&shapes, -0.6, 0.8);
	close_to(largest(0.01).radius, 0.5e6, 0.02);
}

/* r = area / half the perimeter; the centre divides the angles. */
static void triangle_has_its_incircle(void **state)
{
	(void)state;
	shapes_clear(&shapes);
	shapes_begin(&shapes, true);
	shapes_add(&shapes, 0, 0);
	shapes_add(&shapes, 4, 0);
	shapes_add(&shapes, 0, 3);
	is_circle(largest(1), 1, 1, 1);
	shapes_clear(&shapes);
	shapes_begin(&shapes, true);
	shapes_add(&shapes, 0, 0);
	shapes_add(&shapes, 100, 0);
	shapes_add(&shapes, 60, 0.5);
	double half = (100 + hypot(60, 0.5) + hypot(40, 0.5)) / 2;
	close_to(largest(0.01).radius, 25 / half * 1e6, 0.6);
}

/* Between circles R and r: (R - r) / 2; with the inner one moved by e: (R - r + e) / 2. */
static void ring_has_half_its_width(void **state)
{
	(void)state;
	shapes_clear(&shapes);
	shapes_circle(&shapes, 0, 0, 20, 720, 0);
	shapes_circle(&shapes, 0, 0, 15, 720, 0);
	double apothem = cos(pi / 720);
	struct geo_circle circle = largest(1);
	close_to(circle.radius, 2.5e6, 2.5e6 * (1 - apothem) * 8);
	close_to(hypot(circle.centre.x, circle.centre.y), 17.5e6, 200);
	shapes_clear(&shapes);
	shapes_circle(&shapes, 0, 0, 20, 720, 0);
	shapes_circle(&shapes, 4.5, 0, 15, 720, 0);
	circle = largest(1);
	close_to(circle.radius, 4.75e6, 200);
	close_to(circle.centre.x, -15.25e6, 200);
	close_to(circle.centre.y, 0, 40000);
}

/* A circle drawn as a polygon: the apothem R cos(pi/n). */
static void polygon_has_its_apothem(void **state)
{
	(void)state;
	for (int n = 3; n < 2000; n = n * 3 + 1) {
		shapes_clear(&shapes);
		shapes_circle(&shapes, 7, -3, 12, n, 0.1);
		struct geo_circle circle = largest(1);
		close_to(circle.radius, 12e6 * cos(pi / n), 2);
	}
}

/* An L of arms w: the circle in the corner touches both outer walls and the inner corner:
 * r = w (2 - sqrt 2). */
static void corner_of_an_l_touches_its_inner_vertex(void **state)
{
	(void)state;
	shapes_clear(&shapes);
	shapes_begin(&shapes, true);
	shapes_add(&shapes, 0, 0);
	shapes_add(&shapes, 30, 0);
	shapes_add(&shapes, 30, 5);
	shapes_add(&shapes, 5, 5);
	shapes_add(&shapes, 5, 30);
	shapes_add(&shapes, 0, 30);
	double radius = 5 * (2 - sqrt(2));
	is_circle(largest(1), radius, radius, radius);
}

static void nothing_inside_gives_no_circle(void **state)
{
	(void)state;
	shapes_clear(&shapes);
	assert_true(largest(1).radius == 0);
	shapes_line(&shapes, 0, 0, 10, 10);
	assert_true(largest(1).radius == 0);
	shapes_begin(&shapes, true);
	shapes_add(&shapes, 0, 0);
	shapes_add(&shapes, 10, 0);
	assert_true(largest(1).radius == 0);
	shapes_begin(&shapes, true);
	shapes_add(&shapes, 3, 3);
	struct geo_circle circle = largest(1);
	assert_true(circle.radius == 0);
	assert_int_equal(circle.segments[0], GEO_NONE);
}

/* Even-odd: the same square twice is no region at all. */
static void square_drawn_twice_is_empty(void **state)
{
	(void)state;
	shapes_clear(&shapes);
	shapes_rectangle(&shapes, 0, 0, 10, 10);
	shapes_rectangle(&shapes, 0, 0, 10, 10);
	close_to(largest(1).radius, 0, 1);
}

/* Two outlines 10 nm apart: a sliver of half that width all round. */
static void sliver_between_nearly_coincident_outlines_has_half_its_width(void **state)
{
	(void)state;
	shapes_clear(&shapes);
	shapes_rectangle(&shapes, 0, 0, 100, 60);
	shapes_rectangle(&shapes, 1e-5, 1e-5, 100 - 2e-5, 60 - 2e-5);
	struct geo_circle circle = largest(0.01);
	double corner = 10 * (2 - sqrt(2));
	close_to(circle.radius, corner, 0.02);
}

static void turned_and_shifted_regions_have_the_same_circle(void **state)
{
	(void)state;
	struct random random = {11};
	for (int i = 0; i < 50; i++) {
		shapes_clear(&shapes);
		shapes_blob(&shapes, &random, 0, 0, 4, 10, 40);
		double radius = largest(1).radius;
		for (uint32_t v = 0; v < shapes.point_count; v++) {
			struct cutlint_point p = shapes.points[v];
			shapes.points[v] = (struct cutlint_point){-p.y + 1234567890, p.x - 998};
		}
		close_to(largest(1).radius, radius, 2);
	}
}

/* The radius that GEOS finds in a region, and its judgement of our circle. */
static void agrees_with_geos(GEOSContextHandle_t geos, const GEOSGeometry *region, double tolerance)
{
	struct geo_circle circle = largest(tolerance);
	GEOSGeometry *spoke = GEOSMaximumInscribedCircle_r(geos, region, tolerance);
	double radius;
	GEOSLength_r(geos, spoke, &radius);
	close_to(circle.radius, radius, 2 * tolerance);

	GEOSGeometry *centre = GEOSGeom_createPointFromXY_r(geos, circle.centre.x, circle.centre.y);
	GEOSGeometry *boundary = GEOSBoundary_r(geos, region);
	double distance;
	GEOSDistance_r(geos, centre, boundary, &distance);
	close_to(circle.radius, distance, 1e-3);
	assert_int_equal(GEOSContains_r(geos, region, centre), 1);
	GEOSGeom_destroy_r(geos, boundary);
	GEOSGeom_destroy_r(geos, centre);
	GEOSGeom_destroy_r(geos, spoke);
}

/* The region that all chains bound by even-odd. */
static GEOSGeometry *region_of(GEOSContextHandle_t geos)
{
	struct geo_lines lines = shapes_lines(&shapes);
	GEOSGeometry *region = geos_polygon(geos, &lines, 0);
	for (uint32_t i = 1; i < lines.chain_count; i++) {
		GEOSGeometry *polygon = geos_polygon(geos, &lines, i);
		GEOSGeometry *both = GEOSSymDifference_r(geos, region, polygon);
		GEOSGeom_destroy_r(geos, polygon);
		GEOSGeom_destroy_r(geos, region);
		region = both;
	}
	return region;
}

static void random_regions_with_holes_agree_with_geos(void **state)
{
	(void)state;
	GEOSContextHandle_t geos = GEOS_init_r();
	struct random random = {12};
	for (int i = 0; i < 150; i++) {
		shapes_clear(&shapes);
		shapes_blob(&shapes, &random, 0, 0, 10, 30, 3 + (int)random_below(&random, 80));
		uint32_t holes = random_below(&random, 12);
		for (uint32_t k = 0; k < holes; k++)
			shapes_blob(&shapes, &random, random_between(&random, -18, 18),
				    random_between(&random, -18, 18), 0.5, 5,
				    3 + (int)random_below(&random, 20));
		GEOSGeometry *region = region_of(geos);
		agrees_with_geos(geos, region, 20);
		GEOSGeom_destroy_r(geos, region);
	}
	GEOS_finish_r(geos);
}

static void ragged_region_of_many_vertices_agrees_with_geos(void **state)
{
	(void)state;
	GEOSContextHandle_t geos = GEOS_init_r();
	struct random random = {13};
	shapes_clear(&shapes);
	shapes_blob(&shapes, &random, 0, 0, 700, 1000, 3000);
	for (int k = 0; k < 100; k++)
		shapes_circle(&shapes, k % 10 * 96 - 432, k / 10 * 96 - 432, 20, 40, k);
	GEOSGeometry *region = region_of(geos);
	agrees_with_geos(geos, region, 100);
	GEOSGeom_destroy_r(geos, region);
	GEOS_finish_r(geos);
}

/* The distance from a place to the sides of an axis-parallel rectangle that holds it, in mm. */
static double room_in_rectangle(struct geo_vector at, double left, double top, double width,
				double height)
{
	double x = at.x / 1e6 - left, y = at.y / 1e6 - top;
	return fmin(fmin(x, width - x), fmin(y, height - y));
}

static void a_circle_that_is_large_enough_is_inside_and_large_enough(void **state)
{
	(void)state;
	shapes_clear(&shapes);
	shapes_rectangle(&shapes, 5, 7, 100, 30);
	struct geo_lines lines = shapes_lines(&shapes);
	for (double enough = 1; enough < 15; enough += 2) {
		struct geo_circle circle;
		assert_int_equal(geo_inscribed_circle(&lines, 1, enough * 1e6, &circle), 0);
		assert_true(circle.radius >= enough * 1e6);
		double room = room_in_rectangle(circle.centre, 5, 7, 100, 30);
		assert_true(circle.radius <= room * 1e6 + 1e-3);
	}
	struct geo_circle circle;
	assert_int_equal(geo_inscribed_circle(&lines, 1, 15.1e6, &circle), 0);
	close_to(circle.radius, 15e6, 2);
}

/* A comb with a back 10 mm high and teeth too narrow for any larger circle: half the back. */
static void narrow_teeth_do_not_hide_a_broad_back(void **state)
{
	(void)state;
	shapes_clear(&shapes);
	shapes_begin(&shapes, true);
	shapes_add(&shapes, 0, 0);
	for (int tooth = 0; tooth < 400; tooth++) {
		double x = 0.25 * tooth;
		shapes_add(&shapes, x, 60);
		shapes_add(&shapes, x + 0.125, 60);
		shapes_add(&shapes, x + 0.125, 10);
		shapes_add(&shapes, x + 0.25, 10);
	}
	shapes_add(&shapes, 100, 0);
	/* At the end of a tooth there is a little more room than under the flat back. */
	double radius = largest(100).radius / 1e6;
	assert_true(radius > 5 - 1e-3 && radius < 5.01);
}

static void a_slot_fits_what_is_narrower_than_it(void **state)
{
	(void)state;
	shapes_clear(&shapes);
	shapes_rectangle(&shapes, 0, 0, 40, 0.3);
	struct geo_lines lines = shapes_lines(&shapes);
	const struct {
		double radius_mm;
		bool fits;
	} cases[] = {{0.01, true}, {0.149, true}, {0.149997, true}, {0.15, false}, {0.2, false}};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		bool fits;
		assert_int_equal(geo_inscribed_fits(&lines, cases[i].radius_mm * 1e6, &fits), 0);
		assert_int_equal(fits, cases[i].fits);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(square_has_half_its_side),
		cmocka_unit_test(slots_have_half_their_width),
		cmocka_unit_test(triangle_has_its_incircle),
		cmocka_unit_test(ring_has_half_its_width),
		cmocka_unit_test(polygon_has_its_apothem),
		cmocka_unit_test(corner_of_an_l_touches_its_inner_vertex),
		cmocka_unit_test(nothing_inside_gives_no_circle),
		cmocka_unit_test(square_drawn_twice_is_empty),
		cmocka_unit_test(sliver_between_nearly_coincident_outlines_has_half_its_width),
		cmocka_unit_test(turned_and_shifted_regions_have_the_same_circle),
		cmocka_unit_test(random_regions_with_holes_agree_with_geos),
		cmocka_unit_test(ragged_region_of_many_vertices_agrees_with_geos),
		cmocka_unit_test(a_circle_that_is_large_enough_is_inside_and_large_enough),
		cmocka_unit_test(narrow_teeth_do_not_hide_a_broad_back),
		cmocka_unit_test(a_slot_fits_what_is_narrower_than_it),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
