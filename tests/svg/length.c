/* Lengths: CSS Values and Units (absolute lengths), SVG 2, 8.9 (units). */
#include "svg/length.h"

#include "helper.h"

static double px(const char *text)
{
	struct svg_length length;
	if (!svg_length_parse(svg_scan_of(text), &length))
		fail_msg("'%s' is not read", text);
	return length.value;
}

static bool reads(const char *text)
{
	struct svg_length length;
	return svg_length_parse(svg_scan_of(text), &length);
}

static void absolute_units_are_those_of_css(void **state)
{
	(void)state;
	/* CSS Values and Units, absolute lengths: 1in = 2.54cm = 25.4mm = 101.6Q = 72pt = 6pc =
	 * 96px */
	assert_near(px("1in"), 96, 1e-12);
	assert_near(px("2.54cm"), 96, 1e-12);
	assert_near(px("25.4mm"), 96, 1e-12);
	assert_near(px("101.6Q"), 96, 1e-12);
	assert_near(px("72pt"), 96, 1e-12);
	assert_near(px("6pc"), 96, 1e-12);
	assert_near(px("96px"), 96, 1e-12);
	assert_near(px("96"), 96, 1e-12);
}

static void units_are_read_in_either_case_and_after_exponents(void **state)
{
	(void)state;
	/* CSS Values: units are ASCII case-insensitive */
	assert_near(px(" 1IN "), 96, 1e-12);
	assert_near(px("1e1mm"), px("10mm"), 1e-12);
	assert_near(px("1em"), 16, 1e-12); /* not an exponent */
	assert_near(px("-.5ex"), -4, 1e-12);
}

static void what_is_no_length_is_refused(void **state)
{
	(void)state;
	assert_false(reads(""));
	assert_false(reads("mm"));
	assert_false(reads("10 mm"));
	assert_false(reads("10furlong"));
	assert_false(reads("10mm x"));
	assert_false(reads("calc(1px + 1px)"));
}

static double resolve(const char *text, enum svg_direction direction)
{
	struct svg_length length;
	assert_true(svg_length_parse(svg_scan_of(text), &length));
	return svg_length_resolve(length, (struct svg_viewport){4000, 2000}, direction);
}

static void percentages_are_of_the_viewport(void **state)
{
	(void)state;
	/* SVG 2, 8.9: of the width, of the height, else of sqrt(w² + h²)/sqrt(2): 1 % is 31.62 */
	assert_near(resolve("1%", SVG_ACROSS), 40, 1e-9);
	assert_near(resolve("1%", SVG_DOWN), 20, 1e-9);
	assert_near(resolve("1%", SVG_OTHER), 31.6228, 1e-4);
	assert_near(resolve("7", SVG_OTHER), 7, 0);
}

static void a_length_that_needs_a_font_is_guessed_and_said(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<circle cx=\"2em\" r=\"5\"/>"));
	assert_box(&loaded, 0, 27, -5, 37, 5);
	assert_notice_at(&loaded, "length", NOTICE_NOTE, "2em");
	unload(&loaded);
}

static void a_bad_length_is_said_at_its_place_and_ignored(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<circle cx=\"wide\" cy=\"3\" r=\"5\"/>"));
	assert_box(&loaded, 0, -5, -2, 5, 8);
	assert_notice_at(&loaded, "length", NOTICE_ERROR, "wide");
	unload(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(absolute_units_are_those_of_css),
		cmocka_unit_test(units_are_read_in_either_case_and_after_exponents),
		cmocka_unit_test(what_is_no_length_is_refused),
		cmocka_unit_test(percentages_are_of_the_viewport),
		cmocka_unit_test(a_length_that_needs_a_font_is_guessed_and_said),
		cmocka_unit_test(a_bad_length_is_said_at_its_place_and_ignored),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
