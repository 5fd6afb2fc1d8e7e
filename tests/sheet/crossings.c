/*
 * Crossings: where two burned lines cross or touch. Places are those of lines and circles in the
 * plane; random segments are compared with their intersections, pair by pair.
 */
#include "drawing.h"

#include <stdio.h>

#include "random.h"

static const struct cutlint_crossing *only_crossing(const struct drawing *drawing)
{
	assert_int_equal(drawing->sheet->crossing_count, 1);
	return drawing->sheet->crossings;
}

static void assert_at(const struct cutlint_crossing *crossing, enum cutlint_crossing_kind kind,
		      double x, double y)
{
	assert_int_equal(crossing->kind, kind);
	assert_near(crossing->walls[0].at.x, x, 1e-6);
	assert_near(crossing->walls[0].at.y, y, 1e-6);
}

static uint32_t count_crossings(const char *svg)
{
	struct drawing d;
	drawing_open(&d, svg);
	uint32_t count = d.sheet->crossing_count;
	drawing_close(&d);
	return count;
}

static void two_diagonals_cross_in_the_middle(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><path id='a' d='M20 20L60 40'/>"
			      "<path id='b' d='M20 40L60 20'/></g>"));
	const struct cutlint_crossing *crossing = only_crossing(&d);
	assert_at(crossing, CUTLINT_CROSSING_CROSS, 40, 30);
	assert_int_equal(crossing->walls[0].outline, drawing_outline(&d, "b"));
	assert_int_equal(crossing->walls[1].outline, drawing_outline(&d, "a"));
	drawing_close(&d);
}

/* Radii 10, centres 12 apart: they meet 6 along and 8 = √(100 - 36) beside. */
static void two_circles_cross_in_two_points(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><circle cx='40' cy='30' r='10'/>"
			      "<circle cx='52' cy='30' r='10'/></g>"));
	assert_int_equal(d.sheet->crossing_count, 2);
	for (uint32_t i = 0; i < 2; i++) {
		assert_near(d.sheet->crossings[i].walls[0].at.x, 46, 0.01);
		assert_near(fabs(d.sheet->crossings[i].walls[0].at.y - 30), 8, 0.01);
		assert_int_equal(d.sheet->crossings[i].kind, CUTLINT_CROSSING_CROSS);
	}
	drawing_close(&d);
}

static void two_circles_that_touch_do_so_in_one_point(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><circle cx='40' cy='30' r='3'/>"
			      "<circle cx='48' cy='30' r='5'/></g>"));
	assert_at(only_crossing(&d), CUTLINT_CROSSING_TOUCH, 43, 30);
	drawing_close(&d);
}

static void a_figure_of_eight_crosses_itself_once(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path" LINE "d='M30 20L70 40V20L30 40Z'/>"));
	assert_at(only_crossing(&d), CUTLINT_CROSSING_SELF, 50, 30);
	drawing_close(&d);
}

static void lines_cross_the_page_s_edge_and_an_outline(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path" LINE "d='M30 20L110 20'/>"));
	assert_at(only_crossing(&d), CUTLINT_CROSSING_EDGE, 100, 20);
	assert_int_equal(only_crossing(&d)->walls[1].outline, CUTLINT_NONE);
	drawing_close(&d);
	drawing_open(&d, PAGE(100, 60,
			      "<rect id='outline' x='5' y='5' width='60' height='40'" LINE "/>"
			      "<path" LINE "d='M30 20L80 20'/>"));
	assert_at(only_crossing(&d), CUTLINT_CROSSING_EDGE, 65, 20);
	drawing_close(&d);
}

/* A line that goes on behind another one for at most 1 mm was meant to end on it. */
static void a_line_that_ends_on_another_does_not_cross_it(void **state)
{
	(void)state;
	assert_int_equal(count_crossings(PAGE(100, 60,
					      "<g" LINE "><path d='M20 20H80'/>"
					      "<path d='M50 40V20'/></g>")),
			 0);
	assert_int_equal(count_crossings(PAGE(100, 60,
					      "<g" LINE "><path d='M20 20H80'/>"
					      "<path d='M50 40V19.01'/></g>")),
			 0);
	assert_int_equal(count_crossings(PAGE(100, 60,
					      "<g" LINE "><path d='M20 20H80'/>"
					      "<path d='M50 40V18.99'/></g>")),
			 1);
}

/* A line runs along another one for 3 mm, and crosses its same long side again 35 mm farther on. */
static void where_lines_run_along_each_other_they_overlap_and_cross_elsewhere(void **state)
{
	(void)state;
	static const char *const LINES[] = {"M10 20H80", "M80 20H10"};
	for (int i = 0; i < 2; i++) {
		char svg[512];
		snprintf(svg, sizeof svg,
			 PAGE(100, 60,
			      "<g" LINE "><path d='%s'/><path d='M12 10V20H15V35H50V10'/></g>"),
			 LINES[i]);
		struct drawing d;
		drawing_open(&d, svg);
		assert_int_equal(d.sheet->overlap_count, 1);
		assert_at(only_crossing(&d), CUTLINT_CROSSING_CROSS, 50, 20);
		drawing_close(&d);
	}
}

/* A line weaves about a square's top side from 24 to 36 mm; the square is drawn from 30 mm on. It
 * leaves through the right side. */
