/*
 * Necks of shapes whose least width has a closed form, and of shapes that have none. The formulas
 * follow from the definitions of circle, ellipse and distance; the ellipses' figures are the least
 * distance of two coaxial ellipses, by numeric minimisation. Chords of circles lie inside by the
 * sagitta R (1 - cos(π/n)), which is the tolerance here.
 *
 * What counts as a neck, a minimum of the radius along the medial axis or, the same, a critical
 * point of index 1 of the distance to the boundary (titles from memory): H. Blum, "A transformation
 * for extracting new descriptors of shape", 1967 (the axis); K. Siddiqi and others, "Shock graphs
 * and shape matching", International Journal of Computer Vision 35, 1999 (a shock of the second
 * order is a neck); A. Lieutier, "Any open bounded subset of R^n has the same homotopy type as its
 * medial axis", Computer-Aided Design 36, 2004 (critical points); H. Edelsbrunner and J. Harer,
 * "Computational Topology", 2010 (persistence).
 */
#include "drawing.h"

#define SIDES 2000

static const double pi = 3.14159265358979323846;

static double sagitta(double radius)
{
	return radius * (1 - cos(pi / SIDES));
}

/* The least of all necks; `tolerance` in mm. */
static void expect(struct drawing *drawing, double limit, uint32_t count, double width,
		   double tolerance)
{
	draw_search(drawing, limit);
	assert_int_equal(draw_count(drawing, GEO_NECK), count);
	assert_int_equal(drawing->necks.count, count);
	const struct geo_neck *neck = draw_narrowest(drawing, GEO_NECK);
	assert_true(fabs(neck->width * 1e-6 - width) <= tolerance + 2e-6);
}

/* R - r - e = 20 - 15 - 4.5; opposite, R - r + e is a maximum. Circles in plane geometry. */
static void an_eccentric_ring_is_narrowest_on_the_side_of_the_shift(void **state)
{
	(void)state;
	struct drawing d = draw_start(0.3);
	draw_ellipse(&d, 0, 0, 20, 20, SIDES, 0);
	draw_ellipse(&d, 4.5, 0, 15, 15, SIDES, 0);
	expect(&d, 12, 1, 0.5, sagitta(20) + sagitta(15));
	assert_true(draw_apart(&d, d.necks.items[0].feet[0].at, 19.75, 0) < 0.3);
	draw_finish(&d);
}

/* D - r1 - r2 = 10.6 - 5 - 5, on the line of the centres (Euclid, Elements III, 12). */
static void two_holes_are_their_distance_less_both_radii_apart(void **state)
{
	(void)state;
	struct drawing d = draw_start(1.1);
	draw_rectangle(&d, -40, -40, 80, 80);
	draw_ellipse(&d, 0, 0, 5, 5, SIDES, 0);
	draw_ellipse(&d, 10.6, 0, 5, 5, SIDES, 0);
	expect(&d, 3, 1, 0.6, 2 * sagitta(5));
	assert_true(draw_spans(&d, &d.necks.items[0], 5, 0, 5.6, 0, 0.01));
	draw_finish(&d);
}

/* c - r = 3.8 - 3, on the perpendicular from the centre (Euclid, Elements III, 18). */
static void a_hole_is_its_distance_less_its_radius_off_a_straight_edge(void **state)
{
	(void)state;
	struct drawing d = draw_start(2.2);
	draw_rectangle(&d, -40, -3.8, 80, 60);
	draw_ellipse(&d, 0, 0, 3, 3, SIDES, 0);
	expect(&d, 3, 1, 0.8, sagitta(3));
	draw_finish(&d);
}

/* A plate H = 20 mm high with bites of radius q = 9 mm from both long sides: H - 2q. */
static void an_hourglass_is_its_height_less_both_bites(void **state)
{
	(void)state;
	struct drawing d = draw_start(0.7);
	draw_begin(&d, true);
	draw_to(&d, -30, -10);
	for (int i = 0; i <= SIDES / 2; i++)
		draw_to(&d, -9 * cos(2 * pi * i / SIDES), -10 + 9 * sin(2 * pi * i / SIDES));
	draw_to(&d, 30, -10);
	draw_to(&d, 30, 10);
	for (int i = 0; i <= SIDES / 2; i++)
		draw_to(&d, 9 * cos(2 * pi * i / SIDES), 10 - 9 * sin(2 * pi * i / SIDES));
	draw_to(&d, -30, 10);
	expect(&d, 3, 1, 2, 2 * sagitta(9));
	draw_finish(&d);
}

