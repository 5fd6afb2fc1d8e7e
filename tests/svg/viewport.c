/* The page, viewBox and preserveAspectRatio: SVG 2, 8.2, 8.6, 8.7, 8.12; CSS Values (1in = 96px).
 */
#include "svg/viewport.h"

#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "helper.h"

#define LINE "<path stroke=\"red\" d=\"M0 0L10 20\"/>"

static void page_is(const char *attributes, double width, double height, bool physical)
{
	char text[512];
	snprintf(text, sizeof(text), ROOT_OPEN "%s>" LINE "</svg>", attributes);
	struct loaded loaded = load(text);
	assert_non_null(loaded.design);
	assert_near(loaded.design->page_width_mm, width, 1e-9);
	assert_near(loaded.design->page_height_mm, height, 1e-9);
	assert_int_equal(loaded.design->physical, physical);
	assert_int_equal(count_notices(&loaded, "physical-size"), !physical);
	unload(&loaded);
}

static void absolute_sizes_make_the_page(void **state)
{
	(void)state;
	page_is("width=\"210mm\" height=\"297mm\"", 210, 297, true);
	page_is("width=\"21cm\" height=\"11.692913385826772in\"", 210, 297, true);
	page_is("width=\"72pt\" height=\"6pc\"", 25.4, 25.4, true);
	page_is("width=\"96px\" height=\"192\"", 25.4, 50.8, true);
	page_is("style=\"width:10mm;height:40Q\"", 10, 10, true);
}

static void without_a_size_the_unit_is_a_96th_of_an_inch_and_that_is_an_error(void **state)
{
	(void)state;
	page_is("viewBox=\"0 0 96 192\"", 25.4, 50.8, false);
	page_is("width=\"100%\" height=\"100%\" viewBox=\"0 0 96 96\"", 25.4, 25.4, false);
	page_is("", 0, 0, false);
	page_is("width=\"50mm\"", 0, 0, false);

	struct loaded loaded = load(ROOT_OPEN "viewBox=\"-96 0 96 192\">" LINE "</svg>");
	const struct notice *notice =
		assert_notice_at(&loaded, "physical-size", NOTICE_ERROR, "<svg ");
	assert_non_null(strstr(notice->message, "25.40 x 50.80 mm"));
	assert_non_null(notice->suggestion);
	assert_vertex(&loaded, 0, 0, 25.4, 0);
	assert_vertex(&loaded, 0, 1, 25.4 + 2.645833333, 5.291666667);
	unload(&loaded);
}

static void the_unit_that_the_job_names_counts_only_without_a_size(void **state)
{
	(void)state;
	struct svg_options options = {.flatness_mm = 0.005, .unit_mm = 1};
	static const char *const TEXTS[] = {
		ROOT_OPEN "viewBox=\"0 0 30 40\">" LINE "</svg>",
		ROOT_OPEN "width=\"60mm\" height=\"80mm\" viewBox=\"0 0 30 40\">" LINE "</svg>",
	};
	for (int i = 0; i < 2; i++) {
		struct loaded loaded = load_with_options(TEXTS[i], strlen(TEXTS[i]), &options);
		assert_near(loaded.design->page_width_mm, i ? 60 : 30, 1e-9);
		assert_vertex(&loaded, 0, 1, i ? 20 : 10, i ? 40 : 20);
		unload(&loaded);
	}
}

static void one_size_and_a_view_box_give_the_other_with_a_warning(void **state)
{
	(void)state;
	/* CSS 2, replaced elements with an intrinsic ratio: 50 mm x 40/20 = 100 mm */
	struct loaded loaded =
		load(ROOT_OPEN "width=\"50mm\" viewBox=\"0 0 20 40\">" LINE "</svg>");
	assert_true(loaded.design->physical);
	assert_near(loaded.design->page_height_mm, 100, 1e-9);
	assert_int_equal(notice_of(&loaded, "physical-size")->level, NOTICE_WARNING);
	unload(&loaded);
}

static void a_page_of_size_0_is_an_error(void **state)
{
	(void)state;
	struct loaded loaded = load(ROOT_OPEN "width=\"0\" height=\"10mm\">" LINE "</svg>");
	assert_int_equal(notice_of(&loaded, "page-size")->level, NOTICE_ERROR);
	assert_near(loaded.design->page_width_mm, 0, 0);
	unload(&loaded);
	loaded = load(ROOT_OPEN "width=\"9mm\" height=\"10mm\" viewBox=\"0 0 0 5\">" LINE "</svg>");
	assert_int_equal(notice_of(&loaded, "page-size")->level, NOTICE_ERROR);
	unload(&loaded);
}

static void a_bad_view_box_counts_as_absent(void **state)
{
	(void)state;
	/* SVG 2, 8.6: a negative value is an error; the attribute is ignored */
	static const char *const BAD[] = {"0 0 -5 10", "0 0 10", "0 0 10 10 10", "0 0 a 10", ""};
	for (size_t i = 0; i < sizeof(BAD) / sizeof(*BAD); i++) {
		char text[256];
		snprintf(text, sizeof(text),
			 ROOT_OPEN "width=\"96\" height=\"96\" viewBox=\"%s\">" LINE "</svg>",
			 BAD[i]);
		struct loaded loaded = load(text);
		assert_int_equal(notice_of(&loaded, "view-box")->level, NOTICE_ERROR);
		assert_vertex(&loaded, 0, 1, 2.645833333, 5.291666667);
		unload(&loaded);
	}
}

