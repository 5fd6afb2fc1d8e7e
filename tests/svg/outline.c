/* Outlines: vertices, which command owns them, and when an outline is closed. */
#include <math.h>

#include "helper.h"

static const struct cutlint_outline *outline(const struct loaded *loaded, uint32_t i)
{
	assert_true(i < loaded->design->outline_count);
	return &loaded->design->outlines[i];
}

static void closepath_closes_and_owns_the_closing_side(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<path d=\"M1 2H11V12z\"/>"));
	assert_no_notices(&loaded);
	assert_true(outline(&loaded, 0)->closed);
	assert_int_equal(outline(&loaded, 0)->vertex_count, 3);
	assert_int_equal(outline(&loaded, 0)->command_count, 3);
	assert_command_at(&loaded, 0, 0, "H11");
	assert_command_at(&loaded, 0, 1, "V12");
	assert_command_at(&loaded, 0, 2, "z\"");
	assert_int_equal(loaded.design->commands[2].first_vertex, 2);
	assert_near(cutlint_outline_area(loaded.design, 0), 50, 1e-6);
	unload(&loaded);
}

static void an_outline_that_ends_at_its_start_is_closed(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<path d=\"M1 1L5 1 5 5 1 1 M9 9L5 9 5 5 9 8.9\"/>"));
	assert_no_notices(&loaded);
	assert_true(outline(&loaded, 0)->closed);
	assert_int_equal(outline(&loaded, 0)->vertex_count, 3);
	assert_false(outline(&loaded, 1)->closed);
	assert_int_equal(outline(&loaded, 1)->vertex_count, 4);
	unload(&loaded);
}

static void implicit_repeats_point_at_their_first_number(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<path d=\"M1 1 22 1L 33,4,44,5\"/>"));
	assert_command_at(&loaded, 0, 0, "22 1L");
	assert_command_at(&loaded, 0, 1, "L 33");
	assert_command_at(&loaded, 0, 2, "44,5");
	unload(&loaded);
}

static void equal_neighbours_are_dropped_with_their_command(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<path d=\"M1 1L1 1 5 1 5 1 5.0000001 1V8\"/>"));
	assert_int_equal(outline(&loaded, 0)->vertex_count, 3);
	assert_int_equal(outline(&loaded, 0)->command_count, 2);
	assert_command_at(&loaded, 0, 0, "5 1 5 1");
	assert_command_at(&loaded, 0, 1, "V8");
	unload(&loaded);
}

static void a_subpath_of_length_0_is_one_vertex(void **state)
{
	(void)state;
	/* SVG 2, 9.5.3 (zero-length path segments): legal, and dots with round caps */
	struct loaded loaded = load(DRAWING("<path d=\"M1 1z M2 2L2 2 M3 3 M4 4c0 0 0 0 0 0\"/>"));
	assert_no_notices(&loaded);
	assert_int_equal(loaded.design->outline_count, 3);
	for (uint32_t i = 0; i < 3; i++)
		assert_int_equal(outline(&loaded, i)->vertex_count, 1);
	assert_vertex(&loaded, 2, 0, 4, 4);
	assert_command_at(&loaded, 0, 0, "z M2");
	assert_command_at(&loaded, 1, 0, "L2 2");
	unload(&loaded);
}

static void drawing_goes_on_at_the_start_after_a_closepath(void **state)
{
	(void)state;
	/* SVG 2, 9.3.4 */
	struct loaded loaded = load(DRAWING("<path d=\"M10 10h5v5z z l-5 0\"/>"));
	assert_int_equal(loaded.design->outline_count, 2);
	assert_vertex(&loaded, 1, 0, 10, 10);
	assert_vertex(&loaded, 1, 1, 5, 10);
	assert_false(outline(&loaded, 1)->closed);
	unload(&loaded);
}

static void a_curve_ends_exactly_and_keeps_within_the_flatness(void **state)
{
	(void)state;
	/* a quadratic has the closed form P(t) = (100t, 200t(1-t)): y = 2x(1 - x/100) */
	struct loaded loaded = load(DRAWING("<path d=\"M0 0Q50 100 100 0\"/>"));
	const struct cutlint_outline *line = outline(&loaded, 0);
	assert_vertex(&loaded, 0, 0, 0, 0);
	assert_vertex(&loaded, 0, line->vertex_count - 1, 100, 0);
	for (uint32_t i = 0; i + 1 < line->vertex_count; i++) {
		struct cutlint_xy a = vertex(&loaded, 0, i), b = vertex(&loaded, 0, i + 1);
		double x = (a.x + b.x) / 2, y = (a.y + b.y) / 2;
		/* at 100 steps the bound is met exactly; the vertices' rounding comes on top */
		assert_near(y, 2 * x * (1 - x / 100), 0.005 + 1e-6);
		assert_near(a.y, 2 * a.x * (1 - a.x / 100), 2e-6);
	}
	unload(&loaded);
}

