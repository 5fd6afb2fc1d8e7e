/*
 * Predicates: worked cases; every small case by definition, in exact fractions; and GEOS's
 * orientation, which is exact too, for large coordinates.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "geometry/predicates.h"
#include "geos.h"
#include "random.h"

static void a_turn_to_the_left_is_positive(void **state)
{
	(void)state;
	assert_int_equal(geo_orientation((struct cutlint_point){0, 0}, (struct cutlint_point){1, 0},
					 (struct cutlint_point){0, 1}),
			 1);
	assert_int_equal(geo_orientation((struct cutlint_point){0, 0}, (struct cutlint_point){1, 0},
					 (struct cutlint_point){0, -1}),
			 -1);
	assert_int_equal(geo_orientation((struct cutlint_point){0, 0}, (struct cutlint_point){1, 0},
					 (struct cutlint_point){7, 0}),
			 0);
}

/* The products differ by 1 in 2^64: in doubles they are equal. */
static void orientation_is_exact_at_the_ends_of_the_range(void **state)
{
	(void)state;
	struct cutlint_point low = {INT32_MIN, INT32_MIN}, high = {INT32_MAX, INT32_MAX};
	assert_int_equal(
		geo_orientation(low, high, (struct cutlint_point){INT32_MAX - 1, INT32_MAX - 1}),
		0);
	assert_int_equal(geo_orientation(low, (struct cutlint_point){INT32_MAX, INT32_MAX - 1},
					 (struct cutlint_point){INT32_MAX - 1, INT32_MAX - 2}),
			 -1);
	assert_int_equal(
		geo_orientation(low, (struct cutlint_point){INT32_MAX - 1, INT32_MAX}, high), -1);
}

static struct cutlint_point random_point(struct random *random, int32_t reach)
{
	uint32_t side = 2 * (uint32_t)reach + 1;
	return (struct cutlint_point){(int32_t)((int64_t)random_below(random, side) - reach),
				      (int32_t)((int64_t)random_below(random, side) - reach)};
}

/* Nearly collinear points, where the sign hangs on the last bits. */
static void orientation_agrees_with_geos(void **state)
{
	(void)state;
	GEOSContextHandle_t geos = GEOS_init_r();
	struct random random = {3};
	int zeros = 0;
	for (int i = 0; i < 20000; i++) {
		struct cutlint_point a = random_point(&random, 1000),
				     d = random_point(&random, 1000);
		int32_t far = 1 + (int32_t)random_below(&random, 1000000);
		struct cutlint_point b = {a.x + d.x * far, a.y + d.y * far},
				     e = random_point(&random, 1);
		struct cutlint_point c = {a.x + d.x * (far / 2) + e.x, a.y + d.y * (far / 2) + e.y};
		int expected = GEOSOrientationIndex_r(geos, a.x, a.y, b.x, b.y, c.x, c.y);
		assert_int_equal(geo_orientation(a, b, c), expected);
		zeros += expected == 0;
	}
	assert_true(zeros > 1000);
	GEOS_finish_r(geos);
}

static void places_between_the_integers_have_sides_too(void **state)
{
	(void)state;
	struct cutlint_point a = {0, 0}, b = {3, 1};
	assert_int_equal(geo_side(a, b, (struct geo_vector){1.5, 0.5}), 0);
	assert_int_equal(geo_side(a, b, (struct geo_vector){1.5, 0.5 + 0x1p-20}), 1);
	assert_int_equal(geo_side(a, b, (struct geo_vector){1.5, 0.5 - 0x1p-20}), -1);
	struct geo_vector fine = geo_fine((struct geo_vector){0.3 * 0x1p-20, -1 - 0x1p-21 * 1.1});
	assert_true(fine.x == 0 && fine.y == -1 - 0x1p-20);
}

