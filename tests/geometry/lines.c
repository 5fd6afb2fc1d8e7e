/* Chains and the distances between them: worked cases, and GEOS's distance and area. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "geometry/distance.h"
#include "geos.h"
#include "random.h"

static const struct cutlint_point points[] = {
	{0, 0}, {8, 0}, {8, 6}, {0, 6}, {99, 99}, {10, 10}, {20, 10}, {20, 15},
};

/* Vertex 4 belongs to no chain. */
static const struct geo_chain chains[] = {{0, 4, true}, {5, 3, false}};

static const struct geo_lines lines = {points, chains, 8, 2};

static void a_vertex_knows_its_chain(void **state)
{
	(void)state;
	const uint32_t expected[] = {0, 0, 0, 0, GEO_NONE, 1, 1, 1, GEO_NONE};
	for (uint32_t vertex = 0; vertex < 9; vertex++)
		assert_int_equal(geo_lines_chain(&lines, vertex), expected[vertex]);
}

static void a_closed_chain_returns_and_an_open_one_ends(void **state)
{
	(void)state;
	assert_int_equal(geo_chain_next(&chains[0], 0), 1);
	assert_int_equal(geo_chain_next(&chains[0], 3), 0);
	assert_int_equal(geo_chain_next(&chains[1], 6), 7);
	assert_int_equal(geo_chain_next(&chains[1], 7), GEO_NONE);
	assert_int_equal(geo_chain_next(&chains[1], 4), GEO_NONE);
}

static void the_area_of_a_chain_is_signed_and_exact(void **state)
{
	(void)state;
	assert_true(geo_chain_area2(&lines, 0) == 96);
	const int32_t far = 2000000000;
	const struct cutlint_point sheet[] = {{-far, -far}, {-far, far}, {far, far}, {far, -far}};
	const struct geo_chain all = {0, 4, true};
	struct geo_lines large = {sheet, &all, 4, 1};
	assert_true(geo_chain_area2(&large, 0) == -3.2e19);
}

static void a_chain_contains_what_it_goes_round_and_itself(void **state)
{
	(void)state;
	assert_true(geo_chain_contains(&lines, 0, (struct geo_vector){1, 1}));
	assert_true(geo_chain_contains(&lines, 0, (struct geo_vector){8, 3}));
	assert_true(geo_chain_contains(&lines, 0, (struct geo_vector){3.5, 0}));
	assert_true(geo_chain_contains(&lines, 0, (struct geo_vector){0, 6}));
	assert_false(geo_chain_contains(&lines, 0, (struct geo_vector){9, 0}));
	assert_false(geo_chain_contains(&lines, 0, (struct geo_vector){-1, 6}));
	assert_false(geo_chain_contains(&lines, 0, (struct geo_vector){8.00001, 3}));
}

static void containment_agrees_with_geos(void **state)
{
	(void)state;
	GEOSContextHandle_t geos = GEOS_init_r();
	struct random random = {9};
	int inside = 0;
	for (int i = 0; i < 4000; i++) {
		struct cutlint_point triangle[3];
		for (int j = 0; j < 3; j++)
			triangle[j] = (struct cutlint_point){(int32_t)random_below(&random, 12),
							     (int32_t)random_below(&random, 12)};
		const struct geo_chain chain = {0, 3, true};
		struct geo_lines one = {triangle, &chain, 3, 1};
		if (geo_chain_area2(&one, 0) == 0)
			continue;
		struct geo_vector at = {random_below(&random, 48) / 4.0,
					random_below(&random, 48) / 4.0};
		GEOSGeometry *polygon = geos_polygon(geos, &one, 0);
		GEOSGeometry *point = GEOSGeom_createPointFromXY_r(geos, at.x, at.y);
		bool expected = GEOSIntersects_r(geos, polygon, point) == 1;
		double area;
		GEOSArea_r(geos, polygon, &area);
		assert_int_equal(geo_chain_contains(&one, 0, at), expected);
		assert_true(fabs(geo_chain_area2(&one, 0)) == 2 * area);
		inside += expected;
		GEOSGeom_destroy_r(geos, point);
		GEOSGeom_destroy_r(geos, polygon);
	}
	assert_true(inside > 200);
	GEOS_finish_r(geos);
}

