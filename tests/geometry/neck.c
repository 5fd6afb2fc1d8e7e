/*
 * Each case that a search for necks is known to get wrong, with what is wanted. Every drawing is
 * tried unturned and at angles at which no wall is upright.
 */
#include "drawing.h"

static const double turns[] = {0, 0.1, 0.785398163397, 1.9, 4.0};

#define EACH_TURN(i) for (size_t i = 0; i < sizeof turns / sizeof turns[0]; i++)

#define assert_near(a, b, tolerance) assert_true(fabs((a) - (b)) <= (tolerance))

/* The only finding of a drawing. */
static const struct geo_neck *only(struct drawing *drawing, enum geo_neck_kind kind, double limit)
{
	assert_int_equal(draw_search(drawing, limit), 1);
	assert_int_equal(drawing->necks.items[0].kind, kind);
	return &drawing->necks.items[0];
}

static void two_round_windows_have_one_neck_between_them(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_rectangle(&d, -30, -30, 60, 60);
		draw_ellipse(&d, -5.3, 0, 5, 5, 100, 0);
		draw_ellipse(&d, 5.3, 0, 5, 5, 100, 0);
		const struct geo_neck *neck = only(&d, GEO_NECK, 3);
		assert_near(neck->width, 0.6e6, 5);
		assert_true(draw_spans(&d, neck, -0.3, 0, 0.3, 0, 1e-5));
		draw_finish(&d);
	}
}

static void a_windows_corner_near_the_edge_of_the_card_has_one_neck(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_rectangle(&d, 0, 0, 60, 40);
		draw_begin(&d, true);
		draw_to(&d, 20, 1.2);
		draw_to(&d, 26, 12);
		draw_to(&d, 14, 13);
		const struct geo_neck *neck = only(&d, GEO_NECK, 3);
		assert_near(neck->width, 1.2e6, 5);
		assert_true(draw_spans(&d, neck, 20, 1.2, 20, 0, 1e-5));
		draw_finish(&d);
	}
}

static void the_end_of_a_slit_before_a_window_has_one_neck(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_rectangle(&d, 0, 0, 60, 40);
		draw_rectangle(&d, 30, 10, 10, 20);
		draw_line(&d, 10, 20, 29.2, 21);
		const struct geo_neck *neck = only(&d, GEO_NECK, 3);
		assert_near(neck->width, 0.8e6, 5);
		assert_true(draw_spans(&d, neck, 29.2, 21, 30, 21, 1e-5));
		draw_finish(&d);
	}
}

static void a_free_disk_has_none(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_ellipse(&d, 0, 0, 1, 1, 64, 0.1);
		draw_ellipse(&d, 10, 0, 1, 1, 63, 0.1);
		draw_rectangle(&d, 20, 0, 2, 2);
		assert_int_equal(draw_search(&d, 3), 0);
		draw_finish(&d);
	}
}

static void four_crossing_bars_are_four_necks(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_rectangle(&d, -20, -20, 40, 40);
		for (int k = 0; k < 4; k++)
			draw_rectangle(&d, k & 1 ? 0.5 : -5.5, k & 2 ? 0.5 : -5.5, 5, 5);
		assert_int_equal(draw_search(&d, 3), 4);
		for (uint32_t k = 0; k < 4; k++) {
			assert_int_equal(d.necks.items[k].kind, GEO_NECK);
			assert_near(d.necks.items[k].width, 1e6, 5);
			assert_true(d.necks.items[k].length > 5e6);
		}
		draw_finish(&d);
	}
}

static void the_middle_of_an_even_star_has_none(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_begin(&d, true);
		for (int k = 0; k < 16; k++) {
			double r = k & 1 ? 1.2 : 4, a = acos(-1) / 8 * k;
			draw_to(&d, r * cos(a), r * sin(a));
		}
		assert_int_equal(draw_search(&d, 3), 0);
		draw_finish(&d);
	}
}