static void segments_meet_in_one_of_four_ways(void **state)
{
	(void)state;
	struct cutlint_point a = {0, 0}, b = {10, 10};
	assert_int_equal(
		geo_meet(a, b, (struct cutlint_point){0, 10}, (struct cutlint_point){10, 0}),
		GEO_CROSS);
	assert_int_equal(
		geo_meet(a, b, (struct cutlint_point){0, 10}, (struct cutlint_point){5, 5}),
		GEO_TOUCH);
	assert_int_equal(geo_meet(a, b, b, (struct cutlint_point){20, 0}), GEO_TOUCH);
	assert_int_equal(geo_meet(a, b, b, (struct cutlint_point){20, 20}), GEO_TOUCH);
	assert_int_equal(
		geo_meet(a, b, (struct cutlint_point){4, 4}, (struct cutlint_point){20, 20}),
		GEO_OVERLAP);
	assert_int_equal(geo_meet(a, b, b, a), GEO_OVERLAP);
	assert_int_equal(
		geo_meet(a, b, (struct cutlint_point){11, 11}, (struct cutlint_point){20, 20}),
		GEO_APART);
	assert_int_equal(
		geo_meet(a, b, (struct cutlint_point){1, 0}, (struct cutlint_point){11, 10}),
		GEO_APART);
	assert_int_equal(geo_meet(a, b, (struct cutlint_point){5, 5}, (struct cutlint_point){5, 5}),
			 GEO_TOUCH);
	assert_int_equal(geo_meet(a, b, (struct cutlint_point){5, 6}, (struct cutlint_point){5, 6}),
			 GEO_APART);
}

/* By the intersection matrix of the OGC's Simple Features, which GEOS works out. */
static void meetings_agree_with_geos(void **state)
{
	(void)state;
	GEOSContextHandle_t geos = GEOS_init_r();
	struct random random = {4};
	int seen[4] = {0};
	for (int i = 0; i < 8000; i++) {
		struct cutlint_point p[4];
		for (int j = 0; j < 4; j++)
			p[j] = random_point(&random, 2);
		if ((p[0].x == p[1].x && p[0].y == p[1].y) ||
		    (p[2].x == p[3].x && p[2].y == p[3].y))
			continue;
		struct geo_chain chains[2] = {{0, 2, false}, {2, 2, false}};
		struct geo_lines lines = {p, chains, 4, 2};
		GEOSGeometry *first = geos_line(geos, &lines, 0);
		GEOSGeometry *second = geos_line(geos, &lines, 1);
		char *matrix = GEOSRelate_r(geos, first, second);
		enum geo_meeting expected = GEO_TOUCH;
		if (matrix[0] == '1')
			expected = GEO_OVERLAP;
		else if (matrix[0] == '0')
			expected = GEO_CROSS;
		else if (matrix[1] == 'F' && matrix[3] == 'F' && matrix[4] == 'F')
			expected = GEO_APART;
		assert_int_equal(geo_meet(p[0], p[1], p[2], p[3]), expected);
		seen[expected]++;
		GEOSFree_r(geos, matrix);
		GEOSGeom_destroy_r(geos, first);
		GEOSGeom_destroy_r(geos, second);
	}
	for (int i = 0; i < 4; i++)
		assert_true(seen[i] > 50);
	GEOS_finish_r(geos);
}

static void a_crossing_is_rounded_to_the_nearest_integers(void **state)
{
	(void)state;
	struct cutlint_point at =
		geo_crossing((struct cutlint_point){0, 0}, (struct cutlint_point){3, 3},
			     (struct cutlint_point){0, 3}, (struct cutlint_point){3, 0});
	assert_true(at.x == 2 && at.y == 2); /* 1.5, 1.5: halves go up */
	at = geo_crossing((struct cutlint_point){0, 0}, (struct cutlint_point){-3, -3},
			  (struct cutlint_point){0, -3}, (struct cutlint_point){-3, 0});
	assert_true(at.x == -1 && at.y == -1);
	at = geo_crossing((struct cutlint_point){0, 0}, (struct cutlint_point){10, 3},
			  (struct cutlint_point){4, 3}, (struct cutlint_point){4, 0});
	assert_true(at.x == 4 && at.y == 1);
	at = geo_crossing((struct cutlint_point){INT32_MIN, INT32_MIN},
			  (struct cutlint_point){INT32_MAX, INT32_MAX},
			  (struct cutlint_point){INT32_MIN, INT32_MAX},
			  (struct cutlint_point){INT32_MAX, INT32_MIN});
	assert_true(at.x == 0 && at.y == 0); /* -0.5, -0.5 */
	at = geo_crossing((struct cutlint_point){INT32_MIN, 7},
			  (struct cutlint_point){INT32_MAX, 7},
			  (struct cutlint_point){INT32_MAX - 1, -1},
			  (struct cutlint_point){INT32_MAX - 1, 8});
	assert_true(at.x == INT32_MAX - 1 && at.y == 7);
}