static void the_nearest_point_of_a_segment_is_its_foot_or_an_end(void **state)
{
	(void)state;
	struct geo_vector a = {0, 0}, b = {8, 6};
	struct geo_vector at = geo_nearest_on_segment(a, b, (struct geo_vector){1, 7});
	assert_true(fabs(at.x - 4) < 1e-12 && fabs(at.y - 3) < 1e-12);
	at = geo_nearest_on_segment(a, b, (struct geo_vector){-1, -1});
	assert_true(at.x == 0 && at.y == 0);
	at = geo_nearest_on_segment(a, b, (struct geo_vector){9, 9});
	assert_true(at.x == 8 && at.y == 6);
	at = geo_nearest_on_segment(a, a, (struct geo_vector){9, 9});
	assert_true(at.x == 0 && at.y == 0);
}

static void segments_that_meet_have_no_distance(void **state)
{
	(void)state;
	struct geo_vector a = {0, 0}, b = {8, 6}, on_ab, on_cd;
	assert_true(geo_segment_distance(a, b, (struct geo_vector){0, 6}, (struct geo_vector){8, 0},
					 &on_ab, &on_cd) == 0);
	assert_true(fabs(on_ab.x - 4) < 1e-12 && fabs(on_cd.y - 3) < 1e-12);
	assert_true(geo_segment_distance(a, b, (struct geo_vector){4, 3}, (struct geo_vector){9, 0},
					 &on_ab, &on_cd) == 0);
	assert_true(geo_segment_distance(a, b, (struct geo_vector){4, 3},
					 (struct geo_vector){12, 9}, &on_ab, &on_cd) == 0);
	assert_true(geo_segment_distance(a, b, b, a, &on_ab, &on_cd) == 0);
}

static void distances_agree_with_geos(void **state)
{
	(void)state;
	GEOSContextHandle_t geos = GEOS_init_r();
	struct random random = {10};
	for (int i = 0; i < 3000; i++) {
		struct cutlint_point p[4];
		for (int j = 0; j < 4; j++)
			p[j] = (struct cutlint_point){(int32_t)random_below(&random, 1000),
						      (int32_t)random_below(&random, 1000)};
		const struct geo_chain both[] = {{0, 2, false}, {2, 2, false}};
		struct geo_lines two = {p, both, 4, 2};
		GEOSGeometry *first = geos_line(geos, &two, 0), *second = geos_line(geos, &two, 1);
		struct geo_vector on_ab, on_cd;
		double expected, found = geo_segment_distance((struct geo_vector){p[0].x, p[0].y},
							      (struct geo_vector){p[1].x, p[1].y},
							      (struct geo_vector){p[2].x, p[2].y},
							      (struct geo_vector){p[3].x, p[3].y},
							      &on_ab, &on_cd);
		GEOSDistance_r(geos, first, second, &expected);
		assert_true(fabs(found - expected) < 1e-9);
		assert_true(fabs(hypot(on_ab.x - on_cd.x, on_ab.y - on_cd.y) - found) < 1e-9);
		GEOSGeom_destroy_r(geos, first);
		GEOSGeom_destroy_r(geos, second);
	}
	GEOS_finish_r(geos);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_vertex_knows_its_chain),
		cmocka_unit_test(a_closed_chain_returns_and_an_open_one_ends),
		cmocka_unit_test(the_area_of_a_chain_is_signed_and_exact),
		cmocka_unit_test(a_chain_contains_what_it_goes_round_and_itself),
		cmocka_unit_test(containment_agrees_with_geos),
		cmocka_unit_test(the_nearest_point_of_a_segment_is_its_foot_or_an_end),
		cmocka_unit_test(segments_that_meet_have_no_distance),
		cmocka_unit_test(distances_agree_with_geos),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