/* A bar 1 mm wide and 8 mm long between two square windows, that start at any of their corners. */
static void a_bar_between_two_square_windows_is_one_neck_with_its_length(void **state)
{
	(void)state;
	EACH_TURN(i)
	for (int start = 0; start < 4; start++) {
		struct drawing d = draw_start(turns[i]);
		double x[4] = {0.5, 8.5, 8.5, 0.5}, y[4] = {-4, -4, 4, 4};
		draw_rectangle(&d, -30, -30, 60, 60);
		for (int side = -1; side <= 1; side += 2) {
			draw_begin(&d, true);
			for (int k = 0; k < 4; k++)
				draw_to(&d, side * x[(k + start) % 4], y[(k + start) % 4]);
		}
		const struct geo_neck *neck = only(&d, GEO_NECK, 3);
		assert_near(neck->width, 1e6, 5);
		/* Beyond the corners the width is √(1 + 4 s²); it passes 1.05 at s = 0.160 mm. */
		assert_near(neck->length, 8e6 + 2 * 0.160078e6, 2000);
		assert_true(draw_spans(&d, neck, -0.5, 0, 0.5, 0, 0.002));
		assert_near(
			hypot(neck->ends[0].x - neck->ends[1].x, neck->ends[0].y - neck->ends[1].y),
			neck->length, 2000);
		draw_finish(&d);
	}
}

static void an_outline_that_starts_inside_the_bar_changes_nothing(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_rectangle(&d, -30, -30, 60, 60);
		draw_begin(&d, true);
		draw_to(&d, 0.5, 1);
		draw_to(&d, 0.5, 4);
		draw_to(&d, 8.5, 4);
		draw_to(&d, 8.5, -4);
		draw_to(&d, 0.5, -4);
		draw_to(&d, 0.5, -1);
		draw_rectangle(&d, -8.5, -4, 8, 8);
		const struct geo_neck *neck = only(&d, GEO_NECK, 3);
		assert_near(neck->width, 1e6, 5);
		assert_near(neck->length, 8e6 + 2 * 0.160078e6, 2000);
		assert_true(draw_spans(&d, neck, -0.5, 0, 0.5, 0, 0.002));
		draw_finish(&d);
	}
}

static void a_bar_with_one_tilted_wall_has_one_neck_at_its_narrow_end(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_rectangle(&d, -30, -30, 60, 60);
		draw_rectangle(&d, -8.5, -4, 8, 8);
		draw_begin(&d, true);
		draw_to(&d, 0.5, -4);
		draw_to(&d, 8.5, -4);
		draw_to(&d, 8.5, 4);
		draw_to(&d, 0.9, 4);
		const struct geo_neck *neck = only(&d, GEO_NECK, 3);
		assert_near(neck->width, 1e6, 5);
		assert_true(draw_spans(&d, neck, -0.5, -4, 0.5, -4, 1e-5));
		draw_finish(&d);
	}
}

/* One wall wavers by 0.01 mm, less than tau = 0.05 mm. */
static void a_wobble_in_a_bar_is_still_one_neck(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_rectangle(&d, -30, -30, 60, 60);
		draw_rectangle(&d, -8.5, -4, 8, 8);
		draw_begin(&d, true);
		draw_to(&d, 8.5, 4);
		for (int k = 40; k >= -40; k--)
			draw_to(&d, 0.5 + 0.01 * sin(k), k * 0.1);
		draw_to(&d, 8.5, -4);
		const struct geo_neck *neck = only(&d, GEO_NECK, 3);
		assert_near(neck->width, 0.99e6, 1000);
		assert_near(neck->length, 8.3e6, 0.1e6);
		draw_finish(&d);
	}
}

static void a_free_strip_is_a_class_of_its_own(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_rectangle(&d, -5, -0.5, 10, 1);
		const struct geo_neck *neck = only(&d, GEO_STRIP, 3);
		assert_near(neck->width, 1e6, 5);
		assert_true(neck->length >= 9e6 && neck->length <= 10e6);
		assert_true(draw_spans(&d, neck, 0, -0.5, 0, 0.5, 0.5));
		draw_finish(&d);
	}
}

/* The same strip, held at one end. */
static void a_strip_with_one_free_end_is_no_neck(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_begin(&d, true);
		draw_to(&d, 0, 0.5);
		draw_to(&d, 0, 10);
		draw_to(&d, -20, 10);
		draw_to(&d, -20, -10);
		draw_to(&d, 0, -10);
		draw_to(&d, 0, -0.5);
		draw_to(&d, 10, -0.5);
		draw_to(&d, 10, 0.5);
		const struct geo_neck *neck = only(&d, GEO_STRIP, 3);
		assert_near(neck->width, 1e6, 5);
		assert_true(neck->length >= 9e6 && neck->length <= 10.2e6);
		draw_finish(&d);
	}
}

