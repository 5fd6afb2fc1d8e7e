/* Ends of open lines with what is nearest to each; distances are those of points and lines. */
#include "drawing.h"

static void a_closed_line_has_no_end(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<circle cx='40' cy='30' r='5'" LINE "/>"));
	assert_int_equal(d.sheet->end_count, 0);
	drawing_close(&d);
}

static void the_two_ends_of_a_path_with_a_gap_are_nearest_to_each_other(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path d='M40 20H60V40H40V20.7'" LINE "/>"));
	assert_int_equal(d.sheet->end_count, 2);
	assert_false(d.sheet->ends[0].last);
	assert_true(d.sheet->ends[1].last);
	assert_int_equal(d.sheet->ends[0].near_end, 1);
	assert_int_equal(d.sheet->ends[1].near_end, 0);
	assert_near(d.sheet->ends[1].near_end_mm, 0.7, 1e-9);
	/* The first side starts where the path starts: it is the wall that the end faces. */
	assert_near(d.sheet->ends[1].near_wall_mm, 0.7, 1e-9);
	drawing_close(&d);
}

static void an_end_that_meets_another_end_is_at_no_distance(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><path d='M40 20H60'/><path d='M60 20V40'/>"
			      "<path d='M40 20.02V40H59.9'/></g>"));
	assert_int_equal(d.sheet->end_count, 6);
	assert_int_equal(d.sheet->ends[1].near_end, 2);
	assert_near(d.sheet->ends[1].near_end_mm, 0, 0);
	assert_near(d.sheet->ends[0].near_end_mm, 0.02, 1e-9);
	assert_near(d.sheet->ends[5].near_end_mm, 0.1, 1e-9);
	drawing_close(&d);
}

static void an_end_before_a_side_names_that_side(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><rect id='wall' x='40' y='20' width='20' height='20'/>"
			      "<path d='M50 10V19.5'/></g>"));
	assert_near(d.sheet->ends[1].near_wall_mm, 0.5, 1e-9);
	assert_int_equal(d.sheet->ends[1].near_wall.outline, drawing_outline(&d, "wall"));
	assert_near(d.sheet->ends[1].near_wall.at.y, 20, 1e-9);
	drawing_close(&d);
}

/* The chords of a curve near its end are closer than any wall, but are only the curve itself. */
static void a_curve_is_no_wall_to_its_own_end(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path d='M40 20C60 20 60 40 40 40'" LINE "/>"));
	assert_near(d.sheet->ends[0].near_end_mm, 20, 1e-9);
	assert_true(d.sheet->ends[0].near_wall_mm > 15);
	drawing_close(&d);
}

static void folds_and_guides_have_no_ends(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<path id='fold' d='M50 0V60'" LINE "/>"
			      "<path id='guide' d='M0 30H60'" LINE "/>"));
	assert_int_equal(d.sheet->end_count, 0);
	drawing_close(&d);
}

static void a_line_alone_has_no_wall(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path class='slit' d='M10 30H60'" LINE "/>"));
	assert_near(d.sheet->ends[0].near_end_mm, 50, 1e-9);
	assert_true(isinf(d.sheet->ends[0].near_wall_mm));
	assert_int_equal(d.sheet->ends[0].near_wall.outline, CUTLINT_NONE);
	drawing_close(&d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_closed_line_has_no_end),
		cmocka_unit_test(the_two_ends_of_a_path_with_a_gap_are_nearest_to_each_other),
		cmocka_unit_test(an_end_that_meets_another_end_is_at_no_distance),
		cmocka_unit_test(an_end_before_a_side_names_that_side),
		cmocka_unit_test(a_curve_is_no_wall_to_its_own_end),
		cmocka_unit_test(folds_and_guides_have_no_ends),
		cmocka_unit_test(a_line_alone_has_no_wall),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
