/*
 * Lines that lie on each other. What is true follows from how each drawing was made; distances are
 * judged by GEOS (GEOSHausdorffDistance and GEOSFrechetDistance, C interface 3.11).
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>

#include <cmocka.h>

#include "check.h"
#include "geometry/curve.h"
#include "geometry/match.h"
#include "geos.h"
#include "shapes.h"

#define APART 50000.0   /* 0.05 mm */
#define LEAST 1000000.0 /* 1 mm */

static struct shapes shapes, stretches;
static struct geo_overlaps found;

static int start(void **state)
{
	(void)state;
	shapes_clear(&shapes);
	return 0;
}

static int finish(void **state)
{
	(void)state;
	geo_overlaps_finish(&found);
	return 0;
}

static void find(void)
{
	struct geo_lines lines = shapes_lines(&shapes);
	geo_overlaps_finish(&found);
	assert_int_equal(geo_overlaps_find(&lines, APART, LEAST, &found), 0);
}

static void is_stretch(struct geo_stretch stretch, uint32_t chain, double from_mm, double to_mm)
{
	assert_int_equal(stretch.chain, chain);
	close_to(stretch.from * 1e-6, from_mm, 1e-5);
	close_to(stretch.to * 1e-6, to_mm, 1e-5);
}

static double length_of(const struct shapes *drawing, uint32_t chain)
{
	const struct geo_chain *c = &drawing->chains[chain];
	double length = 0;
	for (uint32_t i = 0; i + (c->closed ? 0 : 1) < c->count; i++) {
		struct cutlint_point p = drawing->points[c->first + i];
		struct cutlint_point q = drawing->points[c->first + (i + 1) % c->count];
		length += hypot((double)q.x - p.x, (double)q.y - p.y);
	}
	return length;
}

static void is_whole(struct geo_stretch stretch, uint32_t chain)
{
	assert_int_equal(stretch.chain, chain);
	close_to(stretch.to - stretch.from, length_of(&shapes, chain), 1e-2);
}

static void line_on_a_part_of_another(void **state)
{
	(void)state;
	shapes_line(&shapes, 0, 0, 100, 0);
	shapes_line(&shapes, 50, 0, 30, 0);
	find();
	assert_int_equal(found.count, 1);
	is_stretch(found.items[0].a, 0, 30, 50);
	is_stretch(found.items[0].b, 1, 0, 20);
	assert_true(found.items[0].reversed);
	close_to(found.items[0].apart, 0, 1e-3);
}

static void stretch_names_the_segment_that_holds_its_start(void **state)
{
	(void)state;
	shapes_begin(&shapes, false);
	for (int i = 0; i <= 10; i++)
		shapes_add(&shapes, 10 * i, 0);
	shapes_line(&shapes, 32, 0, 75, 0);
	find();
	assert_int_equal(found.count, 1);
	is_stretch(found.items[0].a, 0, 32, 75);
	assert_int_equal(found.items[0].a.first_segment, 3);
	assert_int_equal(found.items[0].b.first_segment, 11);
	assert_false(found.items[0].reversed);
}

static void rectangle_against_its_four_sides_as_lines(void **state)
{
	(void)state;
	shapes_rectangle(&shapes, 0, 0, 10, 5);
	shapes_line(&shapes, 0, 0, 10, 0);
	shapes_line(&shapes, 10, 5, 10, 0);
	shapes_line(&shapes, 10, 5, 0, 5);
	shapes_line(&shapes, 0, 5, 0, 0);
	find();
	assert_int_equal(found.count, 4);
	static const double from[] = {0, 10, 15, 25, 30};
	for (uint32_t i = 0; i < 4; i++) {
		is_stretch(found.items[i].a, 0, from[i], from[i + 1]);
		is_stretch(found.items[i].b, i + 1, 0, from[i + 1] - from[i]);
		assert_true(found.items[i].reversed == (i == 1));
	}
}

/* Order does not matter: the lines first, then the rectangle. */
static void four_lines_against_a_rectangle(void **state)
{
	(void)state;
	shapes_line(&shapes, 0, 0, 10, 0);
	shapes_line(&shapes, 10, 0, 10, 5);
	shapes_line(&shapes, 10, 5, 0, 5);
	shapes_line(&shapes, 0, 5, 0, 0);
	shapes_rectangle(&shapes, 0, 0, 10, 5);
	find();
	assert_int_equal(found.count, 4);
	for (uint32_t i = 0; i < 4; i++)
		is_whole(found.items[i].a, i);
}