static void curves_know_the_true_curve_of_each_side(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<path d=\"M0 0L10 0A5 5 0 0 1 20 0\"/>"));
	const struct cutlint_command *commands = loaded.design->commands;
	assert_int_equal(commands[0].curve, CUTLINT_NONE);
	assert_int_equal(commands[1].curve, 0);
	const struct curve *curve = &loaded.design->priv->curves[0];
	assert_int_equal(curve->kind, CURVE_ARC);
	assert_int_equal(curve->pieces, outline(&loaded, 0)->vertex_count - 2);
	for (uint32_t i = 0; i <= curve->pieces; i++) {
		struct cutlint_xy at = curve_at(curve, (double)i / curve->pieces);
		assert_vertex(&loaded, 0, commands[1].first_vertex + i, at.x, at.y);
	}
	unload(&loaded);
}

static void a_circle_has_the_length_and_area_of_its_formulas(void **state)
{
	(void)state;
	/* 2πr and πr²; a chord of height h ≤ 0.005 mm takes off at most 2h/r of the area */
	const double pi = 3.14159265358979323846;
	struct loaded loaded = load(DRAWING("<circle cx=\"50\" cy=\"50\" r=\"40\"/>"));
	assert_true(outline(&loaded, 0)->closed);
	assert_near(cutlint_outline_length(loaded.design, 0), 80 * pi, 80 * pi * 0.005 / 40);
	assert_near(cutlint_outline_area(loaded.design, 0), 1600 * pi, 1600 * pi * 0.01 / 40);
	assert_box(&loaded, 0, 10, 10, 90, 90);
	unload(&loaded);
}

static void every_vertex_belongs_to_a_command_in_order(void **state)
{
	(void)state;
	struct loaded loaded = load(
		DRAWING("<path d=\"M0 0L9 0c1 1 2 2 3 9a5 5 0 1 1 3 3 2 2 0 0 0 1 1z"
			"m30 30q3 3 9 0t4 4z\"/><circle r=\"3\"/><rect width=\"4\" height=\"3\" "
			"rx=\"1\"/>"));
	const struct cutlint_design *design = loaded.design;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		const struct cutlint_outline *line = outline(&loaded, i);
		const struct cutlint_command *first = &design->commands[line->first_command];
		assert_true(line->command_count > 0);
		assert_int_equal(first->first_vertex, line->first_vertex);
		for (uint32_t k = 1; k < line->command_count; k++) {
			assert_true(first[k].first_vertex > first[k - 1].first_vertex);
			assert_true(first[k].first_vertex <
				    line->first_vertex + line->vertex_count);
		}
	}
	unload(&loaded);
}

static void a_mistake_in_path_data_is_said_at_its_byte(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<path d=\"M1 1 L 5 5 6 ?\"/>"));
	assert_int_equal(outline(&loaded, 0)->vertex_count, 2);
	const struct notice *notice = assert_notice_at(&loaded, "path-data", NOTICE_ERROR, "?\"");
	assert_non_null(notice->element);
	unload(&loaded);
	loaded = load(DRAWING("<polyline points=\"1 1 5 5 6\"/>"));
	assert_notice_at(&loaded, "points", NOTICE_ERROR, "6\"");
	unload(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(closepath_closes_and_owns_the_closing_side),
		cmocka_unit_test(an_outline_that_ends_at_its_start_is_closed),
		cmocka_unit_test(implicit_repeats_point_at_their_first_number),
		cmocka_unit_test(equal_neighbours_are_dropped_with_their_command),
		cmocka_unit_test(a_subpath_of_length_0_is_one_vertex),
		cmocka_unit_test(drawing_goes_on_at_the_start_after_a_closepath),
		cmocka_unit_test(a_curve_ends_exactly_and_keeps_within_the_flatness),
		cmocka_unit_test(curves_know_the_true_curve_of_each_side),
		cmocka_unit_test(a_circle_has_the_length_and_area_of_its_formulas),
		cmocka_unit_test(every_vertex_belongs_to_a_command_in_order),
		cmocka_unit_test(a_mistake_in_path_data_is_said_at_its_byte),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
