/*
 * Shapes laid on each other. The true motion is the one by which each copy was made; the distance
 * that is left is judged by GEOS (GEOSHausdorffDistanceDensify, C interface 3.11).
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include "check.h"
#include "geometry/match.h"
#include "geos.h"
#include "shapes.h"

#define TOLERANCE 50000.0 /* 0.05 mm */

static struct shapes original, copy;

/* A motion: mirror image in the vertical axis, turn about 0,0, shift. */
struct motion {
	double turn, x, y;
	bool mirrored;
};

static struct geo_congruence compare(void)
{
	struct geo_lines a = shapes_lines(&original), b = shapes_lines(&copy);
	struct geo_congruence congruence;
	assert_int_equal(geo_congruent(&a, &b, TOLERANCE, &congruence), 0);
	return congruence;
}

static void add_moved(struct cutlint_point p, struct motion motion)
{
	double x = motion.mirrored ? -p.x * 1e-6 : p.x * 1e-6, y = p.y * 1e-6;
	double c = cos(motion.turn), s = sin(motion.turn);
	shapes_add(&copy, motion.x + c * x - s * y, motion.y + s * x + c * y);
}

/*
 * Copies the drawing by a motion: chains in reverse order and reversed, closed ones from another
 * start, with a vertex more in the middle of every third side; odd open ones in two parts.
 */
static void make_copy(struct motion motion)
{
	shapes_clear(&copy);
	for (uint32_t n = original.chain_count; n-- > 0;) {
		struct geo_chain c = original.chains[n];
		shapes_begin(&copy, c.closed);
		for (uint32_t i = 0; i < c.count; i++) {
			uint32_t turn = c.closed ? c.count / 3 : 0;
			uint32_t place = (2 * c.count - 1 - i + turn) % c.count;
			struct cutlint_point p = original.points[c.first + place];
			add_moved(p, motion);
			if (place == 0 && !c.closed)
				break;
			struct cutlint_point q =
				original.points[c.first + (place + c.count - 1) % c.count];
			struct cutlint_point middle = {p.x / 2 + q.x / 2, p.y / 2 + q.y / 2};
			if (i % 3 == 0)
				add_moved(middle, motion);
			if (i % 3 == 0 && !c.closed) {
				shapes_begin(&copy, false);
				add_moved(middle, motion);
			}
		}
	}
}

static double angle_off(double a, double b)
{
	return fabs(remainder(a - b, 2 * pi));
}

/* A picture without symmetry: a flag, a leaf, two dots and a stroke. */
static void draw_picture(void)
{
	struct random random = {31};
	shapes_clear(&original);
	shapes_rectangle(&original, 10, 10, 30, 18);
	shapes_blob(&original, &random, 60, 30, 6, 14, 24);
	shapes_circle(&original, 20, 50, 3, 40, 0);
	shapes_circle(&original, 33, 55, 1.5, 30, 0);
	shapes_begin(&original, false);
	shapes_add(&original, 10, 70);
	shapes_add(&original, 40, 75);
	shapes_add(&original, 45, 66);
}

static void draw_flower(int petals)
{
	shapes_clear(&original);
	shapes_begin(&original, true);
	for (int i = 0; i < 400; i++) {
		double angle = 2 * pi * i / 400, radius = 20 + 6 * cos(petals * angle);
		shapes_add(&original, 30 + radius * cos(angle), 10 + radius * sin(angle));
	}
}

