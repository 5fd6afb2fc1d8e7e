/* Colours: CSS Color 4, sections 4 to 7. */
#include "svg/colour.h"

#include "helper.h"

static void is_colour(const char *text, uint32_t rgb, double alpha)
{
	struct svg_paint paint;
	if (!svg_paint_parse(svg_scan_of(text), &paint))
		fail_msg("'%s' is not read", text);
	assert_int_equal(paint.kind, SVG_PAINT_COLOUR);
	assert_int_equal(paint.rgb, rgb);
	assert_near(paint.alpha, alpha, 0.003);
}

static void is_kind(const char *text, enum svg_paint_kind kind)
{
	struct svg_paint paint;
	assert_true(svg_paint_parse(svg_scan_of(text), &paint));
	assert_int_equal(paint.kind, kind);
}

static void hexadecimal_notations_are_read(void **state)
{
	(void)state;
	/* CSS Color 4, 5.2 */
	is_colour("#0fA", 0x00ffaa, 1);
	is_colour("#0fA8", 0x00ffaa, 0x88 / 255.0);
	is_colour("#123456", 0x123456, 1);
	is_colour(" #12345680 ", 0x123456, 0x80 / 255.0);
}

static void named_colours_are_read_in_any_case(void **state)
{
	(void)state;
	/* CSS Color 4, 6.1; the first, the last and some between */
	is_colour("aliceblue", 0xf0f8ff, 1);
	is_colour("RebeccaPurple", 0x663399, 1);
	is_colour("lightgoldenrodyellow", 0xfafad2, 1);
	is_colour("GRAY", 0x808080, 1);
	is_colour("grey", 0x808080, 1);
	is_colour("yellowgreen", 0x9acd32, 1);
	is_colour("transparent", 0, 0);
}

static void rgb_functions_are_read_in_both_syntaxes(void **state)
{
	(void)state;
	/* CSS Color 4, 5.1 */
	is_colour("rgb(255,0,127)", 0xff007f, 1);
	is_colour("rgb( 100% , 0% , 50% )", 0xff0080, 1);
	is_colour("rgb(300,-5,0)", 0xff0000, 1);
	is_colour("rgba(1,2,3,.5)", 0x010203, 0.5);
	is_colour("rgb(1 2 3 / 50%)", 0x010203, 0.5);
}

static void hsl_functions_follow_the_formula(void **state)
{
	(void)state;
	/* CSS Color 4, 7: hsl(120, 100%, 50%) is lime, 25 % lightness dark green; 7.1 the algorithm
	 */
	is_colour("hsl(120,100%,50%)", 0x00ff00, 1);
	is_colour("hsl(120deg 100% 25%)", 0x008000, 1);
	is_colour("hsl(-120,100%,50%)", 0x0000ff, 1);
	is_colour("hsl(1turn 100% 50% / .25)", 0xff0000, 0.25);
	is_colour("hsla(0,0%,50%,1)", 0x808080, 1);
}

static void paints_that_are_no_colour_are_told_apart(void **state)
{
	(void)state;
	is_kind("none", SVG_PAINT_NONE);
	is_kind("currentColor", SVG_PAINT_CURRENT);
	is_kind("url(#g)", SVG_PAINT_SERVER);
	is_kind("url(#g) red", SVG_PAINT_SERVER);
	is_kind("url(#g) none", SVG_PAINT_SERVER);
	is_kind("lab(50% 40 59.5)", SVG_PAINT_SERVER);
	is_kind("context-stroke", SVG_PAINT_SERVER);
	is_kind("#ff0000 icc-color(p, 1, 2)", SVG_PAINT_COLOUR);
}

static void what_is_no_paint_is_refused(void **state)
{
	(void)state;
	static const char *const BAD[] = {
		"",         "#12",       "#12345",        "#1234567890", "#ggg",     "bleu",
		"rgb(1,2)", "rgb(1,2,3", "red blue lime", "hsl(a,1,1)",  "none red", "rgb 1"};
	for (size_t i = 0; i < sizeof(BAD) / sizeof(*BAD); i++) {
		struct svg_paint paint;
		if (svg_paint_parse(svg_scan_of(BAD[i]), &paint))
			fail_msg("'%s' is read", BAD[i]);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(hexadecimal_notations_are_read),
		cmocka_unit_test(named_colours_are_read_in_any_case),
		cmocka_unit_test(rgb_functions_are_read_in_both_syntaxes),
		cmocka_unit_test(hsl_functions_follow_the_formula),
		cmocka_unit_test(paints_that_are_no_colour_are_told_apart),
		cmocka_unit_test(what_is_no_paint_is_refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