static void rectangles_that_share_half_a_side(void **state)
{
	(void)state;
	shapes_rectangle(&shapes, 0, 0, 10, 10);
	shapes_rectangle(&shapes, 10, 5, 10, 10);
	find();
	assert_int_equal(found.count, 1);
	is_stretch(found.items[0].a, 0, 15, 20);
	is_stretch(found.items[0].b, 1, 35, 40);
	assert_true(found.items[0].reversed);
}

static void add_cubic_circle(double x, double y, double radius)
{
	double handle = radius * 4 * (sqrt(2) - 1) / 3;
	shapes_begin(&shapes, true);
	for (int quarter = 0; quarter < 4; quarter++) {
		double c = cos(quarter * pi / 2), s = sin(quarter * pi / 2);
		struct curve curve = {.kind = CURVE_CUBIC};
		double points[4][2] = {
			{radius, 0}, {radius, handle}, {handle, radius}, {0, radius}};
		for (int i = 0; i < 4; i++)
			curve.p[i] = (struct cutlint_xy){x + c * points[i][0] - s * points[i][1],
							 y + s * points[i][0] + c * points[i][1]};
		uint32_t steps = curve_steps(&curve, 0.005);
		for (uint32_t i = 0; i < steps; i++) {
			struct cutlint_xy p = curve_at(&curve, (double)i / steps);
			shapes_add(&shapes, p.x, p.y);
		}
	}
}

/* The polygon's sagitta is 20 (1 - cos(pi/64)) = 0.0241 mm, the cubics' error 0.0055 mm. */
static void circle_of_cubics_against_a_polygon(void **state)
{
	(void)state;
	add_cubic_circle(50, 50, 20);
	shapes_circle(&shapes, 50, 50, 20, 64, 1);
	find();
	assert_int_equal(found.count, 1);
	is_whole(found.items[0].a, 0);
	is_whole(found.items[0].b, 1);
	assert_false(found.items[0].reversed);
	assert_true(found.items[0].apart < 31000);
	assert_true(found.items[0].apart > 24000);
}

static void parallel_lines_just_within_and_just_beyond_the_distance(void **state)
{
	(void)state;
	shapes_line(&shapes, 0, 0, 30, 40);
	shapes_line(&shapes, 0.04 * 0.8, -0.04 * 0.6, 30 + 0.04 * 0.8, 40 - 0.04 * 0.6);
	find();
	assert_int_equal(found.count, 1);
	is_whole(found.items[0].a, 0);
	is_whole(found.items[0].b, 1);
	close_to(found.items[0].apart, 40000, 2);
	shapes_clear(&shapes);
	shapes_line(&shapes, 0, 0, 30, 40);
	shapes_line(&shapes, 0.06 * 0.8, -0.06 * 0.6, 30 + 0.06 * 0.8, 40 - 0.06 * 0.6);
	find();
	assert_int_equal(found.count, 0);
}

static void least_length_decides(void **state)
{
	(void)state;
	shapes_line(&shapes, 0, 0, 50, 0);
	shapes_line(&shapes, 10, 0, 11.01, 0);
	shapes_line(&shapes, 20, 0, 20.99, 0);
	find();
	assert_int_equal(found.count, 1);
	assert_int_equal(found.items[0].b.chain, 1);
}

/* Lines that part at angle t are within 0.05 for 0.05 / sin t on both sides of the crossing. */
static void crossing_lines_overlap_only_at_a_flat_angle(void **state)
{
	(void)state;
	shapes_line(&shapes, -50, 0, 50, 0);
	for (int i = 1; i <= 12; i++) {
		double angle = i * pi / 24;
		shapes_line(&shapes, -40 * cos(angle), -40 * sin(angle), 40 * cos(angle),
			    40 * sin(angle));
	}
	find();
	assert_int_equal(found.count, 0);
	shapes_clear(&shapes);
	shapes_line(&shapes, -50, 0, 50, 0);
	shapes_line(&shapes, -40, -2, 40, 2);
	find();
	assert_int_equal(found.count, 1);
	double length = found.items[0].a.to - found.items[0].a.from;
	close_to(length, 2 * APART / tan(atan2(2, 40)), 200);
}

static void corners_and_tips_do_not_overlap_themselves(void **state)
{
	(void)state;
	for (int i = 1; i < 10; i++) {
		double angle = i * pi / 18;
		shapes_begin(&shapes, i % 2);
		shapes_add(&shapes, 100 * i + 30, 0);
		shapes_add(&shapes, 100 * i, 0);
		shapes_add(&shapes, 100 * i + 30 * cos(angle), 30 * sin(angle));
	}
	shapes_circle(&shapes, 0, 100, 0.5, 200, 0);
	shapes_circle(&shapes, 0, 100, 20, 20000, 0);
	find();
	assert_int_equal(found.count, 0);
}