static void judged_by_geos(const struct geo_motion *motion, bool mirrored)
{
	GEOSContextHandle_t geos = GEOS_init_r();
	static struct shapes laid;
	double ax = 0, ay = 0, bx = 0, by = 0, length = 0;
	shapes_clear(&laid);
	/* The shift follows from the centroids of GEOS. */
	struct geo_lines a = shapes_lines(&original), b = shapes_lines(&copy);
	GEOSGeometry *lines_a = geos_lines(geos, &a), *lines_b = geos_lines(geos, &b);
	GEOSGeometry *middle_a = GEOSGetCentroid_r(geos, lines_a);
	GEOSGeometry *middle_b = GEOSGetCentroid_r(geos, lines_b);
	GEOSGeomGetX_r(geos, middle_a, &ax);
	GEOSGeomGetY_r(geos, middle_a, &ay);
	GEOSGeomGetX_r(geos, middle_b, &bx);
	GEOSGeomGetY_r(geos, middle_b, &by);
	double c = cos(motion->turn), s = sin(motion->turn);
	for (uint32_t n = 0; n < original.chain_count; n++) {
		const struct geo_chain *chain = &original.chains[n];
		shapes_begin(&laid, chain->closed);
		for (uint32_t i = 0; i < chain->count; i++) {
			struct cutlint_point p = original.points[chain->first + i];
			double x = mirrored ? ax - p.x : p.x - ax, y = p.y - ay;
			shapes_add(&laid, (bx + c * x - s * y) * 1e-6, (by + s * x + c * y) * 1e-6);
		}
	}
	struct geo_lines moved = shapes_lines(&laid);
	GEOSGeometry *lines_moved = geos_lines(geos, &moved);
	double distance;
	GEOSHausdorffDistanceDensify_r(geos, lines_moved, lines_b, 0.2, &distance);
	GEOSLength_r(geos, lines_b, &length);
	assert_true(length > 0);
	/* We may shift a little better than by the centroids, and measure to 1/64 of the limit. */
	assert_true(motion->distance <= TOLERANCE);
	close_to(motion->distance, distance, TOLERANCE / 20);
	GEOSGeom_destroy_r(geos, lines_moved);
	GEOSGeom_destroy_r(geos, middle_a);
	GEOSGeom_destroy_r(geos, middle_b);
	GEOSGeom_destroy_r(geos, lines_a);
	GEOSGeom_destroy_r(geos, lines_b);
	GEOS_finish_r(geos);
}

static void picture_is_found_again_at_every_turn(void **state)
{
	(void)state;
	draw_picture();
	for (int i = 0; i < 24; i++) {
		struct motion motion = {.turn = i * 0.29 - 3.1, .x = 120 - i, .y = 7 * i};
		make_copy(motion);
		struct geo_congruence congruence = compare();
		assert_true(congruence.same.found);
		assert_false(congruence.mirrored.found);
		close_to(angle_off(congruence.same.turn, motion.turn), 0, 1e-6);
		close_to(congruence.same.distance, 0, 5);
		judged_by_geos(&congruence.same, false);
	}
}

static void mirror_image_is_told_from_the_picture(void **state)
{
	(void)state;
	draw_picture();
	for (int i = 0; i < 12; i++) {
		struct motion motion = {
			.turn = i * 0.5 - 3, .x = -50 + i, .y = 4 * i, .mirrored = true};
		make_copy(motion);
		struct geo_congruence congruence = compare();
		assert_false(congruence.same.found);
		assert_true(isinf(congruence.same.distance));
		assert_true(congruence.mirrored.found);
		close_to(angle_off(congruence.mirrored.turn, motion.turn), 0, 1e-6);
		judged_by_geos(&congruence.mirrored, true);
	}
}

/* Left for right, then top for bottom: a half-turn. */
static void two_flips_are_a_half_turn(void **state)
{
	(void)state;
	draw_picture();
	shapes_clear(&copy);
	for (uint32_t n = 0; n < original.chain_count; n++) {
		shapes_begin(&copy, original.chains[n].closed);
		for (uint32_t i = 0; i < original.chains[n].count; i++) {
			struct cutlint_point p = original.points[original.chains[n].first + i];
			shapes_add(&copy, 148 - p.x * 1e-6, 105 - p.y * 1e-6);
		}
	}
	struct geo_congruence congruence = compare();
	assert_true(congruence.same.found);
	assert_false(congruence.mirrored.found);
	close_to(fabs(congruence.same.turn), pi, 1e-6);
}

/* One flip of the vertical axis alone: the mirror image after a half-turn. */
static void flip_top_for_bottom_is_a_turned_mirror_image(void **state)
{
	(void)state;
	draw_picture();
	make_copy((struct motion){.turn = pi, .x = 40, .y = 90, .mirrored = true});
	struct geo_congruence congruence = compare();
	assert_false(congruence.same.found);
	assert_true(congruence.mirrored.found);
	close_to(fabs(congruence.mirrored.turn), pi, 1e-6);
}