/* By Cramer's rule: |determinant * rounded - numerator| is at most half of the determinant. */
static void small_crossings_are_nearest_by_cramers_rule(void **state)
{
	(void)state;
	struct random random = {5};
	int crossings = 0;
	for (int i = 0; i < 20000; i++) {
		struct cutlint_point a = random_point(&random, 50), b = random_point(&random, 50);
		struct cutlint_point c = random_point(&random, 50), d = random_point(&random, 50);
		if (geo_meet(a, b, c, d) != GEO_CROSS)
			continue;
		crossings++;
		struct cutlint_point at = geo_crossing(a, b, c, d);
		int64_t whole =
			(int64_t)(a.x - b.x) * (c.y - d.y) - (int64_t)(a.y - b.y) * (c.x - d.x);
		int64_t ab = (int64_t)a.x * b.y - (int64_t)a.y * b.x;
		int64_t cd = (int64_t)c.x * d.y - (int64_t)c.y * d.x;
		int64_t x = ab * (c.x - d.x) - (a.x - b.x) * cd;
		int64_t y = ab * (c.y - d.y) - (a.y - b.y) * cd;
		int64_t sign = whole < 0 ? -1 : 1;
		int64_t off_x = 2 * sign * (at.x * whole - x),
			off_y = 2 * sign * (at.y * whole - y);
		assert_true(-sign * whole < off_x && off_x <= sign * whole);
		assert_true(-sign * whole < off_y && off_y <= sign * whole);
	}
	assert_true(crossings > 2000);
}

/* Whether the point of a-b at n/d lies in the half-open pixel round p. */
static bool in_pixel(struct cutlint_point a, struct cutlint_point b, struct cutlint_point p,
		     int64_t n, int64_t d)
{
	int64_t x = 2 * ((a.x - p.x) * d + (b.x - a.x) * n);
	int64_t y = 2 * ((a.y - p.y) * d + (b.y - a.y) * n);
	return -d <= x && x < d && -d <= y && y < d;
}

static int by_value(const void *a, const void *b)
{
	const int64_t *left = a, *right = b;
	int64_t cross = left[0] * right[1] - right[0] * left[1];
	return (cross > 0) - (cross < 0);
}

/* By definition: within the pixel at one of its crossings with the pixel's four lines, or midway
 * between two that follow on each other. */
static bool hits_by_definition(struct cutlint_point a, struct cutlint_point b,
			       struct cutlint_point p)
{
	int64_t at[6][2] = {{0, 1}, {1, 1}};
	int count = 2;
	for (int side = -1; side <= 1; side += 2)
		for (int axis = 0; axis < 2; axis++) {
			int64_t run = axis ? b.y - a.y : b.x - a.x;
			int64_t n = axis ? 2 * (p.y - a.y) + side : 2 * (p.x - a.x) + side;
			int64_t d = 2 * run;
			if (d < 0) {
				n = -n;
				d = -d;
			}
			if (d == 0 || n < 0 || n > d)
				continue;
			at[count][0] = n;
			at[count++][1] = d;
		}
	qsort(at, (size_t)count, sizeof(at[0]), by_value);
	for (int i = 0; i < count; i++) {
		if (in_pixel(a, b, p, at[i][0], at[i][1]))
			return true;
		if (i + 1 < count &&
		    in_pixel(a, b, p, at[i][0] * at[i + 1][1] + at[i + 1][0] * at[i][1],
			     2 * at[i][1] * at[i + 1][1]))
			return true;
	}
	return false;
}