/* A view box of 20 x 10 at 1,2 in a viewport of 100 x 100 at 0,0. */
static void maps(const char *align, double x0, double y0, double x1, double y1)
{
	struct svg_align parsed;
	assert_true(svg_align_parse(svg_scan_of(align), &parsed));
	struct svg_matrix matrix = svg_view_transform((struct svg_rectangle){1, 2, 20, 10}, parsed,
						      (struct svg_rectangle){0, 0, 100, 100});
	struct cutlint_xy a = svg_apply(&matrix, (struct cutlint_xy){1, 2});
	struct cutlint_xy b = svg_apply(&matrix, (struct cutlint_xy){21, 12});
	assert_near(a.x, x0, 1e-9);
	assert_near(a.y, y0, 1e-9);
	assert_near(b.x, x1, 1e-9);
	assert_near(b.y, y1, 1e-9);
}

static void every_alignment_follows_the_equivalent_transform(void **state)
{
	(void)state;
	/* SVG 2, 8.2: meet scales by min(5, 10) = 5, slice by 10; the rest is shared out */
	maps("none", 0, 0, 100, 100);
	maps("xMinYMin", 0, 0, 100, 50);
	maps("xMidYMin meet", 0, 0, 100, 50);
	maps("xMaxYMin", 0, 0, 100, 50);
	maps("xMinYMid", 0, 25, 100, 75);
	maps("xMidYMid", 0, 25, 100, 75);
	maps("xMaxYMid", 0, 25, 100, 75);
	maps("xMinYMax", 0, 50, 100, 100);
	maps("xMidYMax", 0, 50, 100, 100);
	maps("xMaxYMax", 0, 50, 100, 100);
	maps("xMinYMin slice", 0, 0, 200, 100);
	maps("xMidYMin slice", -50, 0, 150, 100);
	maps("xMaxYMin slice", -100, 0, 100, 100);
	maps("xMinYMid slice", 0, 0, 200, 100);
	maps("xMidYMid slice", -50, 0, 150, 100);
	maps("xMaxYMax slice", -100, 0, 100, 100);
}

static void the_default_alignment_is_the_middle(void **state)
{
	(void)state;
	/* SVG 2, 8.7; the page is 100 mm x 50 mm, so a square lies from 25 to 75 */
	struct loaded loaded = load(ROOT_OPEN "width=\"100mm\" height=\"50mm\" "
					      "viewBox=\"0 0 10 10\">"
					      "<rect width=\"10\" height=\"10\"/></svg>");
	assert_no_notices(&loaded);
	assert_box(&loaded, 0, 25, 0, 75, 50);
	unload(&loaded);
}

static void a_bad_alignment_is_said(void **state)
{
	(void)state;
	struct loaded loaded = load(ROOT_OPEN "width=\"100mm\" height=\"50mm\" viewBox=\"0 0 9 9\" "
					      "preserveAspectRatio=\"middle\"/>");
	assert_notice_at(&loaded, "view-box", NOTICE_ERROR, "middle");
	unload(&loaded);
}

static void a_nested_svg_has_its_own_viewport(void **state)
{
	(void)state;
	/* SVG 2, 8.2: x=20, 40 mm wide for 10 units: 4 mm a unit; the height follows: centred */
	struct loaded loaded = load(
		DRAWING("<svg x=\"20\" y=\"30\" width=\"40\" height=\"60\" viewBox=\"0 0 10 10\">"
			"<rect width=\"50%\" height=\"5\"/></svg>"));
	assert_no_notices(&loaded);
	assert_box(&loaded, 0, 20, 40, 40, 60);
	assert_false(loaded.design->shapes[0].clipped);
	unload(&loaded);
}

static void a_nested_viewport_follows_its_own_alignment(void **state)
{
	(void)state;
	/* SVG 2, 8.2: a box of 20 x 10 in a viewport of 40 x 40 at 10,10, as above */
	static const struct {
		const char *align;
		double left, top, right, bottom;
	} CASES[] = {
		{"none", 10, 10, 50, 50},
		{"xMinYMax", 10, 30, 50, 50},
		{"xMaxYMin slice", -30, 10, 50, 50},
		{"xMidYMid meet", 10, 20, 50, 40},
	};
	static const char *const BODIES[] = {
		"<svg x='10' y='10' width='40' height='40' viewBox='1 2 20 10' overflow='visible' "
		"preserveAspectRatio='%s'><rect x='1' y='2' width='20' height='10'/></svg>",
		"<defs><symbol id='s' viewBox='1 2 20 10' overflow='visible' "
		"preserveAspectRatio='%s'><rect x='1' y='2' width='20' "
		"height='10'/></symbol></defs>"
		"<use href='#s' x='10' y='10' width='40' height='40'/>",
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		for (int k = 0; k < 2; k++) {
			struct text text = {0};
			text_add_string(&text, ROOT_100MM);
			text_format(&text, k ? BODIES[1] : BODIES[0], CASES[i].align);
			text_add_string(&text, "</svg>");
			struct loaded loaded = load(text.bytes);
			assert_no_notices(&loaded);
			assert_box(&loaded, 0, CASES[i].left, CASES[i].top, CASES[i].right,
				   CASES[i].bottom);
			unload(&loaded);
			text_finish(&text);
		}
	}
}

