/* Openings, measured by their largest inscribed circles as drawn. */
#include "drawing.h"

#include <stdio.h>

static const struct cutlint_hole *only_hole(struct drawing *d, const char *svg)
{
	drawing_open(d, svg);
	assert_int_equal(d->sheet->hole_count, 1);
	return &d->sheet->holes[0];
}

/* Within the 10 nm to which the circle's centre is looked for. */
static void a_circle_is_its_own_inscribed_circle(void **state)
{
	(void)state;
	struct drawing d;
	const struct cutlint_hole *hole =
		only_hole(&d, PAGE(100, 60, "<circle id='a' cx='40' cy='30' r='0.35'" LINE "/>"));
	assert_near(hole->diameter_mm, 0.7, 1e-5);
	assert_near(hole->centre.x, 40, 1e-5);
	assert_int_equal(hole->outline, drawing_outline(&d, "a"));
	drawing_close(&d);
}

/* The widest circle in an ellipse has the lesser half-axis as its radius. */
static void an_ellipse_is_as_wide_as_its_lesser_axis(void **state)
{
	(void)state;
	struct drawing d;
	const struct cutlint_hole *hole =
		only_hole(&d, PAGE(100, 60,
				   "<ellipse cx='40' cy='30' rx='3' ry='1'" LINE
				   "transform='rotate(31 40 30)'/>"));
	assert_near(hole->diameter_mm, 2, 1e-5);
	drawing_close(&d);
}

static void a_slot_is_as_wide_as_its_parallel_sides(void **state)
{
	(void)state;
	struct drawing d;
	const struct cutlint_hole *hole = only_hole(
		&d, PAGE(100, 60, "<rect x='40' y='30' width='12' height='0.4'" LINE "/>"));
	assert_near(hole->diameter_mm, 0.4, 1e-6);
	assert_near(hole->area_mm2, 4.8, 1e-9);
	assert_near(hole->box.right, 52, 1e-9);
	drawing_close(&d);
}

/* Inscribed circle of a triangle: r = 2 area / perimeter; sides 3, 4, 5 give r = 1. */
static void a_triangle_holds_its_incircle(void **state)
{
	(void)state;
	struct drawing d;
	const struct cutlint_hole *hole =
		only_hole(&d, PAGE(100, 60, "<path d='M40 30H43L40 34Z'" LINE "/>"));
	assert_near(hole->diameter_mm, 2, 1e-4);
	assert_near(hole->centre.x, 41, 1e-4);
	assert_near(hole->centre.y, 31, 1e-4);
	drawing_close(&d);
}

static void a_hole_with_a_loose_part_in_it_is_measured_round_that(void **state)
{
	(void)state;
	struct drawing d;
	const struct cutlint_hole *hole =
		only_hole(&d, PAGE(100, 60,
				   "<circle cx='40' cy='30' r='5' fill='red'/>"
				   "<circle cx='40' cy='30' r='3' fill='blue'/>"));
	assert_near(hole->diameter_mm, 2, 1e-3);
	drawing_close(&d);
}

static void windows_that_share_a_side_are_one_hole(void **state)
{
	(void)state;
	struct drawing d;
	const struct cutlint_hole *hole =
		only_hole(&d, PAGE(100, 60,
				   "<g" LINE "><rect x='40' y='30' width='2' height='4'/>"
				   "<rect id='b' x='42' y='30' width='2' height='4'/></g>"));
	assert_near(hole->diameter_mm, 4, 1e-4);
	assert_near(hole->area_mm2, 16, 1e-9);
	drawing_close(&d);
}

static void a_notch_in_the_edge_is_no_hole(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<circle cx='50' cy='-4.9' r='5'" LINE "/>"));
	assert_int_equal(d.sheet->hole_count, 0);
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_WINDOW), 1);
	drawing_close(&d);
}

static void an_open_line_makes_no_hole(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path d='M40 30H60V31H40.5'" LINE "/>"));
	assert_int_equal(d.sheet->hole_count, 0);
	drawing_close(&d);
}

/* Below the limit exact; above it some circle that is inside and above the limit too. */
static void holes_above_the_limit_are_bounded_from_below(void **state)
{
	(void)state;
	struct drawing d;
	drawing_read(&d, PAGE(100, 60,
			      "<g" LINE "><circle cx='20' cy='30' r='0.24'/>"
			      "<circle cx='50' cy='30' r='0.26'/><circle cx='80' cy='30' r='9'/>"
			      "</g>"));
	const struct sheet_question question = {.needs = CUTLINT_NEEDS_HOLES, .hole_limit_mm = 0.5};
	uint32_t crowded;
	d.sheet = sheet_build(d.arena, d.design, &d.facts, &question, &crowded);
	assert_non_null(d.sheet);
	assert_int_equal(d.sheet->hole_count, 3);
	assert_near(d.sheet->holes[0].diameter_mm, 0.48, 1e-5);
	const double radii[] = {0.24, 0.26, 9};
	for (int i = 1; i < 3; i++) {
		const struct cutlint_hole *hole = &d.sheet->holes[i];
		double off = hypot(hole->centre.x - (20 + 30 * i), hole->centre.y - 30);
		assert_true(hole->diameter_mm > 0.5);
		assert_true(off + hole->diameter_mm / 2 < radii[i] + 1e-5);
	}
	drawing_close(&d);
}

/* A regular hexagon's circle touches all sides; the first one names the hole, however it lies. */
static void a_hole_is_named_by_its_first_side_of_equally_near_ones(void **state)
{
	(void)state;
	for (int degrees = 0; degrees < 60; degrees += 7) {
		char svg[512], at[256] = "";
		for (int k = 0; k < 6; k++) {
			double angle = acos(-1) * (degrees / 180.0 + k / 3.0);
			size_t used = strlen(at);
			snprintf(at + used, sizeof(at) - used, "%.6f,%.6f ",
				 30.1234 + 0.2 * cos(angle), 20.4321 + 0.2 * sin(angle));
		}
		snprintf(svg, sizeof(svg), PAGE(100, 60, "<polygon id='a' points='%s'" LINE "/>"),
			 at);
		struct drawing d;
		const struct cutlint_hole *hole = only_hole(&d, svg);
		uint32_t outline = drawing_outline(&d, "a");
		assert_int_equal(hole->vertex, d.design->outlines[outline].first_vertex);
		drawing_close(&d);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_circle_is_its_own_inscribed_circle),
		cmocka_unit_test(an_ellipse_is_as_wide_as_its_lesser_axis),
		cmocka_unit_test(a_slot_is_as_wide_as_its_parallel_sides),
		cmocka_unit_test(a_triangle_holds_its_incircle),
		cmocka_unit_test(a_hole_with_a_loose_part_in_it_is_measured_round_that),
		cmocka_unit_test(windows_that_share_a_side_are_one_hole),
		cmocka_unit_test(a_notch_in_the_edge_is_no_hole),
		cmocka_unit_test(an_open_line_makes_no_hole),
		cmocka_unit_test(holes_above_the_limit_are_bounded_from_below),
		cmocka_unit_test(a_hole_is_named_by_its_first_side_of_equally_near_ones),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