static void line_that_doubles_back_overlaps_itself(void **state)
{
	(void)state;
	shapes_begin(&shapes, false);
	shapes_add(&shapes, 0, 0);
	shapes_add(&shapes, 20, 0);
	shapes_add(&shapes, 5, 0);
	shapes_add(&shapes, 5, 10);
	find();
	assert_int_equal(found.count, 1);
	is_stretch(found.items[0].a, 0, 5, 20);
	is_stretch(found.items[0].b, 0, 20, 35);
	assert_true(found.items[0].reversed);
}

static void slot_narrower_than_the_distance_overlaps_itself(void **state)
{
	(void)state;
	shapes_rectangle(&shapes, 0, 0, 12, 0.03);
	find();
	assert_int_equal(found.count, 1);
	close_to(found.items[0].a.to - found.items[0].a.from, 12e6, 40000);
	close_to(found.items[0].apart, 30000, 1);
}

static void circle_drawn_twice_in_one_go_overlaps_itself(void **state)
{
	(void)state;
	shapes_begin(&shapes, true);
	for (int i = 0; i < 200; i++)
		shapes_add(&shapes, 7 * cos(i * pi / 50), 7 * sin(i * pi / 50));
	find();
	assert_int_equal(found.count, 1);
	double round = 200 * 7e6 * sin(pi / 100);
	close_to(found.items[0].a.to - found.items[0].a.from, round, 10);
	close_to(found.items[0].b.to - found.items[0].b.from, round, 10);
	assert_false(found.items[0].reversed);
}

/* Vertices of a copy, put in between and shifted along the same line. */
static void add_copy(uint32_t chain, struct random *random, bool reversed, uint32_t turn)
{
	struct geo_chain c = shapes.chains[chain];
	shapes_begin(&shapes, c.closed);
	for (uint32_t i = 0; i < c.count; i++) {
		uint32_t place = (reversed ? 2 * c.count - i - 1 : i) + turn;
		uint32_t after = reversed ? place + c.count - 1 : place + 1;
		struct cutlint_point p = shapes.points[c.first + place % c.count];
		struct cutlint_point q = shapes.points[c.first + after % c.count];
		shapes_add(&shapes, p.x * 1e-6, p.y * 1e-6);
		double share = random_between(random, 0, 1);
		for (; random_below(random, 3); share += (1 - share) * 0.4)
			shapes_add(&shapes, (p.x + share * ((double)q.x - p.x)) * 1e-6,
				   (p.y + share * ((double)q.y - p.y)) * 1e-6);
	}
}

static void copies_match_whatever_their_start_direction_and_nodes(void **state)
{
	(void)state;
	struct random random = {21};
	for (int i = 0; i < 200; i++) {
		shapes_clear(&shapes);
		uint32_t count = 5 + random_below(&random, 60);
		shapes_blob(&shapes, &random, 20, 20, 8, 15, (int)count);
		add_copy(0, &random, i % 2, random_below(&random, count));
		find();
		assert_int_equal(found.count, 1);
		is_whole(found.items[0].a, 0);
		is_whole(found.items[0].b, 1);
		assert_true(found.items[0].reversed == (i % 2));
		assert_true(found.items[0].apart < 5);
	}
}

/* Each copy against the first line that it lies on, not all 499,500 pairs. */
static void thousand_copies_are_each_reported_once(void **state)
{
	(void)state;
	struct random random = {22};
	shapes_blob(&shapes, &random, 0, 0, 30, 40, 30);
	for (uint32_t i = 1; i < 1000; i++)
		add_copy(0, &random, i % 3 == 0, i % 30);
	find();
	assert_int_equal(found.count, 999);
	for (uint32_t i = 0; i < 999; i++) {
		is_whole(found.items[i].a, 0);
		assert_in_range(found.items[i].b.chain, 1, 999);
	}
}

static void third_line_is_matched_with_all_that_it_lies_on(void **state)
{
	(void)state;
	shapes_line(&shapes, 0, 0, 20, 0);
	shapes_line(&shapes, 30, 0, 50, 0);
	shapes_line(&shapes, 45, 0, 10, 0);
	find();
	assert_int_equal(found.count, 2);
	is_stretch(found.items[0].a, 0, 10, 20);
	is_stretch(found.items[0].b, 2, 25, 35);
	is_stretch(found.items[1].a, 1, 0, 15);
	is_stretch(found.items[1].b, 2, 0, 15);
}