static void a_short_stub_is_nothing(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_begin(&d, true);
		draw_to(&d, 0, 0.5);
		draw_to(&d, 0, 10);
		draw_to(&d, -20, 10);
		draw_to(&d, -20, -10);
		draw_to(&d, 0, -10);
		draw_to(&d, 0, -0.5);
		draw_to(&d, 0.9, -0.5);
		draw_to(&d, 0.9, 0.5);
		assert_int_equal(draw_search(&d, 3), 0);
		draw_finish(&d);
	}
}

/* Bars between three windows and the card's edge meet in a T; none goes on through it. */
static void a_t_of_three_bars_is_three_necks_that_end_at_the_junction(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_rectangle(&d, -30, -20, 60, 40);
		draw_rectangle(&d, -6.5, 0.5, 13, 6);
		draw_rectangle(&d, -6.5, -6.5, 6, 6);
		draw_rectangle(&d, 0.5, -6.5, 6, 6);
		assert_int_equal(draw_search(&d, 3), 3);
		for (uint32_t k = 0; k < 3; k++) {
			const struct geo_neck *neck = &d.necks.items[k];
			assert_int_equal(neck->kind, GEO_NECK);
			assert_near(neck->width, 1e6, 5);
			assert_near(neck->length, 6.2e6, 0.2e6);
		}
		draw_finish(&d);
	}
}

static void spikes_and_zigzag_tips_are_none(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_begin(&d, true);
		draw_to(&d, -20, -10);
		draw_to(&d, 20, -10);
		for (int k = 0; k <= 20; k++)
			draw_to(&d, 20 - 2 * k, k & 1 ? 0 : 8);
		assert_int_equal(draw_search(&d, 3), 0);
		draw_finish(&d);
	}
}

/* Where they cross, the card has one corner only. */
static void overlapping_windows_have_no_neck(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_rectangle(&d, -30, -30, 60, 60);
		draw_ellipse(&d, -3, 0, 5, 5, 100, 0);
		draw_ellipse(&d, 3, 0, 5, 5, 100, 0);
		draw_search(&d, 3);
		assert_int_equal(draw_count(&d, GEO_NECK), 0);
		draw_finish(&d);
	}
}

static void an_outline_drawn_twice_gives_the_same_necks(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_rectangle(&d, -30, -30, 60, 60);
		draw_ellipse(&d, -5.3, 0, 5, 5, 100, 0);
		draw_ellipse(&d, -5.3, 0, 5, 5, 100, 0);
		draw_ellipse(&d, 5.3, 0, 5, 5, 100, 0);
		const struct geo_neck *neck = only(&d, GEO_NECK, 3);
		assert_near(neck->width, 0.6e6, 5);
		draw_finish(&d);
	}
}

static void windows_that_touch_in_a_point_have_one_contact(void **state)
{
	(void)state;
	struct drawing d = draw_start(0);
	draw_rectangle(&d, -30, -30, 60, 60);
	draw_ellipse(&d, -5, 0, 5, 5, 100, 0);
	draw_ellipse(&d, 5, 0, 5, 5, 100, 0);
	const struct geo_neck *neck = only(&d, GEO_CONTACT, 3);
	assert_near(neck->width, 0, 0);
	assert_true(draw_spans(&d, neck, 0, 0, 0, 0, 0));
	assert_true(neck->feet[0].half_edge != neck->feet[1].half_edge);
	draw_finish(&d);
}

static void a_corner_on_a_wall_is_a_contact(void **state)
{
	(void)state;
	struct drawing d = draw_start(0);
	draw_rectangle(&d, -30, -30, 60, 60);
	draw_rectangle(&d, -10, -5, 10, 10);
	draw_begin(&d, true);
	draw_to(&d, 0, 0);
	draw_to(&d, 8, 6);
	draw_to(&d, 8, -6);
	const struct geo_neck *neck = only(&d, GEO_CONTACT, 3);
	assert_true(draw_spans(&d, neck, 0, 0, 0, 0, 0));
	draw_finish(&d);
}

static void a_slit_that_ends_on_a_window_is_a_contact(void **state)
{
	(void)state;
	struct drawing d = draw_start(0);
	draw_rectangle(&d, -30, -30, 60, 60);
	draw_rectangle(&d, -10, -5, 10, 10);
	draw_line(&d, 0, 0, 10, 0);
	const struct geo_neck *neck = only(&d, GEO_CONTACT, 3);
	assert_true(draw_spans(&d, neck, 0, 0, 0, 0, 0));
	draw_finish(&d);
}

