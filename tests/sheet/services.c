/* What rules ask about single outlines; distances are closed forms of circles and rectangles. */
#include "drawing.h"

static double distance(const struct drawing *d, const char *a, const char *b,
		       struct cutlint_wall walls[2])
{
	return cutlint_outline_distance(d->design, drawing_outline(d, a), drawing_outline(d, b),
					walls);
}

static void circles_are_apart_by_their_centres_less_their_radii(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><circle id='a' cx='20' cy='20' r='5'/>"
			      "<circle id='b' cx='50' cy='41' r='7'/></g>"));
	struct cutlint_wall walls[2];
	assert_near(distance(&d, "a", "b", walls), hypot(30, 21) - 12, 1e-6);
	assert_int_equal(walls[0].outline, drawing_outline(&d, "a"));
	assert_near(hypot(walls[0].at.x - 20, walls[0].at.y - 20), 5, 1e-6);
	assert_near(hypot(walls[1].at.x - 50, walls[1].at.y - 41), 7, 1e-6);
	assert_near(distance(&d, "b", "a", walls), hypot(30, 21) - 12, 1e-6);
	drawing_close(&d);
}

static void outlines_that_cross_are_at_no_distance(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><rect id='a' x='10' y='10' width='40' height='4'/>"
			      "<rect id='b' x='20' y='0' width='4' height='40'/></g>"));
	struct cutlint_wall walls[2];
	assert_near(distance(&d, "a", "b", walls), 0, 0);
	drawing_close(&d);
}

static void a_circle_is_apart_from_a_segment_by_its_height_less_its_radius(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<circle id='a' cx='20' cy='20' r='5'" LINE "/>"));
	struct cutlint_wall wall;
	double apart = cutlint_segment_distance(d.design, drawing_outline(&d, "a"),
						(struct cutlint_xy){0, 32.5},
						(struct cutlint_xy){80, 32.5}, &wall);
	assert_near(apart, 7.5, 1e-6);
	assert_near(wall.at.x, 20, 1e-4);
	assert_near(wall.at.y, 25, 1e-6);
	drawing_close(&d);
}

static void only_closed_outlines_contain(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><path id='closed' d='M10 10H50V30H10Z'/>"
			      "<path id='open' d='M10 10H50V30H10'/></g>"));
	struct cutlint_xy inside = {20, 20}, outside = {60, 20};
	assert_true(cutlint_outline_contains(d.design, drawing_outline(&d, "closed"), inside));
	assert_false(cutlint_outline_contains(d.design, drawing_outline(&d, "closed"), outside));
	assert_false(cutlint_outline_contains(d.design, drawing_outline(&d, "open"), inside));
	drawing_close(&d);
}

/* A fold at 3 : 4 that ends 5 before a slit along its line, and on the page's edge. */
static void a_fold_stops_before_what_lies_ahead_in_its_own_line(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><line class='fold' x1='40' y1='0' x2='70' y2='40'/>"
			      "<path class='slit' id='slit' d='M60 44H90'/>"
			      "<circle cx='20' cy='40' r='10'/></g>"));
	const struct cutlint_fold *fold = &d.sheet->folds[0];
	bool slit_last = fold->to.y > fold->from.y;
	struct cutlint_stop stop = cutlint_fold_stop(d.design, d.sheet, fold, slit_last, 0.5);
	assert_near(stop.short_mm, 5, 1e-9);
	assert_int_equal(stop.cut, drawing_outline(&d, "slit"));
	stop = cutlint_fold_stop(d.design, d.sheet, fold, !slit_last, 0.5);
	assert_near(stop.short_mm, 0, 0);
	assert_int_equal(stop.cut, CUTLINT_NONE);
	/* 4 beside the slit is near enough to be on it, if that is allowed. */
	stop = cutlint_fold_stop(d.design, d.sheet, fold, slit_last, 4.001);
	assert_near(stop.short_mm, 0, 0);
	assert_int_equal(stop.cut, drawing_outline(&d, "slit"));
	drawing_close(&d);
}

static struct cutlint_congruence compare(const struct drawing *d, const char *a, const char *b)
{
	uint32_t outlines[2] = {drawing_outline(d, a), drawing_outline(d, b)};
	struct cutlint_congruence found;
	assert_int_equal(
		cutlint_congruence(d->design, &outlines[0], 1, &outlines[1], 1, 0.05, &found), 0);
	return found;
}