static void symmetric_flowers_match_both_ways_at_the_least_turn(void **state)
{
	(void)state;
	for (int petals = 3; petals < 12; petals += 2) {
		draw_flower(petals);
		double turn = 0.35 * 2 * pi / petals;
		make_copy((struct motion){.turn = turn + 4 * pi / petals, .x = 90, .y = -20});
		struct geo_congruence congruence = compare();
		assert_true(congruence.same.found && congruence.mirrored.found);
		close_to(congruence.same.turn, turn, 2e-4);
		assert_true(fabs(congruence.mirrored.turn) <= pi / petals + 1e-4);
		judged_by_geos(&congruence.same, false);
		judged_by_geos(&congruence.mirrored, true);
	}
}

/* An S has a half-turn, but is not its own mirror image; an A is, but has no half-turn. */
static void half_turn_and_mirror_symmetry_are_kept_apart(void **state)
{
	(void)state;
	shapes_clear(&original);
	shapes_begin(&original, false);
	static const double s[][2] = {{10, 0}, {0, 0}, {0, 8}, {10, 8}, {10, 16}, {0, 16}};
	for (int i = 0; i < 6; i++)
		shapes_add(&original, s[i][0], s[i][1]);
	make_copy((struct motion){.turn = pi, .x = 3, .y = 4});
	struct geo_congruence congruence = compare();
	assert_true(congruence.same.found);
	assert_false(congruence.mirrored.found);
	close_to(congruence.same.turn, 0, 1e-6);
	shapes_clear(&original);
	shapes_begin(&original, false);
	shapes_add(&original, 0, 0);
	shapes_add(&original, 5, 14);
	shapes_add(&original, 10, 0);
	shapes_line(&original, 2, 5, 8, 5);
	make_copy((struct motion){.turn = pi, .x = 3, .y = 4});
	congruence = compare();
	assert_true(congruence.same.found && congruence.mirrored.found);
	close_to(fabs(congruence.same.turn), pi, 1e-6);
	close_to(fabs(congruence.mirrored.turn), pi, 1e-6);
}

static void single_circle_needs_no_turn(void **state)
{
	(void)state;
	shapes_clear(&original);
	shapes_clear(&copy);
	shapes_circle(&original, 5, 5, 12, 90, 0);
	shapes_circle(&copy, 80, 15, 12, 131, 0.7);
	struct geo_congruence congruence = compare();
	assert_true(congruence.same.found && congruence.mirrored.found);
	close_to(congruence.same.turn, 0, 0);
	close_to(congruence.mirrored.turn, 0, 0);
	close_to(congruence.same.distance, 12e6 * (1 - cos(pi / 90)), 2000);
}

static void circle_with_a_mark_tells_its_turn(void **state)
{
	(void)state;
	shapes_clear(&original);
	shapes_circle(&original, 0, 0, 12, 90, 0);
	shapes_line(&original, 9, 0, 9.6, 0.2);
	make_copy((struct motion){.turn = 2.2, .x = 3, .y = 4});
	struct geo_congruence congruence = compare();
	assert_true(congruence.same.found);
	close_to(congruence.same.turn, 2.2, 0.01);
}

static void straight_line_is_its_own_mirror_image(void **state)
{
	(void)state;
	shapes_clear(&original);
	shapes_line(&original, 0, 0, 30, 0);
	make_copy((struct motion){.turn = 0.5, .x = 3, .y = 4});
	struct geo_congruence congruence = compare();
	assert_true(congruence.same.found && congruence.mirrored.found);
	close_to(congruence.same.turn, 0.5, 1e-5);
	close_to(congruence.mirrored.turn, 0.5, 1e-5);
	shapes_clear(&copy);
	shapes_line(&copy, 0, 0, 30.2, 0);
	congruence = compare();
	assert_false(congruence.same.found || congruence.mirrored.found);
}