static void lines_overlap_across_the_start_of_a_closed_one(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><path d='M30 10H60V50H20V10Z'/>"
			      "<path d='M24 5V10.01L28 9.99L32 10.01L36 9.99V30H70'/></g>"));
	assert_int_equal(d.sheet->overlap_count, 1);
	assert_at(only_crossing(&d), CUTLINT_CROSSING_CROSS, 60, 30);
	drawing_close(&d);
}

/* Every two of n lines through one point, 15 degrees apart, cross there: n (n - 1) / 2. */
static void lines_through_one_point_cross_by_pairs(void **state)
{
	(void)state;
	enum { COUNT = 12 };
	char svg[4096];
	size_t used = (size_t)snprintf(svg, sizeof svg, PAGE_START(100, 100) "<g" LINE ">");
	for (int i = 0; i < COUNT; i++)
		used += (size_t)snprintf(svg + used, sizeof svg - used,
					 "<path d='M20 50H80' transform='rotate(%d 50 50)'/>",
					 15 * i);
	snprintf(svg + used, sizeof svg - used, "</g></svg>");
	assert_int_equal(count_crossings(svg), COUNT * (COUNT - 1) / 2);
}

/* The four corners of a crossing by two long cuts: three are loose, one is the frame. */
static void a_crossing_names_the_loose_parts_with_a_corner_there(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<g" LINE "><path d='M40 0V60'/><path d='M0 20H100'/></g>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 3);
	const struct cutlint_crossing *crossing = NULL;
	for (uint32_t i = 0; i < d.sheet->crossing_count; i++) {
		if (d.sheet->crossings[i].kind == CUTLINT_CROSSING_CROSS)
			crossing = &d.sheet->crossings[i];
	}
	assert_non_null(crossing);
	double area = 0;
	for (int i = 0; i < 3; i++) {
		assert_int_not_equal(crossing->loose[i], CUTLINT_NONE);
		area += d.sheet->parts[crossing->loose[i]].area_mm2;
	}
	assert_int_equal(crossing->loose[3], CUTLINT_NONE);
	assert_near(area, 6000 - 60 * 40, 1e-6);
	drawing_close(&d);
}

struct segment {
	struct cutlint_xy from, to;
};

/* Whether two segments cross with more than 1 mm of each on both sides of the crossing. */
static bool cross_well(const struct segment *a, const struct segment *b)
{
	double ax = a->to.x - a->from.x, ay = a->to.y - a->from.y;
	double bx = b->to.x - b->from.x, by = b->to.y - b->from.y;
	double cx = b->from.x - a->from.x, cy = b->from.y - a->from.y;
	double turn = ax * by - ay * bx;
	double s = (cx * by - cy * bx) / turn, t = (cx * ay - cy * ax) / turn;
	double a_end = 1 / hypot(ax, ay), b_end = 1 / hypot(bx, by);
	return s > a_end && s < 1 - a_end && t > b_end && t < 1 - b_end;
}

static void random_segments_cross_where_their_lines_do(void **state)
{
	(void)state;
	enum { COUNT = 40, DESIGNS = 20 };
	uint32_t all = 0;
	for (uint64_t design = 1; design <= DESIGNS; design++) {
		struct dice dice = {design * 7919};
		struct segment segments[COUNT];
		char svg[8192];
		size_t used = (size_t)snprintf(svg, sizeof svg, PAGE_START(100, 60) "<g" LINE ">");
		uint32_t wanted = 0;
		for (int i = 0; i < COUNT; i++) {
			segments[i].from = (struct cutlint_xy){dice_roll(&dice, 1, 99),
							       dice_roll(&dice, 1, 59)};
			segments[i].to = (struct cutlint_xy){dice_roll(&dice, 1, 99),
							     dice_roll(&dice, 1, 59)};
			for (int k = 0; k < i; k++)
				wanted += cross_well(&segments[k], &segments[i]) ? 1 : 0;
			used += (size_t)snprintf(svg + used, sizeof svg - used,
						 "<path d='M%.9f %.9fL%.9f %.9f'/>",
						 segments[i].from.x, segments[i].from.y,
						 segments[i].to.x, segments[i].to.y);
		}
		snprintf(svg + used, sizeof svg - used, "</g></svg>");
		struct drawing d;
		drawing_open(&d, svg);
		/* Lines that cross at less than some 3 degrees run along each other for 1 mm. */
		assert_in_range(d.sheet->crossing_count + d.sheet->overlap_count, wanted,
				wanted + 2 * d.sheet->overlap_count);
		all += d.sheet->crossing_count;
		drawing_close(&d);
	}
	assert_true(all > 100 * DESIGNS);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(two_diagonals_cross_in_the_middle),
		cmocka_unit_test(two_circles_cross_in_two_points),
		cmocka_unit_test(two_circles_that_touch_do_so_in_one_point),
		cmocka_unit_test(a_figure_of_eight_crosses_itself_once),
		cmocka_unit_test(lines_cross_the_page_s_edge_and_an_outline),
		cmocka_unit_test(a_line_that_ends_on_another_does_not_cross_it),
		cmocka_unit_test(where_lines_run_along_each_other_they_overlap_and_cross_elsewhere),
		cmocka_unit_test(lines_overlap_across_the_start_of_a_closed_one),
		cmocka_unit_test(lines_through_one_point_cross_by_pairs),
		cmocka_unit_test(a_crossing_names_the_loose_parts_with_a_corner_there),
		cmocka_unit_test(random_segments_cross_where_their_lines_do),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