/* SVG's rotate() turns clockwise as seen on the screen (y down), so that -30 is +30 here. */
static void a_turned_shape_is_the_same_turned_back(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><path id='a' d='M10 10H30V20H20V15H10Z'/>"
			      "<path id='b' d='M10 10H30V20H20V15H10Z'"
			      " transform='translate(50 20) rotate(-30)'/></g>"));
	struct cutlint_congruence found = compare(&d, "a", "b");
	assert_true(found.same_mm < 0.01);
	assert_near(found.same_turn_rad, 3.14159265358979 / 6, 1e-4);
	assert_true(isinf(found.mirror_mm));
	drawing_close(&d);
}

static void a_mirrored_shape_is_told_from_a_turned_one(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><path id='a' d='M10 10H30V20H20V15H10Z'/>"
			      "<path id='b' d='M10 10H30V20H20V15H10Z'"
			      " transform='translate(90 0) scale(-1 1)'/></g>"));
	struct cutlint_congruence found = compare(&d, "a", "b");
	assert_true(isinf(found.same_mm));
	assert_true(found.mirror_mm < 0.01);
	assert_near(found.mirror_turn_rad, 0, 1e-4);
	drawing_close(&d);
}

static bool same_turned(const struct drawing *d, const char *id, double degrees)
{
	uint32_t outline = drawing_outline(d, id);
	return cutlint_same_turned(d->design, &outline, 1, degrees * 3.14159265358979 / 180, 0.05);
}

/* A square looks the same after quarter-turns, a regular pentagon after fifths, a circle always. */
static void regular_shapes_look_the_same_after_their_turns(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d,
		     PAGE(100, 60,
			  "<g" LINE "><rect id='square' x='10' y='10' width='10' height='10'/>"
			  "<path id='pentagon' d='M50 20L59.510565 26.909830L55.877853 38.090170"
			  "L44.122147 38.090170L40.489435 26.909830Z'/>"
			  "<circle id='circle' cx='80' cy='30' r='9'/>"
			  "<path id='ell' d='M10 40H30V50H20V45H10Z'/></g>"));
	assert_true(same_turned(&d, "square", 90) && same_turned(&d, "square", -180));
	assert_false(same_turned(&d, "square", 45));
	assert_true(same_turned(&d, "pentagon", 72) && same_turned(&d, "pentagon", 144));
	assert_false(same_turned(&d, "pentagon", 180));
	assert_true(same_turned(&d, "circle", 33));
	assert_false(same_turned(&d, "ell", 180));
	uint32_t square = drawing_outline(&d, "square");
	struct cutlint_xy middle = cutlint_outlines_middle(d.design, &square, 1);
	assert_near(middle.x, 15, 1e-9);
	assert_near(middle.y, 15, 1e-9);
	drawing_close(&d);
}

static unsigned flips_of(const struct drawing *d, const char *id)
{
	return cutlint_shape_flips(cutlint_outline_shape(d->design, drawing_outline(d, id)));
}

/* SVG 2, 8.5: scale(-1 1) mirrors in a vertical line, scale(-1) in both, which is a half-turn. */
static void flips_are_counted_over_all_transforms_above_a_shape(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><rect id='none' x='1' y='1' width='9' height='9'"
			      " transform='rotate(180 5 5) translate(-1 -2)'/>"
			      "<g transform='translate(90 0) scale(-1,1)'>"
			      "<rect id='once' x='1' y='20' width='9' height='9'/>"
			      "<rect id='twice' x='20' y='20' width='9' height='9'"
			      " transform='matrix(1 0 0 -1 0 50)'/></g>"
			      "<rect id='both' x='-30' y='-30' width='9' height='9'"
			      " transform='scale( -1 )'/></g>"));
	assert_int_equal(flips_of(&d, "none"), 0);
	assert_int_equal(flips_of(&d, "once"), 1);
	assert_int_equal(flips_of(&d, "twice"), 2);
	assert_int_equal(flips_of(&d, "both"), 2);
	drawing_close(&d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(circles_are_apart_by_their_centres_less_their_radii),
		cmocka_unit_test(outlines_that_cross_are_at_no_distance),
		cmocka_unit_test(a_circle_is_apart_from_a_segment_by_its_height_less_its_radius),
		cmocka_unit_test(only_closed_outlines_contain),
		cmocka_unit_test(a_fold_stops_before_what_lies_ahead_in_its_own_line),
		cmocka_unit_test(regular_shapes_look_the_same_after_their_turns),
		cmocka_unit_test(flips_are_counted_over_all_transforms_above_a_shape),
		cmocka_unit_test(a_turned_shape_is_the_same_turned_back),
		cmocka_unit_test(a_mirrored_shape_is_told_from_a_turned_one),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
