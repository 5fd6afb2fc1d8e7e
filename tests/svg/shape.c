/* Basic shapes: SVG 2, chapter 10. */
#include <math.h>

#include "helper.h"

static uint32_t outlines_of(const struct loaded *loaded)
{
	assert_non_null(loaded->design);
	return loaded->design->outline_count;
}

static void a_rect_runs_clockwise_from_its_corner(void **state)
{
	(void)state;
	/* SVG 2, 10.2: the equivalent path */
	struct loaded loaded = load(DRAWING("<rect x=\"1\" y=\"2\" width=\"10\" height=\"20\"/>"));
	assert_no_notices(&loaded);
	assert_int_equal(loaded.design->outlines[0].vertex_count, 4);
	assert_true(loaded.design->outlines[0].closed);
	assert_vertex(&loaded, 0, 0, 1, 2);
	assert_vertex(&loaded, 0, 1, 11, 2);
	assert_vertex(&loaded, 0, 2, 11, 22);
	assert_vertex(&loaded, 0, 3, 1, 22);
	assert_near(cutlint_outline_area(loaded.design, 0), 200, 1e-9);
	assert_command_at(&loaded, 0, 3, "<rect");
	unload(&loaded);
}

/*
 * Corner radii as the area tells them: w·h - (4 - π)·rx·ry. Chords take off at most the flatness
 * times the length of the four arcs.
 */
static void area_is(const char *rect, double rx, double ry)
{
	const double pi = 3.14159265358979323846;
	struct loaded loaded = load(rect);
	assert_near(cutlint_outline_area(loaded.design, 0), 40 * 20 - (4 - pi) * rx * ry,
		    0.005 * 2 * pi * fmax(rx, ry) + 1e-6);
	unload(&loaded);
}

#define RECT(radii) DRAWING("<rect width=\"40\" height=\"20\" " radii "/>")

static void corner_radii_follow_each_other_and_are_clamped(void **state)
{
	(void)state;
	/* SVG 2, 10.2: auto copies the other one; at most half the side */
	area_is(RECT("rx=\"5\""), 5, 5);
	area_is(RECT("ry=\"5\""), 5, 5);
	area_is(RECT("rx=\"5\" ry=\"auto\""), 5, 5);
	area_is(RECT("rx=\"8\" ry=\"2\""), 8, 2);
	area_is(RECT("rx=\"30\""), 20, 10);
	area_is(RECT("rx=\"30\" ry=\"4\""), 20, 4);
	area_is(RECT("rx=\"0\" ry=\"5\""), 0, 0);
	area_is(RECT("rx=\"-3\" ry=\"5\""), 5, 5);
	area_is(RECT("rx=\"10%\""), 10, 10);
	area_is(RECT("style=\"rx:5px\""), 5, 5);
}

static void a_rounded_rect_starts_behind_its_corner(void **state)
{
	(void)state;
	struct loaded loaded = load(RECT("rx=\"8\" ry=\"2\""));
	assert_vertex(&loaded, 0, 0, 8, 0);
	assert_vertex(&loaded, 0, 1, 32, 0);
	assert_box(&loaded, 0, 0, 0, 40, 20);
	unload(&loaded);
}

static void a_size_of_0_draws_nothing_and_a_negative_one_is_an_error(void **state)
{
	(void)state;
	struct loaded loaded =
		load(DRAWING("<rect width=\"0\" height=\"5\"/><circle r=\"0\"/><circle/>"
			     "<ellipse rx=\"3\" ry=\"0\"/><ellipse/><rect height=\"3\"/>"));
	assert_no_notices(&loaded);
	assert_int_equal(outlines_of(&loaded), 0);
	unload(&loaded);
	loaded = load(DRAWING("<rect width=\"-1\" height=\"5\"/><circle r=\"-2\"/>"));
	assert_int_equal(outlines_of(&loaded), 0);
	assert_int_equal(count_notices(&loaded, "length"), 2);
	assert_int_equal(notice_of(&loaded, "length")->level, NOTICE_ERROR);
	unload(&loaded);
}

static void an_ellipse_takes_a_missing_radius_from_the_other(void **state)
{
	(void)state;
	/* SVG 2, 10.4: auto */
	struct loaded loaded = load(DRAWING("<ellipse cx=\"50\" cy=\"50\" rx=\"10\"/>"
					    "<ellipse cx=\"50\" cy=\"50\" rx=\"10\" ry=\"20\"/>"));
	assert_box(&loaded, 0, 40, 40, 60, 60);
	assert_box(&loaded, 1, 40, 30, 60, 70);
	assert_vertex(&loaded, 1, 0, 60, 50);
	unload(&loaded);
}

static void a_line_has_no_inside(void **state)
{
	(void)state;
	/* SVG 2, 10.5: fill has no effect on a line */
	struct loaded loaded =
		load(DRAWING("<line id=\"a\" x1=\"1\" y1=\"2\" x2=\"10%\" y2=\"4\" fill=\"red\"/>"
			     "<line id=\"b\" x2=\"3\" stroke=\"red\"/>"));
	assert_no_notices(&loaded);
	assert_vertex(&loaded, 0, 0, 1, 2);
	assert_vertex(&loaded, 0, 1, 10, 4);
	assert_int_equal(shape_of(&loaded, "a")->unburned, CUTLINT_UNBURNED_PAINT);
	assert_int_equal(shape_of(&loaded, "b")->unburned, CUTLINT_BURNED);
	assert_false(loaded.design->outlines[0].closed);
	unload(&loaded);
}

static void a_polygon_closes_and_a_polyline_does_not(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<polygon points=\"1,1 9,1 9,9\"/>"
					    "<polyline points=\"1,1 9,1 9,9\"/>"));
	assert_no_notices(&loaded);
	assert_true(loaded.design->outlines[0].closed);
	assert_false(loaded.design->outlines[1].closed);
	assert_command_at(&loaded, 0, 1, "9,9");
	assert_command_at(&loaded, 0, 2, "1,1 9,1 9,9\"/><polyline");
	unload(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_rect_runs_clockwise_from_its_corner),
		cmocka_unit_test(corner_radii_follow_each_other_and_are_clamped),
		cmocka_unit_test(a_rounded_rect_starts_behind_its_corner),
		cmocka_unit_test(a_size_of_0_draws_nothing_and_a_negative_one_is_an_error),
		cmocka_unit_test(an_ellipse_takes_a_missing_radius_from_the_other),
		cmocka_unit_test(a_line_has_no_inside),
		cmocka_unit_test(a_polygon_closes_and_a_polyline_does_not),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