/* Disks of radius 10 mm at ±15 mm, joined by a bar 2 mm wide; its free length is
 * 2 (15 - √(100 - 1)). */
static void a_dumbbell_is_as_wide_as_its_bar_all_along(void **state)
{
	(void)state;
	struct drawing d = draw_start(0.4);
	double from = asin(0.1);
	draw_begin(&d, true);
	for (int i = 0; i <= SIDES; i++) {
		double a = pi + from + i * (2 * pi - 2 * from) / SIDES;
		draw_to(&d, 15 + 10 * cos(a), 10 * sin(a));
	}
	for (int i = 0; i <= SIDES; i++) {
		double a = from + i * (2 * pi - 2 * from) / SIDES;
		draw_to(&d, -15 + 10 * cos(a), 10 * sin(a));
	}
	expect(&d, 3, 1, 2, 0);
	double free_length = 2 * (15 - sqrt(99));
	assert_true(d.necks.items[0].length * 1e-6 > free_length);
	assert_true(d.necks.items[0].length * 1e-6 < free_length + 1);
	assert_true(draw_spans(&d, &d.necks.items[0], 0, 1, 0, -1, 0.01));
	draw_finish(&d);
}

/* Walls of 2, 5, 68 and 35 mm. That of 5 mm runs at both ends into narrower or wider material:
 * towards the wall of 2 mm it falls, and so is no neck. */
static void a_rectangle_with_a_hole_is_narrowest_at_its_nearest_side(void **state)
{
	(void)state;
	struct drawing d = draw_start(0.9);
	draw_rectangle(&d, 0, 0, 100, 60);
	draw_rectangle(&d, 2, 5, 30, 20);
	expect(&d, 6, 1, 2, 0);
	draw_finish(&d);
}

/* p - s = 1.5 - 0.8. */
static void webs_between_slots_are_pitch_less_slot_wide(void **state)
{
	(void)state;
	struct drawing d = draw_start(0.2);
	draw_rectangle(&d, -10, -20, 60, 60);
	for (int i = 0; i < 10; i++)
		draw_rectangle(&d, 1.5 * i, 0, 0.8, 12);
	expect(&d, 3, 9, 0.7, 0);
	for (uint32_t i = 0; i < 9; i++)
		assert_true(fabs(d.necks.items[i].width - 0.7e6) < 4);
	draw_finish(&d);
}

/*
 * Two coaxial ellipses: the walls on the axes are not always the narrowest. Figures computed from
 * both parametric forms by minimisation; no published source.
 */
static void a_letter_o_is_narrowest_where_the_ellipses_come_nearest(void **state)
{
	(void)state;
	const struct {
		double a, b, c, d, width, x, y;
	} letters[] = {
		{10, 14, 6, 11, 3.000, 0, 11},
		{20, 10, 17, 6, 2.996485, 16.8655, 0.7533},
		{20, 10, 16, 6, 3.684529, 13.9081, 2.9662},
	};
	for (size_t i = 0; i < 3; i++) {
		struct drawing d = draw_start(0.5);
		draw_ellipse(&d, 0, 0, letters[i].a, letters[i].b, SIDES, 0);
		draw_ellipse(&d, 0, 0, letters[i].c, letters[i].d, SIDES, 0);
		draw_search(&d, 6);
		const struct geo_neck *neck = draw_narrowest(&d, GEO_NECK);
		/* The sagitta of a chord of an ellipse is at most that of its longest radius of
		 * curvature, a²/b, over a chord of a 2π/n. */
		double chord = 20 * 2 * pi / SIDES;
		assert_true(fabs(neck->width * 1e-6 - letters[i].width) <=
			    2 * chord * chord / (8 * 10) + 2e-6);
		bool found = false;
		for (int mirror = 0; mirror < 4; mirror++)
			for (int foot = 0; foot < 2; foot++)
				found |= draw_apart(&d, neck->feet[foot].at,
						    mirror & 1 ? -letters[i].x : letters[i].x,
						    mirror & 2 ? -letters[i].y : letters[i].y) <
					 0.15;
		assert_true(found);
		draw_finish(&d);
	}
}