static void single_points_match_and_nothing_matches_nothing(void **state)
{
	(void)state;
	shapes_clear(&original);
	shapes_clear(&copy);
	assert_false(compare().same.found);
	shapes_line(&original, 3, 3, 3, 3);
	assert_false(compare().same.found);
	shapes_line(&copy, 9, 9, 9, 9);
	struct geo_congruence congruence = compare();
	assert_true(congruence.same.found && congruence.mirrored.found);
	shapes_line(&original, 13, 3, 13, 3);
	shapes_line(&copy, 9, 19, 9, 19);
	congruence = compare();
	assert_true(congruence.same.found && congruence.mirrored.found);
	close_to(fabs(congruence.same.turn), pi / 2, 1e-3);
}

/* One hole moved: within the tolerance it is the same picture. By 0.2 mm it is not: another shift
 * or turn of the whole can take up some of it, but not three quarters. */
static void moved_detail_decides_by_its_distance(void **state)
{
	(void)state;
	for (int i = 0; i < 2; i++) {
		draw_picture();
		make_copy((struct motion){.turn = 0.3, .x = 1, .y = 2});
		struct geo_chain dot = copy.chains[copy.chain_count - 3];
		assert_true(dot.closed);
		for (uint32_t v = 0; v < dot.count; v++)
			copy.points[dot.first + v].y += i == 0 ? 40000 : 200000;
		struct geo_congruence congruence = compare();
		assert_true(congruence.same.found == (i == 0));
		assert_false(congruence.mirrored.found);
	}
}

static void other_sizes_and_other_pictures_do_not_match(void **state)
{
	(void)state;
	draw_picture();
	make_copy((struct motion){0});
	for (uint32_t v = 0; v < copy.point_count; v++) {
		copy.points[v].x += copy.points[v].x / 200;
		copy.points[v].y += copy.points[v].y / 200;
	}
	struct geo_congruence congruence = compare();
	assert_false(congruence.same.found || congruence.mirrored.found);
	draw_flower(5);
	congruence = compare();
	assert_false(congruence.same.found || congruence.mirrored.found);
}

/* Random pictures of one to six shapes, at random motions, whichever way round. */
static void random_pictures_are_found_again(void **state)
{
	(void)state;
	struct random random = {32};
	for (int i = 0; i < 60; i++) {
		shapes_clear(&original);
		uint32_t count = 1 + random_below(&random, 6);
		for (uint32_t k = 0; k < count; k++)
			shapes_blob(&original, &random, random_between(&random, 0, 80),
				    random_between(&random, 0, 80), 1, 12,
				    3 + (int)random_below(&random, 30));
		struct motion motion = {.turn = random_between(&random, -pi, pi),
					.x = random_between(&random, -200, 200),
					.y = random_between(&random, -200, 200),
					.mirrored = random_below(&random, 2)};
		make_copy(motion);
		struct geo_congruence congruence = compare();
		struct geo_motion found = motion.mirrored ? congruence.mirrored : congruence.same;
		assert_true(found.found);
		close_to(angle_off(found.turn, motion.turn), 0, 1e-5);
		assert_false((motion.mirrored ? congruence.same : congruence.mirrored).found);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(picture_is_found_again_at_every_turn),
		cmocka_unit_test(mirror_image_is_told_from_the_picture),
		cmocka_unit_test(two_flips_are_a_half_turn),
		cmocka_unit_test(flip_top_for_bottom_is_a_turned_mirror_image),
		cmocka_unit_test(symmetric_flowers_match_both_ways_at_the_least_turn),
		cmocka_unit_test(half_turn_and_mirror_symmetry_are_kept_apart),
		cmocka_unit_test(single_circle_needs_no_turn),
		cmocka_unit_test(circle_with_a_mark_tells_its_turn),
		cmocka_unit_test(straight_line_is_its_own_mirror_image),
		cmocka_unit_test(single_points_match_and_nothing_matches_nothing),
		cmocka_unit_test(moved_detail_decides_by_its_distance),
		cmocka_unit_test(other_sizes_and_other_pictures_do_not_match),
		cmocka_unit_test(random_pictures_are_found_again),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