static void pixels_are_hit_by_definition(void **state)
{
	(void)state;
	const struct cutlint_point p = {3, -2};
	int hits = 0;
	for (int32_t i = 0; i < 9 * 9 * 9 * 9; i++) {
		struct cutlint_point a = {p.x - 4 + i % 9, p.y - 4 + i / 9 % 9};
		struct cutlint_point b = {p.x - 4 + i / 81 % 9, p.y - 4 + i / 729};
		if (a.x == b.x && a.y == b.y)
			continue;
		bool expected = hits_by_definition(a, b, p);
		assert_int_equal(geo_hits_pixel(a, b, p), expected);
		hits += expected;
	}
	assert_true(hits > 500);
}

/* Lines through the pixel's corners: only the lower left one belongs to it. */
static void pixels_are_open_above_and_on_the_right(void **state)
{
	(void)state;
	const struct cutlint_point p = {0, 0};
	assert_true(
		geo_hits_pixel((struct cutlint_point){-1, 0}, (struct cutlint_point){0, -1}, p));
	assert_false(geo_hits_pixel((struct cutlint_point){1, 0}, (struct cutlint_point){0, 1}, p));
	assert_false(
		geo_hits_pixel((struct cutlint_point){-1, 0}, (struct cutlint_point){0, 1}, p));
	assert_false(
		geo_hits_pixel((struct cutlint_point){1, 0}, (struct cutlint_point){0, -1}, p));
	const int32_t far = 2000000000;
	assert_true(geo_hits_pixel((struct cutlint_point){-far, -far},
				   (struct cutlint_point){far, far}, p));
	assert_true(geo_hits_pixel((struct cutlint_point){-far, -far},
				   (struct cutlint_point){far, far - 1}, p));
	assert_false(geo_hits_pixel((struct cutlint_point){-far, -far},
				    (struct cutlint_point){far, far - 3}, p));
}

/* Thales: the circle on a diameter is where it is seen at a right angle. */
static void a_right_angle_lies_on_the_diametral_circle(void **state)
{
	(void)state;
	struct cutlint_point a = {0, 0}, b = {10, 0};
	assert_int_equal(geo_diametral(a, b, (struct cutlint_point){2, 4}), 0);
	assert_int_equal(geo_diametral(a, b, (struct cutlint_point){2, 3}), -1);
	assert_int_equal(geo_diametral(a, b, (struct cutlint_point){2, 5}), 1);
	assert_int_equal(geo_diametral(a, b, a), 0);
	struct cutlint_point low = {INT32_MIN, INT32_MIN}, high = {INT32_MAX, INT32_MAX};
	assert_int_equal(geo_diametral(low, high, (struct cutlint_point){INT32_MAX, INT32_MIN}), 0);
	assert_int_equal(geo_diametral(low, high, (struct cutlint_point){INT32_MAX, INT32_MIN + 1}),
			 -1);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_turn_to_the_left_is_positive),
		cmocka_unit_test(orientation_is_exact_at_the_ends_of_the_range),
		cmocka_unit_test(orientation_agrees_with_geos),
		cmocka_unit_test(places_between_the_integers_have_sides_too),
		cmocka_unit_test(segments_meet_in_one_of_four_ways),
		cmocka_unit_test(meetings_agree_with_geos),
		cmocka_unit_test(a_crossing_is_rounded_to_the_nearest_integers),
		cmocka_unit_test(small_crossings_are_nearest_by_cramers_rule),
		cmocka_unit_test(pixels_are_hit_by_definition),
		cmocka_unit_test(pixels_are_open_above_and_on_the_right),
		cmocka_unit_test(a_right_angle_lies_on_the_diametral_circle),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