/*
 * Towards the tip of a wedge the width falls to 0 without a minimum: the circles in a corner of the
 * medial axis are no necks.
 */
static void a_wedge_has_none_down_to_its_tip(void **state)
{
	(void)state;
	for (int degrees = 1; degrees <= 170; degrees += 13) {
		struct drawing d = draw_start(0.6);
		double half = degrees * pi / 360;
		draw_begin(&d, true);
		draw_to(&d, 0, 0);
		for (int i = -20; i <= 20; i++)
			draw_to(&d, 60 * cos(half * i / 20), 60 * sin(half * i / 20));
		assert_int_equal(draw_search(&d, 3), 0);
		draw_finish(&d);
	}
}

/* n bridges of width b are n necks of b. */
static void a_counter_on_bridges_has_a_neck_for_each(void **state)
{
	(void)state;
	for (int bridges = 1; bridges <= 5; bridges++) {
		struct drawing d = draw_start(0.25);
		draw_rectangle(&d, -20, -20, 40, 40);
		/* Parts of a ring between the radii 5 and 9, with bridges of 0.8 mm left. */
		double step = 2 * pi / bridges;
		for (int k = 0; k < bridges; k++) {
			double in = asin(0.4 / 5), out = asin(0.4 / 9);
			draw_begin(&d, true);
			for (int i = 0; i <= 100; i++) {
				double a = k * step + out + (step - 2 * out) * i / 100;
				draw_to(&d, 9 * cos(a), 9 * sin(a));
			}
			for (int i = 100; i >= 0; i--) {
				double a = k * step + in + (step - 2 * in) * i / 100;
				draw_to(&d, 5 * cos(a), 5 * sin(a));
			}
		}
		expect(&d, 3, (uint32_t)bridges, 0.8, 0);
		for (int k = 0; k < bridges; k++)
			assert_true(d.necks.items[k].length > 3.9e6);
		draw_finish(&d);
	}
}

/* D = r1 + r2 (Euclid, Elements III, 12): no width is left. */
static void circles_that_touch_have_a_contact_of_width_0(void **state)
{
	(void)state;
	struct drawing d = draw_start(0);
	draw_rectangle(&d, -40, -40, 80, 80);
	draw_ellipse(&d, -5, 0, 5, 5, SIDES, 0);
	draw_ellipse(&d, 7, 0, 7, 7, SIDES, 0);
	assert_int_equal(draw_search(&d, 3), 1);
	assert_int_equal(d.necks.items[0].kind, GEO_CONTACT);
	assert_true(draw_spans(&d, &d.necks.items[0], 0, 0, 0, 0, 0));
	draw_finish(&d);
}

/* What is wider than the limit is not looked for. */
static void a_neck_above_the_limit_is_left_out(void **state)
{
	(void)state;
	for (int over = 0; over < 2; over++) {
		struct drawing d = draw_start(0);
		draw_rectangle(&d, -40, -40, 80, 80);
		draw_rectangle(&d, -10, -5, 10, 10);
		draw_rectangle(&d, 2, -5, 10, 10);
		assert_int_equal(draw_search(&d, over ? 1.999 : 2), over ? 0 : 1);
		draw_finish(&d);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_eccentric_ring_is_narrowest_on_the_side_of_the_shift),
		cmocka_unit_test(two_holes_are_their_distance_less_both_radii_apart),
		cmocka_unit_test(a_hole_is_its_distance_less_its_radius_off_a_straight_edge),
		cmocka_unit_test(an_hourglass_is_its_height_less_both_bites),
		cmocka_unit_test(a_dumbbell_is_as_wide_as_its_bar_all_along),
		cmocka_unit_test(a_rectangle_with_a_hole_is_narrowest_at_its_nearest_side),
		cmocka_unit_test(webs_between_slots_are_pitch_less_slot_wide),
		cmocka_unit_test(a_letter_o_is_narrowest_where_the_ellipses_come_nearest),
		cmocka_unit_test(a_wedge_has_none_down_to_its_tip),
		cmocka_unit_test(a_counter_on_bridges_has_a_neck_for_each),
		cmocka_unit_test(circles_that_touch_have_a_contact_of_width_0),
		cmocka_unit_test(a_neck_above_the_limit_is_left_out),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