/* Adds a stretch of a chain to the other drawing, as an open line. */
static void add_stretch(struct geo_stretch stretch)
{
	const struct geo_chain *c = &shapes.chains[stretch.chain];
	double at = 0, length = length_of(&shapes, stretch.chain);
	shapes_begin(&stretches, false);
	for (int round = 0; round < 2; round++)
		for (uint32_t i = 0; i + (c->closed ? 0 : 1) < c->count; i++) {
			struct cutlint_point p = shapes.points[c->first + i];
			struct cutlint_point q = shapes.points[c->first + (i + 1) % c->count];
			double side = hypot((double)q.x - p.x, (double)q.y - p.y);
			double from = fmax(0, stretch.from - at), to = fmin(side, stretch.to - at);
			at += side;
			if (from >= to || (round == 1 && !c->closed))
				continue;
			double dx = (q.x - (double)p.x) / side, dy = (q.y - (double)p.y) / side;
			shapes_add(&stretches, (p.x + from * dx) * 1e-6, (p.y + from * dy) * 1e-6);
			shapes_add(&stretches, (p.x + to * dx) * 1e-6, (p.y + to * dy) * 1e-6);
		}
	assert_true(length > 0);
}

/* Hausdorff <= Fréchet <= what we say; GEOS takes both at steps, Fréchet then from above. */
static void geos_agrees(GEOSContextHandle_t geos, const struct geo_overlap *overlap)
{
	shapes_clear(&stretches);
	add_stretch(overlap->a);
	add_stretch(overlap->b);
	struct geo_lines lines = shapes_lines(&stretches);
	GEOSGeometry *a = geos_line(geos, &lines, 0), *b = geos_line(geos, &lines, 1);
	GEOSGeometry *back = GEOSReverse_r(geos, b);
	double hausdorff, frechet;
	GEOSHausdorffDistanceDensify_r(geos, a, b, 0.05, &hausdorff);
	GEOSFrechetDistanceDensify_r(geos, a, overlap->reversed ? back : b, 0.05, &frechet);
	assert_true(overlap->apart <= APART);
	if (hausdorff > overlap->apart + 3)
		fail_msg("Hausdorff distance %g, said %g", hausdorff, overlap->apart);
	if (frechet > overlap->apart + 15000)
		fail_msg("Fréchet distance %g, said %g", frechet, overlap->apart);
	GEOSGeom_destroy_r(geos, a);
	GEOSGeom_destroy_r(geos, b);
	GEOSGeom_destroy_r(geos, back);
}

/* A wavy line and one that strays from it by up to 0.07 mm, so that stretches begin and end. */
static void distances_are_bounded_as_geos_says(void **state)
{
	(void)state;
	GEOSContextHandle_t geos = GEOS_init_r();
	struct random random = {23};
	uint32_t total = 0;
	for (int i = 0; i < 40; i++) {
		shapes_clear(&shapes);
		for (int k = 0; k < 2; k++) {
			double wave = random_between(&random, 0.3, 3);
			uint32_t count = 60 + random_below(&random, 60);
			shapes_begin(&shapes, false);
			for (uint32_t v = 0; v <= count; v++) {
				double x = 20.0 * (k && i % 2 ? count - v : v) / count;
				double off = k ? 0.07 * sin(x * wave) : 0;
				shapes_add(&shapes, x, 2 * sin(x / 3) + off);
			}
		}
		find();
		total += found.count;
		for (uint32_t k = 0; k < found.count; k++)
			geos_agrees(geos, &found.items[k]);
	}
	assert_in_range(total, 100, 1000);
	GEOS_finish_r(geos);
}

static void short_sides_make_no_difference(void **state)
{
	(void)state;
	shapes_begin(&shapes, false);
	for (int i = 0; i <= 5000; i++)
		shapes_add(&shapes, i * 0.004, i % 2 * 0.00001);
	shapes_line(&shapes, 4, 0.02, 15, 0.02);
	find();
	assert_int_equal(found.count, 1);
	close_to(found.items[0].a.from, 4e6, 60000);
	close_to(found.items[0].a.to, 15e6, 60000);
	is_whole(found.items[0].b, 1);
}

static void nothing_and_single_points_overlap_nothing(void **state)
{
	(void)state;
	find();
	assert_int_equal(found.count, 0);
	for (int i = 0; i < 3; i++) {
		shapes_begin(&shapes, i == 1);
		shapes_add(&shapes, 1, 1);
	}
	shapes_line(&shapes, 1, 1, 1, 1);
	find();
	assert_int_equal(found.count, 0);
}

/* Adds a chain of the places given in mm, starting at one of them. */
static void add_places(const double (*places)[2], int count, bool closed, int start)
{
	shapes_begin(&shapes, closed);
	for (int i = 0; i < count; i++)
		shapes_add(&shapes, places[(start + i) % count][0], places[(start + i) % count][1]);
}

