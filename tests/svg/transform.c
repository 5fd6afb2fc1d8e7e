/* Transform functions: CSS Transforms 1, sections 4, 8 and 13 (their matrices); SVG 2, 8.5. */
#include "svg/transform.h"

#include <math.h>

#include "helper.h"

static void is_matrix(const char *text, double a, double b, double c, double d, double e, double f)
{
	struct svg_matrix m;
	const char *bad;
	if (!svg_transform_parse(svg_scan_of(text), &m, &bad))
		fail_msg("'%s' is not read from '%s' on", text, bad);
	double got[] = {m.a, m.b, m.c, m.d, m.e, m.f}, wanted[] = {a, b, c, d, e, f};
	for (int i = 0; i < 6; i++)
		assert_near(got[i], wanted[i], 1e-12);
}

static void each_function_has_the_matrix_of_the_specification(void **state)
{
	(void)state;
	double half = sqrt(0.5);
	is_matrix("matrix(1 2 3 4 5 6)", 1, 2, 3, 4, 5, 6);
	is_matrix("translate(3)", 1, 0, 0, 1, 3, 0);
	is_matrix("translate(3,4)", 1, 0, 0, 1, 3, 4);
	is_matrix("scale(2)", 2, 0, 0, 2, 0, 0);
	is_matrix("scale(2 -3)", 2, 0, 0, -3, 0, 0);
	is_matrix("rotate(45)", half, half, -half, half, 0, 0);
	is_matrix("skewX(45)", 1, 0, 1, 1, 0, 0);
	is_matrix("skewY(45)", 1, 1, 0, 1, 0, 0);
	is_matrix("none", 1, 0, 0, 1, 0, 0);
	is_matrix("", 1, 0, 0, 1, 0, 0);
}

static void rotate_turns_about_its_centre(void **state)
{
	(void)state;
	/* CSS Transforms 1: translate(cx, cy) rotate(a) translate(-cx, -cy) */
	is_matrix("rotate(90 10 20)", 0, 1, -1, 0, 30, 10);
	is_matrix("rotate(-90,10,20)", 0, -1, 1, 0, -10, 30);
	is_matrix("rotate(180 5 5)", -1, 0, 0, -1, 10, 10);
}

static void quarter_turns_are_exact(void **state)
{
	(void)state;
	struct svg_matrix m;
	const char *bad;
	assert_true(svg_transform_parse(svg_scan_of("rotate(450)"), &m, &bad));
	assert_true(m.a == 0 && m.b == 1 && m.c == -1 && m.d == 0);
}

static void a_list_applies_from_right_to_left(void **state)
{
	(void)state;
	is_matrix("translate(10 0) scale(2)", 2, 0, 0, 2, 10, 0);
	is_matrix("scale(2),translate(10 0)", 2, 0, 0, 2, 20, 0);
	is_matrix("scale(-1 1)scale(1 -1)", -1, 0, 0, -1, 0, 0);
	is_matrix(" translate ( 1 , 2 ) \n rotate(0) ", 1, 0, 0, 1, 1, 2);
}

static void css_units_are_read(void **state)
{
	(void)state;
	is_matrix("rotate(0.25turn)", 0, 1, -1, 0, 0, 0);
	is_matrix("rotate(100grad)", 0, 1, -1, 0, 0, 0);
	is_matrix("skewX(45deg)", 1, 0, 1, 1, 0, 0);
	is_matrix("translate(1in, 48px)", 1, 0, 0, 1, 96, 48);
	is_matrix("translateX(2) translateY(3px) scaleX(4) scaleY(5)", 4, 0, 0, 5, 2, 3);
}

static void is_bad_at(const char *text, int offset)
{
	struct svg_matrix m;
	const char *bad = NULL;
	assert_false(svg_transform_parse(svg_scan_of(text), &m, &bad));
	assert_int_equal(bad - text, offset);
}

static void a_mistake_is_found_at_its_place(void **state)
{
	(void)state;
	is_bad_at("rotate(45) foo(3)", 11);
	is_bad_at("rotate 45", 0);
	is_bad_at("matrix(1 2 3 4 5)", 16);
	is_bad_at("rotate(1 2)", 10);
	is_bad_at("scale(1 2 3)", 10);
	is_bad_at("translate(a)", 10);
}

static void a_bad_list_is_said_and_ignored_as_a_whole(void **state)
{
	(void)state;
	struct loaded loaded = load(
		DRAWING("<rect width=\"1\" height=\"1\" transform=\"translate(50 50) bend(3)\"/>"));
	assert_box(&loaded, 0, 0, 0, 1, 1);
	assert_notice_at(&loaded, "transform", NOTICE_ERROR, "bend(3)");
	unload(&loaded);
}

static void transforms_nest_and_the_matrix_is_kept(void **state)
{
	(void)state;
	struct loaded loaded = load(
		DRAWING("<g transform=\"translate(10,20)\"><rect id=\"r\" width=\"2\" height=\"4\" "
			"transform=\"rotate(90)\"/></g>"));
	assert_no_notices(&loaded);
	assert_box(&loaded, 0, 6, 20, 10, 22);
	const double expected[] = {0, 1, -1, 0, 10, 20};
	for (int i = 0; i < 6; i++)
		assert_near(shape_of(&loaded, "r")->matrix[i], expected[i], 1e-9);
	unload(&loaded);
}

static void what_a_transform_flattens_is_not_burned(void **state)
{
	(void)state;
	/* CSS Transforms 1, 8: a matrix that can't be inverted: the element is not displayed */
	struct loaded loaded =
		load(DRAWING("<rect id=\"r\" width=\"1\" height=\"1\" transform=\"scale(0 1)\"/>"));
	assert_notice_at(&loaded, "transform", NOTICE_WARNING, "scale(0 1)");
	assert_int_equal(shape_of(&loaded, "r")->unburned, CUTLINT_UNBURNED_DISPLAY);
	unload(&loaded);
}

static void style_beats_the_attribute_and_an_origin_is_heeded(void **state)
{
	(void)state;
	/* SVG 2, 6.6: presentation attributes come before the style attribute */
	struct loaded loaded =
		load(DRAWING("<rect width=\"2\" height=\"2\" transform=\"scale(9)\" "
			     "style=\"transform: translate(5px, 6px)\"/>"
			     "<rect width=\"2\" height=\"4\" transform=\"rotate(90)\" "
			     "transform-origin=\"2 4\"/>"
			     "<rect width=\"2\" height=\"4\" transform=\"scale(2)\" "
			     "style=\"transform-origin: right 50%\"/>"));
	assert_no_notices(&loaded);
	assert_box(&loaded, 0, 5, 6, 7, 8);
	assert_box(&loaded, 1, 2, 2, 6, 4);
	assert_box(&loaded, 2, -100, -50, -96, -42);
	unload(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(each_function_has_the_matrix_of_the_specification),
		cmocka_unit_test(rotate_turns_about_its_centre),
		cmocka_unit_test(quarter_turns_are_exact),
		cmocka_unit_test(a_list_applies_from_right_to_left),
		cmocka_unit_test(css_units_are_read),
		cmocka_unit_test(a_mistake_is_found_at_its_place),
		cmocka_unit_test(a_bad_list_is_said_and_ignored_as_a_whole),
		cmocka_unit_test(transforms_nest_and_the_matrix_is_kept),
		cmocka_unit_test(what_a_transform_flattens_is_not_burned),
		cmocka_unit_test(style_beats_the_attribute_and_an_origin_is_heeded),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
