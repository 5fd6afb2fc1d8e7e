/* Style: SVG 2, chapters 6 and 13; CSS Cascade (order of origins, specificity, importance). */
#include "helper.h"

#define R(id, more) "<rect id=\"" id "\" width=\"1\" height=\"1\" " more "/>"

static void the_initial_style_is_a_black_fill(void **state)
{
	(void)state;
	/* SVG 2, 13.4 and 13.5: fill black, stroke none, stroke-width 1, fill-rule nonzero */
	struct loaded loaded = load(DRAWING(R("a", "")));
	const struct cutlint_shape *shape = shape_of(&loaded, "a");
	assert_int_equal(shape->fill.kind, CUTLINT_PAINT_COLOUR);
	assert_int_equal(shape->fill.rgb, 0);
	assert_int_equal(shape->stroke.kind, CUTLINT_PAINT_NONE);
	assert_near(shape->stroke_width_mm, 1, 1e-12);
	assert_int_equal(shape->fill_rule, CUTLINT_FILL_NONZERO);
	assert_false(shape->dashed);
	assert_false(shape->clipped);
	assert_int_equal(shape->unburned, CUTLINT_BURNED);
	assert_int_equal(shape->role, CUTLINT_ROLE_ART);
	assert_false(shape->role_named);
	unload(&loaded);
}

static void paint_properties_are_inherited(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING(
		"<g fill=\"none\" stroke=\"#123456\" stroke-width=\"2\" fill-rule=\"evenodd\" "
		"stroke-dasharray=\"3 1\">" R("a", "")
			R("b", "fill=\"red\" stroke-dasharray=\"none\" stroke=\"inherit\" "
			       "stroke-width=\"initial\"") "</g>"));
	assert_no_notices(&loaded);
	const struct cutlint_shape *a = shape_of(&loaded, "a"), *b = shape_of(&loaded, "b");
	assert_int_equal(a->fill.kind, CUTLINT_PAINT_NONE);
	assert_int_equal(a->stroke.rgb, 0x123456);
	assert_near(a->stroke_width_mm, 2, 1e-12);
	assert_int_equal(a->fill_rule, CUTLINT_FILL_EVENODD);
	assert_true(a->dashed);
	assert_int_equal(b->fill.rgb, 0xff0000);
	assert_int_equal(b->stroke.rgb, 0x123456);
	assert_near(b->stroke_width_mm, 1, 1e-12);
	assert_false(b->dashed);
	unload(&loaded);
}

static void the_style_attribute_beats_presentation_attributes(void **state)
{
	(void)state;
	/* SVG 2, 6.6; a declaration that is not valid doesn't count, a repeated one wins */
	struct loaded loaded =
		load(DRAWING(R("a", "fill=\"red\" style=\"fill:blue\"")
				     R("b", "fill=\"red\" style=\" ; fill : lime ;fill:navy;\"")
					     R("c", "style=\"fill:red!important;fill:blue\"")
						     R("d", "style=\"FILL:/* no */red\"")));
	assert_no_notices(&loaded);
	assert_int_equal(shape_of(&loaded, "a")->fill.rgb, 0x0000ff);
	assert_int_equal(shape_of(&loaded, "b")->fill.rgb, 0x000080);
	assert_int_equal(shape_of(&loaded, "c")->fill.rgb, 0xff0000);
	assert_int_equal(shape_of(&loaded, "d")->fill.rgb, 0xff0000);
	unload(&loaded);
}

static void what_is_no_value_is_said_and_does_not_count(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING(R("a", "fill=\"red\" style=\"fill:bleu\"")));
	assert_int_equal(shape_of(&loaded, "a")->fill.rgb, 0xff0000);
	assert_int_equal(notice_of(&loaded, "style")->level, NOTICE_WARNING);
	unload(&loaded);
	/* !important in an attribute makes it invalid */
	loaded = load(DRAWING(R("a", "fill=\"red !important\"")));
	assert_int_equal(shape_of(&loaded, "a")->fill.rgb, 0);
	assert_notice_at(&loaded, "style", NOTICE_WARNING, "red !important");
	unload(&loaded);
}