/* 1.02 mm along the corner of an L, by more or less on either arm; all else leaves at right angles.
 */
static void short_stretch_is_found_wherever_it_lies_at_a_corner(void **state)
{
	(void)state;
	for (double before = 0; before <= 1.02; before += 0.06) {
		double after = 1.02 - before;
		const double places[][2] = {{50 - before, -20}, {50 - before, 0}, {50, 0},
					    {50, after},        {80, after},      {80, -20}};
		for (int start = 0; start < 12; start++) {
			shapes_clear(&shapes);
			const double l[][2] = {{0, 0}, {50, 0}, {50, 60}};
			if (start % 2 == 0)
				add_places(l, 3, false, 0);
			add_places(places, 6, true, start / 2);
			if (start % 2 == 1)
				add_places(l, 3, false, 0);
			find();
			assert_int_equal(found.count, 1);
			uint32_t chain = start % 2 ? 1 : 0;
			struct geo_stretch on_l = found.items[0].a.chain == chain
							  ? found.items[0].a
							  : found.items[0].b;
			close_to(on_l.to - on_l.from, 1.02e6, 1.2e5);
		}
	}
}

/* Two corners in one place, one turned: each pair of arms is together for apart / sin of the turn.
 */
static void turned_corners_overlap_by_the_sum_of_both_arms(void **state)
{
	(void)state;
	for (double turn = 0.06; turn < 0.2; turn += 0.01) {
		double c = 30 * cos(turn), s = 30 * sin(turn);
		double together = 2 * 0.05 / sin(turn);
		if (fabs(together - 1) < 0.05)
			continue;
		shapes_clear(&shapes);
		const double plain[][2] = {{-30, 0}, {0, 0}, {0, 30}};
		const double turned[][2] = {{-c, -s}, {0, 0}, {-s, c}};
		add_places(plain, 3, false, 0);
		add_places(turned, 3, false, 0);
		find();
		assert_int_equal(found.count, together > 1 ? 1 : 0);
	}
}

/* Neighbours lie within the distance up to a circle of apart / step round the hub; the stretch of
 * each pair is longer than the least only where that is. */
static void lines_that_leave_one_hub_overlap_their_neighbours_only(void **state)
{
	(void)state;
	const struct {
		int lines, neighbours;
	} cases[] = {{100, 0}, {200, 1}, {400, 3}};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		shapes_clear(&shapes);
		double step = 2 * acos(-1) / cases[i].lines;
		for (int k = 0; k < cases[i].lines; k++)
			shapes_line(&shapes, 0, 0, 20 * cos(k * step), 20 * sin(k * step));
		find();
		for (uint32_t k = 0; k < found.count; k++) {
			int apart = abs((int)found.items[k].a.chain - (int)found.items[k].b.chain);
			apart = apart < cases[i].lines / 2 ? apart : cases[i].lines - apart;
			assert_in_range(apart, 1, cases[i].neighbours);
		}
		/* Each but the first lies on an earlier one, where neighbours are near enough. */
		assert_true(found.count >=
			    (uint32_t)(cases[i].neighbours ? cases[i].lines - 1 : 0));
	}
}

#define test(name) cmocka_unit_test_setup_teardown(name, start, finish)

int main(void)
{
	const struct CMUnitTest tests[] = {
		test(line_on_a_part_of_another),
		test(stretch_names_the_segment_that_holds_its_start),
		test(rectangle_against_its_four_sides_as_lines),
		test(four_lines_against_a_rectangle),
		test(rectangles_that_share_half_a_side),
		test(circle_of_cubics_against_a_polygon),
		test(parallel_lines_just_within_and_just_beyond_the_distance),
		test(least_length_decides),
		test(crossing_lines_overlap_only_at_a_flat_angle),
		test(corners_and_tips_do_not_overlap_themselves),
		test(line_that_doubles_back_overlaps_itself),
		test(slot_narrower_than_the_distance_overlaps_itself),
		test(circle_drawn_twice_in_one_go_overlaps_itself),
		test(copies_match_whatever_their_start_direction_and_nodes),
		test(thousand_copies_are_each_reported_once),
		test(third_line_is_matched_with_all_that_it_lies_on),
		test(distances_are_bounded_as_geos_says),
		test(short_sides_make_no_difference),
		test(short_stretch_is_found_wherever_it_lies_at_a_corner),
		test(turned_corners_overlap_by_the_sum_of_both_arms),
		test(lines_that_leave_one_hub_overlap_their_neighbours_only),
		test(nothing_and_single_points_overlap_nothing),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
