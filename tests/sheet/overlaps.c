/* Stretches that are burned twice, and both edges of traced strokes. */
#include "drawing.h"

#include <stdio.h>

static void a_copy_is_whole_on_both_sides(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<rect id='a' x='40' y='20' width='20' height='10'" LINE "/>"
			      "<path id='b' d='M60 30V20H40V30Z'" LINE "/>"));
	assert_int_equal(d.sheet->overlap_count, 1);
	const struct cutlint_overlap *overlap = &d.sheet->overlaps[0];
	assert_int_equal(overlap->outline[0], drawing_outline(&d, "a"));
	assert_int_equal(overlap->outline[1], drawing_outline(&d, "b"));
	assert_true(overlap->whole[0] && overlap->whole[1]);
	assert_true(overlap->reversed);
	assert_near(overlap->length_mm, 60, 1e-6);
	drawing_close(&d);
}

static void a_shared_side_is_told_with_its_place_and_length(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<rect x='40' y='20' width='10' height='10'" LINE "/>"
			      "<rect x='50' y='24' width='10' height='20'" LINE "/>"));
	assert_int_equal(d.sheet->overlap_count, 1);
	const struct cutlint_overlap *overlap = &d.sheet->overlaps[0];
	assert_false(overlap->whole[0] || overlap->whole[1]);
	/* Round the corners each line goes on within 0.05 mm of the other for as much. */
	assert_near(overlap->length_mm, 6, 0.11);
	assert_near(overlap->from.x, 50, 0.06);
	assert_near(fmin(overlap->from.y, overlap->to.y), 24, 0.06);
	assert_near(fmax(overlap->from.y, overlap->to.y), 30, 0.06);
	drawing_close(&d);
}

/*
 * Circles of radius r that touch are within 0.05 mm of each other where x²/r is: over 2 sqrt(0.05
 * r), 1.1 mm for r = 6, 3.5 mm for r = 60. They touch, and are no line drawn twice.
 */
static void curves_that_touch_do_not_overlap(void **state)
{
	(void)state;
	for (double r = 6; r <= 60; r += 6) {
		for (double gap = -0.01; gap < 0.02; gap += 0.005) {
			char svg[512];
			snprintf(svg, sizeof svg,
				 PAGE(300, 200,
				      "<g transform='rotate(%.1f 150 100)'" LINE
				      "><circle cx='%.4f' cy='100' r='%.4f'/>"
				      "<circle cx='%.4f' cy='100' r='%.4f'/></g>"),
				 r * 7, 150 - r, r, 150 + r + gap, r);
			struct drawing d;
			drawing_open(&d, svg);
			assert_int_equal(d.sheet->overlap_count, 0);
			drawing_close(&d);
		}
	}
}

/* A circle of radius r and a tangent, inside and outside; x²/2r within 0.05: 2 sqrt(0.1 r). */
static void a_tangent_does_not_overlap_its_circle(void **state)
{
	(void)state;
	for (double r = 6; r <= 36; r += 6) {
		char svg[512];
		snprintf(svg, sizeof svg,
			 PAGE(300, 200,
			      "<g transform='rotate(%.1f 150 100)'" LINE
			      "><circle cx='150' cy='%.4f' r='%.4f'/><path d='M80 100H220'/></g>"),
			 r * 7, 100 + r, r);
		struct drawing d;
		drawing_open(&d, svg);
		assert_int_equal(d.sheet->overlap_count, 0);
		drawing_close(&d);
	}
}

/* Arcs of 8 degrees on one circle of radius 20, 2.8 mm, 0.03 mm apart; and straight sides. */
static void a_short_stretch_drawn_twice_still_overlaps(void **state)
{
	(void)state;
	const double from = 0.7, to = from + 8 * 3.14159265358979 / 180;
	char svg[1024];
	snprintf(svg, sizeof svg,
		 PAGE(100, 100,
		      "<g" LINE "><path d='M80 50L%.6f %.6fA20 20 0 0 1 %.6f %.6fL50 80'/>"
		      "<path d='M50 50L%.6f %.6fA19.97 19.97 0 0 0 %.6f %.6fL50 45'/></g>"),
		 50 + 20 * cos(from), 50 + 20 * sin(from), 50 + 20 * cos(to), 50 + 20 * sin(to),
		 50 + 19.97 * cos(to), 50 + 19.97 * sin(to), 50 + 19.97 * cos(from),
		 50 + 19.97 * sin(from));
	struct drawing d;
	drawing_open(&d, svg);
	assert_int_equal(d.sheet->overlap_count, 1);
	assert_near(d.sheet->overlaps[0].length_mm, 2.8, 0.15);
	drawing_close(&d);
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><path d='M40 10L44 20H47L60 10'/>"
			      "<path d='M30 40L44 20.02H47L60 40'/></g>"));
	assert_int_equal(d.sheet->overlap_count, 1);
	drawing_close(&d);
}

static void a_fold_on_a_cut_is_an_overlap_and_a_guide_is_not(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<path id='fold' d='M50 0V60'" LINE "/>"
			      "<path d='M50 10V20'" LINE "/>"
			      "<path id='guide' d='M50 30V40'" LINE "/>"));
	assert_int_equal(d.sheet->overlap_count, 1);
	assert_near(d.sheet->overlaps[0].length_mm, 10, 0.11);
	assert_true(d.sheet->overlaps[0].whole[1]);
	assert_false(d.sheet->overlaps[0].whole[0]);
	drawing_close(&d);
}

static void lines_farther_apart_than_the_tolerance_are_two(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d,
		     PAGE(100, 60, "<path d='M50 0V60'" LINE "/><path d='M50.06 0V60'" LINE "/>"));
	assert_int_equal(d.sheet->overlap_count, 0);
	drawing_close(&d);
}

static void both_edges_of_a_traced_stroke_are_a_pair(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><circle id='inner' cx='40' cy='30' r='9.7'/>"
			      "<circle id='outer' cx='40' cy='30' r='10'/>"
			      "<circle cx='40' cy='30' r='5'/></g>"));
	assert_int_equal(d.sheet->traced_count, 1);
	assert_int_equal(d.sheet->traced[0].outer, drawing_outline(&d, "outer"));
	assert_int_equal(d.sheet->traced[0].inner, drawing_outline(&d, "inner"));
	assert_near(d.sheet->traced[0].apart_mm, 0.3, 0.01);
	assert_true(d.sheet->traced[0].spread_mm < 0.02);
	drawing_close(&d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_copy_is_whole_on_both_sides),
		cmocka_unit_test(a_shared_side_is_told_with_its_place_and_length),
		cmocka_unit_test(curves_that_touch_do_not_overlap),
		cmocka_unit_test(a_tangent_does_not_overlap_its_circle),
		cmocka_unit_test(a_short_stretch_drawn_twice_still_overlaps),
		cmocka_unit_test(a_fold_on_a_cut_is_an_overlap_and_a_guide_is_not),
		cmocka_unit_test(lines_farther_apart_than_the_tolerance_are_two),
		cmocka_unit_test(both_edges_of_a_traced_stroke_are_a_pair),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