static void percentages_are_of_the_nearest_viewport(void **state)
{
	(void)state;
	/* SVG 2, 8.9: of the view box where there is one; 'other' is √((50² + 50²)/2) = 50 */
	struct loaded loaded =
		load(DRAWING("<svg x='10%' width='50%' height='50%' overflow='visible'>"
			     "<circle cx='50%' cy='20%' r='10%'/><line x2='10%' y2='100%' "
			     "stroke='red'/></svg>"));
	assert_no_notices(&loaded);
	assert_box(&loaded, 0, 10 + 25 - 5, 10 - 5, 10 + 25 + 5, 10 + 5);
	assert_vertex(&loaded, 1, 1, 10 + 5, 50);
	unload(&loaded);
}

static void a_percentage_of_no_page_is_said(void **state)
{
	(void)state;
	struct loaded loaded = load(ROOT_OPEN "><rect width='50%' height='5'/></svg>");
	assert_notice_at(&loaded, "length", NOTICE_WARNING, "<rect");
	assert_int_equal(loaded.design->outline_count, 0);
	unload(&loaded);
}

static void a_nested_viewport_of_size_0_is_said_if_it_holds_something(void **state)
{
	(void)state;
	/* SVG 2, 8.6 and 7.4: a value of zero disables rendering */
	struct loaded loaded =
		load(DRAWING("<svg viewBox='0 0 0 5'><rect width='1' height='1'/></svg>"
			     "<svg height='0'><rect width='1' height='1'/></svg><svg width='0'/>"));
	assert_notice_at(&loaded, "viewport", NOTICE_WARNING, "<svg viewBox='0 0 0 5'");
	assert_int_equal(count_notices(&loaded, "viewport"), 2);
	assert_int_equal(loaded.design->shape_count, 0);
	unload(&loaded);
}

static void a_page_beyond_all_pages_is_an_error(void **state)
{
	(void)state;
	static const char *const SIZES[] = {
		"width='1e-320mm' height='5mm'",
		"width='5mm' height='1e7mm'",
		"viewBox='0 0 1e300 1e300'",
		"width='10mm' viewBox='0 0 1e-300 1e300'",
	};
	for (size_t i = 0; i < sizeof(SIZES) / sizeof(*SIZES); i++) {
		char text[256];
		snprintf(text, sizeof(text), ROOT_OPEN "%s>" LINE "</svg>", SIZES[i]);
		struct loaded loaded = load(text);
		assert_notice_at(&loaded, "page-size", NOTICE_ERROR, "<svg ");
		assert_near(loaded.design->page_width_mm, 0, 0);
		assert_near(loaded.design->page_height_mm, 0, 0);
		unload(&loaded);
	}
}

static void what_leaves_a_nested_viewport_is_clipped(void **state)
{
	(void)state;
	/* SVG 2, overflow: hidden for nested svg by the user agent style sheet */
	struct loaded loaded = load(DRAWING(
		"<svg width=\"10\" height=\"10\"><rect id=\"a\" width=\"11\" height=\"5\"/></svg>"
		"<svg width=\"10\" height=\"10\" overflow=\"visible\"><rect id=\"b\" width=\"11\" "
		"height=\"5\"/></svg>"));
	assert_true(shape_of(&loaded, "a")->clipped);
	assert_false(shape_of(&loaded, "b")->clipped);
	unload(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(absolute_sizes_make_the_page),
		cmocka_unit_test(without_a_size_the_unit_is_a_96th_of_an_inch_and_that_is_an_error),
		cmocka_unit_test(the_unit_that_the_job_names_counts_only_without_a_size),
		cmocka_unit_test(one_size_and_a_view_box_give_the_other_with_a_warning),
		cmocka_unit_test(a_page_of_size_0_is_an_error),
		cmocka_unit_test(a_bad_view_box_counts_as_absent),
		cmocka_unit_test(every_alignment_follows_the_equivalent_transform),
		cmocka_unit_test(the_default_alignment_is_the_middle),
		cmocka_unit_test(a_bad_alignment_is_said),
		cmocka_unit_test(a_nested_svg_has_its_own_viewport),
		cmocka_unit_test(a_nested_viewport_follows_its_own_alignment),
		cmocka_unit_test(percentages_are_of_the_nearest_viewport),
		cmocka_unit_test(a_percentage_of_no_page_is_said),
		cmocka_unit_test(a_nested_viewport_of_size_0_is_said_if_it_holds_something),
		cmocka_unit_test(a_page_beyond_all_pages_is_an_error),
		cmocka_unit_test(what_leaves_a_nested_viewport_is_clipped),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