/* Walls exactly parallel or askew by single nanometres, and four corners on one circle. */
/* Between one slit's end and another's bend; `flip` draws it in a mirror. */
static struct drawing two_slits(double turn, double flip)
{
	struct drawing d = draw_start(turn);
	draw_rectangle(&d, -10, -10, 20, 20);
	draw_line(&d, -0.510832, flip * 2.78055, -0.955447, flip * 0.056007);
	draw_begin(&d, false);
	draw_to(&d, 0.178833, flip * -1.310148);
	draw_to(&d, 1.506636, flip * 0.650154);
	draw_to(&d, 0.047219, flip * 0.774001);
	draw_to(&d, -0.707721, flip * 1.020847);
	return d;
}

/*
 * The pair of 1.705 mm between the slit's end and the first edge opens by 0.074 mm at most, up to
 * the circle through both and the bend: less than 5 % of it. By the three distances; what is left
 * is 0.089 mm between the slits at the far end.
 */
static void a_walk_past_a_slits_bend_stays_on_its_own_side(void **state)
{
	(void)state;
	EACH_TURN(i)
	for (int flip = -1; flip <= 1; flip += 2) {
		struct drawing d = two_slits(turns[i], flip);
		draw_search(&d, 1.72);
		uint32_t necks = 0;
		for (uint32_t k = 0; k < d.necks.count; k++) {
			if (d.necks.items[k].kind != GEO_NECK)
				continue;
			assert_near(d.necks.items[k].width, 0.089096e6, 5);
			necks++;
		}
		assert_int_equal(necks, 1);
		draw_finish(&d);
	}
}

static void near_ties_give_one_neck_each(void **state)
{
	(void)state;
	for (int askew = -3; askew <= 3; askew++) {
		struct drawing d = draw_start(0);
		draw_rectangle(&d, -30, -30, 60, 60);
		draw_rectangle(&d, -8.5, -4, 8, 8);
		draw_begin(&d, true);
		draw_to(&d, 0.5, -4);
		draw_to(&d, 8.5, -4);
		draw_to(&d, 8.5, 4);
		draw_to(&d, 0.5 + askew * 1e-6, 4);
		const struct geo_neck *neck = only(&d, GEO_NECK, 3);
		assert_near(neck->width, 1e6, 1000);
		draw_finish(&d);
	}
}

static void four_corners_on_a_circle_give_the_four_sides(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_rectangle(&d, -20, -20, 40, 40);
		for (int k = 0; k < 4; k++) {
			double x = k & 1 ? 1 : -1, y = k & 2 ? 1 : -1;
			draw_begin(&d, true);
			draw_to(&d, 0.5 * x, 0.5 * y);
			draw_to(&d, 6 * x, 3 * y);
			draw_to(&d, 3 * x, 6 * y);
		}
		assert_int_equal(draw_search(&d, 3), 4);
		for (uint32_t k = 0; k < 4; k++)
			assert_near(d.necks.items[k].width, 1e6, 5);
		draw_finish(&d);
	}
}

static void a_ring_of_even_width_is_a_strip_without_an_end(void **state)
{
	(void)state;
	EACH_TURN(i)
	{
		struct drawing d = draw_start(turns[i]);
		draw_ellipse(&d, 0, 0, 10, 10, 360, 0);
		draw_ellipse(&d, 0, 0, 9, 9, 360, 0);
		const struct geo_neck *neck = only(&d, GEO_STRIP, 3);
		assert_near(neck->width, 1e6, 800);
		assert_near(neck->length, 2 * acos(-1) * 9.5e6, 0.02e6);
		draw_finish(&d);
	}
}

static void the_same_drawing_gives_the_same_answer(void **state)
{
	(void)state;
	struct drawing a = draw_start(0.3), b = draw_start(0.3);
	struct drawing *both[2] = {&a, &b};
	for (int k = 0; k < 2; k++) {
		draw_rectangle(both[k], 0, 0, 60, 60);
		for (int i = 0; i < 100; i++)
			draw_ellipse(both[k], 4 + i % 10 * 5.5, 4 + i / 10 * 5.5, 2.5, 2.5, 40, i);
		draw_search(both[k], 3);
	}
	assert_int_equal(a.necks.count, b.necks.count);
	assert_memory_equal(a.necks.items, b.necks.items, a.necks.count * sizeof *a.necks.items);
	draw_finish(&a);
	draw_finish(&b);
}