static void reasons_not_to_burn_are_named(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<g display=\"none\">" R(
		"a",
		"display=\"inline\"") "</g>"
				      "<g visibility=\"hidden\">" R("b", "") R(
					      "c",
					      "visibility=\"visible\"") "</g>"
									"<g opacity=\"0\">" R("d", "opacity=\"1\"") "</g>" R(
										"e",
										"fill=\"none\"") R("f",
												   "fill=\"transparent\"")
										R("g",
										  "fill-"
										  "opacity="
										  "\"0%\"") R("h",
											      "fill"
											      "="
											      "\"no"
											      "ne\""
											      " "
											      "stro"
											      "ke="
											      "\"re"
											      "d\" "
											      "stro"
											      "ke-"
											      "widt"
											      "h="
											      "\"0"
											      "\"") R("i",
												      "fill=\"white\"")
											R("j",
											  "sty"
											  "le="
											  "\"d"
											  "isp"
											  "lay"
											  ":no"
											  "ne"
											  "\"") R("k",
												  "fi"
												  "ll"
												  "="
												  "\""
												  "no"
												  "ne"
												  "\""
												  " s"
												  "tr"
												  "ok"
												  "e="
												  "\""
												  "re"
												  "d"
												  "\""
												  " "
												  "st"
												  "ro"
												  "ke"
												  "-o"
												  "pa"
												  "ci"
												  "ty"
												  "="
												  "\""
												  "0"
												  "\"")
												R("l",
												  "visibility=\"collapse\"")));
	assert_no_notices(&loaded);
	assert_int_equal(shape_of(&loaded, "a")->unburned, CUTLINT_UNBURNED_DISPLAY);
	assert_int_equal(shape_of(&loaded, "b")->unburned, CUTLINT_UNBURNED_VISIBILITY);
	assert_int_equal(shape_of(&loaded, "c")->unburned, CUTLINT_BURNED);
	assert_int_equal(shape_of(&loaded, "d")->unburned, CUTLINT_UNBURNED_OPACITY);
	assert_int_equal(shape_of(&loaded, "e")->unburned, CUTLINT_UNBURNED_PAINT);
	assert_int_equal(shape_of(&loaded, "f")->unburned, CUTLINT_UNBURNED_PAINT);
	assert_int_equal(shape_of(&loaded, "g")->unburned, CUTLINT_UNBURNED_PAINT);
	assert_int_equal(shape_of(&loaded, "h")->unburned, CUTLINT_UNBURNED_PAINT);
	assert_int_equal(shape_of(&loaded, "i")->unburned, CUTLINT_BURNED);
	assert_int_equal(shape_of(&loaded, "j")->unburned, CUTLINT_UNBURNED_DISPLAY);
	assert_int_equal(shape_of(&loaded, "k")->unburned, CUTLINT_UNBURNED_PAINT);
	assert_int_equal(shape_of(&loaded, "l")->unburned, CUTLINT_UNBURNED_VISIBILITY);
	assert_int_equal(shape_of(&loaded, "a")->outline_count, 1);
	unload(&loaded);
}

static void current_colour_is_that_of_the_element(void **state)
{
	(void)state;
	/* CSS Color 4, 9.1: currentcolor is inherited as a word */
	struct loaded loaded = load(DRAWING("<g color=\"red\" fill=\"currentColor\">" R("a", "")
						    R("b", "color=\"blue\"") "</g>"));
	assert_int_equal(shape_of(&loaded, "a")->fill.rgb, 0xff0000);
	assert_int_equal(shape_of(&loaded, "b")->fill.rgb, 0x0000ff);
	unload(&loaded);
}

static void clips_and_masks_mark_all_that_is_in_them(void **state)
{
	(void)state;
	struct loaded loaded =
		load(DRAWING("<clipPath id=\"c\"/><mask id=\"m\"/><g clip-path=\"url(#c)\">" R(
			"a", "clip-path=\"none\"") "</g>" R("b", "style=\"mask:url(#m)\"")
				     R("c", "clip-path=\"none\" mask=\"none\"")));
	assert_true(shape_of(&loaded, "a")->clipped);
	assert_true(shape_of(&loaded, "b")->clipped);
	assert_false(shape_of(&loaded, "c")->clipped);
	unload(&loaded);
}

static void stroke_widths_scale_unless_they_are_fixed(void **state)
{
	(void)state;
	/* SVG 2, 8.13, non-scaling-stroke: 1 px is 25.4/96 mm */
	struct loaded loaded = load(DRAWING(
		"<g stroke=\"red\" transform=\"scale(4 9)\">" R("a", "stroke-width=\"2\"")
			R("b", "stroke-width=\"2\" vector-effect=\"non-scaling-stroke\"") "</g>" R(
				"c", "stroke-width=\"1%\"")));
	assert_near(shape_of(&loaded, "a")->stroke_width_mm, 12, 1e-9); /* 2·√(4·9) */
	assert_near(shape_of(&loaded, "b")->stroke_width_mm, 2 * 25.4 / 96, 1e-9);
	assert_near(shape_of(&loaded, "c")->stroke_width_mm, 1, 1e-9);
	unload(&loaded);
}

static void stroke_widths_have_all_units(void **state)
{
	(void)state;
	/* CSS Values 4, 6.2: 1in = 96px; the user unit is 1 mm here, 96/25.4 px */
	struct loaded loaded = load(DRAWING(
		"<g stroke='red'>" R("in", "stroke-width='0.5in'")
			R("pt", "style='stroke-width:36pt'") R("pc", "stroke-width='3pc'") R(
				"mm", "stroke-width='12.7mm'") R("cm", "stroke-width='1.27cm'")
				R("q", "style='stroke-width:50.8q'") R("px", "stroke-width='48px'")
					R("none", "stroke-width='48'") "</g>"));
	static const char *const IDS[] = {"in", "pt", "pc", "mm", "cm", "q", "px", "none"};
	assert_no_notices(&loaded);
	for (size_t i = 0; i < sizeof(IDS) / sizeof(*IDS); i++)
		assert_near(shape_of(&loaded, IDS[i])->stroke_width_mm, 48, 1e-9);
	unload(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_initial_style_is_a_black_fill),
		cmocka_unit_test(paint_properties_are_inherited),
		cmocka_unit_test(the_style_attribute_beats_presentation_attributes),
		cmocka_unit_test(what_is_no_value_is_said_and_does_not_count),
		cmocka_unit_test(reasons_not_to_burn_are_named),
		cmocka_unit_test(current_colour_is_that_of_the_element),
		cmocka_unit_test(clips_and_masks_mark_all_that_is_in_them),
		cmocka_unit_test(stroke_widths_scale_unless_they_are_fixed),
		cmocka_unit_test(stroke_widths_have_all_units),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
