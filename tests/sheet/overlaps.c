/* Stretches that are burned twice, and both edges of traced strokes. */
#include "drawing.h"

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
		cmocka_unit_test(a_fold_on_a_cut_is_an_overlap_and_a_guide_is_not),
		cmocka_unit_test(lines_farther_apart_than_the_tolerance_are_two),
		cmocka_unit_test(both_edges_of_a_traced_stroke_are_a_pair),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