/* Whether a drawing has a neck of that width between the same two places. */
static bool has_same(const struct drawing *drawing, const struct geo_neck *neck)
{
	for (uint32_t i = 0; i < drawing->necks.count; i++) {
		const struct geo_neck *other = &drawing->necks.items[i];
		double x = other->feet[0].at.x + other->feet[1].at.x - neck->feet[0].at.x -
			   neck->feet[1].at.x;
		double y = other->feet[0].at.y + other->feet[1].at.y - neck->feet[0].at.y -
			   neck->feet[1].at.y;
		if (fabs(other->width - neck->width) < 0.01 && fabs(x) < 0.01 && fabs(y) < 0.01)
			return true;
	}
	return false;
}

/* By the definition, which knows no order. So many walls that walks go by more than one group. */
static void the_order_of_the_outlines_changes_nothing(void **state)
{
	(void)state;
	struct drawing a = draw_start(0.3), b = draw_start(0.3);
	struct drawing *both[2] = {&a, &b};
	for (int k = 0; k < 2; k++) {
		draw_rectangle(both[k], 0, 0, 60, 60);
		for (int n = 0; n < 100; n++) {
			int i = k ? n * 37 % 100 : n;
			double least = 2.2 + 0.003 * (i * 13 % 100);
			draw_ellipse(both[k], 4 + i % 10 * 5.5, 4 + i / 10 * 5.5, 2.5, least, 48,
				     i);
		}
		draw_search(both[k], 3);
	}
	assert_true(a.necks.count >= 180);
	assert_int_equal(a.necks.count, b.necks.count);
	for (uint32_t i = 0; i < a.necks.count; i++)
		assert_true(has_same(&b, &a.necks.items[i]));
	draw_finish(&a);
	draw_finish(&b);
}

static void nothing_kept_has_no_necks(void **state)
{
	(void)state;
	struct drawing d = draw_start(0);
	assert_int_equal(draw_search(&d, 3), 0);
	draw_finish(&d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(two_round_windows_have_one_neck_between_them),
		cmocka_unit_test(a_windows_corner_near_the_edge_of_the_card_has_one_neck),
		cmocka_unit_test(the_end_of_a_slit_before_a_window_has_one_neck),
		cmocka_unit_test(a_free_disk_has_none),
		cmocka_unit_test(four_crossing_bars_are_four_necks),
		cmocka_unit_test(the_middle_of_an_even_star_has_none),
		cmocka_unit_test(a_bar_between_two_square_windows_is_one_neck_with_its_length),
		cmocka_unit_test(an_outline_that_starts_inside_the_bar_changes_nothing),
		cmocka_unit_test(a_bar_with_one_tilted_wall_has_one_neck_at_its_narrow_end),
		cmocka_unit_test(a_wobble_in_a_bar_is_still_one_neck),
		cmocka_unit_test(a_free_strip_is_a_class_of_its_own),
		cmocka_unit_test(a_strip_with_one_free_end_is_no_neck),
		cmocka_unit_test(a_short_stub_is_nothing),
		cmocka_unit_test(a_t_of_three_bars_is_three_necks_that_end_at_the_junction),
		cmocka_unit_test(spikes_and_zigzag_tips_are_none),
		cmocka_unit_test(overlapping_windows_have_no_neck),
		cmocka_unit_test(an_outline_drawn_twice_gives_the_same_necks),
		cmocka_unit_test(windows_that_touch_in_a_point_have_one_contact),
		cmocka_unit_test(a_corner_on_a_wall_is_a_contact),
		cmocka_unit_test(a_slit_that_ends_on_a_window_is_a_contact),
		cmocka_unit_test(a_walk_past_a_slits_bend_stays_on_its_own_side),
		cmocka_unit_test(near_ties_give_one_neck_each),
		cmocka_unit_test(four_corners_on_a_circle_give_the_four_sides),
		cmocka_unit_test(a_ring_of_even_width_is_a_strip_without_an_end),
		cmocka_unit_test(the_same_drawing_gives_the_same_answer),
		cmocka_unit_test(the_order_of_the_outlines_changes_nothing),
		cmocka_unit_test(nothing_kept_has_no_necks),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
