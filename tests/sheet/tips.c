/*
 * Tips: free ends of kept material. Widths are the chords of plane geometry at equal lengths along
 * both sides of an end; which ends count is told by the angle and the width stated in sheet.h.
 */
#include "drawing.h"

#include <stdio.h>

static const double PI = 3.14159265358979323846;

/* Nodes lie on whole nanometres, steps along a side bend by at most 0.0005 mm unseen. */
static const double FINE = 1e-3;

/* A tongue of kept material that comes into a window from the left; `end` draws from 20,y to 20,y.
 */
#define TONGUE(end) PAGE(100, 60, "<path id='window'" LINE "d='M20 10H60V50H20V" end "Z'/>")

static const struct cutlint_tip *only_tip(const struct drawing *drawing)
{
	assert_int_equal(drawing->sheet->tip_count, 1);
	return drawing->sheet->tips;
}

/* The width so far from the end, between the places that are given. */
static double width_at(const struct cutlint_tip *tip, double along)
{
	uint32_t i = 1;
	while (i + 1 < tip->width_count && tip->widths[i].along_mm < along)
		i++;
	const struct cutlint_tip_width *a = &tip->widths[i - 1], *b = &tip->widths[i];
	double span = b->along_mm - a->along_mm;
	double share = span > 0 ? (along - a->along_mm) / span : 1;
	return a->drawn_mm + share * (b->drawn_mm - a->drawn_mm);
}

static double last_along(const struct cutlint_tip *tip)
{
	return tip->widths[tip->width_count - 1].along_mm;
}

/* A triangle of base 6 and height 20: at a height x from its corner it is 6/20 x wide. */
static void a_pointed_tongue_widens_in_proportion(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, TONGUE("33L40 30L20 27"));
	const struct cutlint_tip *tip = only_tip(&d);
	assert_near(tip->at.x, 40, 1e-6);
	assert_near(tip->at.y, 30, 1e-6);
	assert_int_equal(tip->outline, drawing_outline(&d, "window"));
	assert_near(tip->burn_mm, 0.15, 1e-12);
	for (double x = 0.5; x <= 10; x += 0.5)
		assert_near(width_at(tip, x), 0.3 * x, FINE);
	/* Up to the scan width of 3 mm after the burn: 3.15 drawn, 10.5 from the corner. */
	assert_near(last_along(tip), 10.5, 0.11);
	drawing_close(&d);
}

static uint32_t count_tips(const char *svg)
{
	struct drawing d;
	drawing_open(&d, svg);
	uint32_t count = d.sheet->tip_count;
	drawing_close(&d);
	return count;
}

/* A corner between sides of 20 mm that are so many degrees apart. */
static uint32_t count_at_corner(double degrees)
{
	char svg[512];
	double half = degrees / 2 * PI / 180;
	double x = 20 + 20 * cos(half), y = 20 * sin(half);
	snprintf(svg, sizeof svg, TONGUE("%.6fL%.6f 30L20 %.6f"), 30 + y, x, 30 - y);
	return count_tips(svg);
}

/* The corners where the tongue joins the frame are reflex, those of the window convex. */
static void a_corner_counts_below_thirty_degrees(void **state)
{
	(void)state;
	assert_int_equal(count_at_corner(2), 1);
	assert_int_equal(count_at_corner(29.9), 1);
	assert_int_equal(count_at_corner(30.1), 0);
	assert_int_equal(count_at_corner(90), 0);
}

/* A strip of width 0.9 and length 20, cut square: as wide from its end on. */
static void a_square_end_is_as_wide_as_its_strip(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, TONGUE("30.45H40V29.55H20"));
	const struct cutlint_tip *tip = only_tip(&d);
	assert_near(tip->at.x, 40, 1e-6);
	assert_near(tip->at.y, 30, 1e-6);
	for (double x = 0.5; x < 19.5; x += 0.5)
		assert_near(width_at(tip, x), 0.9, FINE);
	drawing_close(&d);
}

/* Two right angles are 180 degrees on a way of the end's width; LONGEST_END_MM is for half circles.
 */
static void a_blunt_end_counts_while_it_is_narrow(void **state)
{
	(void)state;
	assert_int_equal(count_tips(TONGUE("30.49H40V29.51H20")), 1);
	assert_int_equal(count_tips(TONGUE("31H40V29H20")), 0);
}

/* A strip of width 2r with half a circle of radius r at its end, turned by some degrees. */
static void open_round_end(struct drawing *drawing, double r, double degrees)
{
	char svg[512];
	snprintf(svg, sizeof svg,
		 PAGE(100, 60,
		      "<path id='window' transform='rotate(%.3f 50 30)'" LINE
		      "d='M35 18H65V42H35V%.6fH50A%.6f %.6f 0 0 0 50 %.6fH35Z'/>"),
		 degrees, 30 + r, r, r, 30 - r);
	drawing_open(drawing, svg);
}

/*
 * At a height x below its top half a circle is 2 sqrt(2rx - x²) wide; the strip behind it 2r. The
 * chords of the flattening take at most 2 x 0.005 mm off.
 */
static void a_round_end_widens_as_a_circle_does(void **state)
{
	(void)state;
	for (double degrees = 0; degrees < 90; degrees += 17.3) {
		struct drawing d;
		double r = 0.4, turn = degrees * PI / 180;
		open_round_end(&d, r, degrees);
		const struct cutlint_tip *tip = only_tip(&d);
		assert_near(tip->at.x, 50 + r * cos(turn), 0.02);
		assert_near(tip->at.y, 30 + r * sin(turn), 0.02);
		for (double x = 0.1; x < r; x += 0.1)
			assert_near(width_at(tip, x), 2 * sqrt(2 * r * x - x * x), 0.03);
		for (double x = r; x < 14; x += 0.5)
			assert_near(width_at(tip, x), 2 * r, 0.011);
		drawing_close(&d);
	}
}

static uint32_t count_at_round_end(double r)
{
	struct drawing d;
	open_round_end(&d, r, 0);
	uint32_t count = d.sheet->tip_count;
	drawing_close(&d);
	return count;
}

static void a_round_end_counts_up_to_a_millimetre(void **state)
{
	(void)state;
	assert_int_equal(count_at_round_end(0.05), 1);
	assert_int_equal(count_at_round_end(0.49), 1);
	assert_int_equal(count_at_round_end(0.7), 0);
}

/* A wedge of 2 by 20 with a quarter of its end cut off square: trapezium, widths 0.5 to 2. */
static void a_cut_off_wedge_starts_at_its_blunt_width(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, TONGUE("31L35 30.25V29.75L20 29"));
	const struct cutlint_tip *tip = only_tip(&d);
	for (double x = 0.2; x < 14.5; x += 0.5)
		assert_near(width_at(tip, x), 0.5 + 0.1 * x, 2 * FINE);
	drawing_close(&d);
}

/* Sides that bend by 0.002 each, half way along: 0.1 x wide up to there, then 0.104 wider a mm. */
static void the_slightest_bend_is_kept(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, TONGUE("31.02L30 30.5L40 30L30 29.5L20 28.98"));
	const struct cutlint_tip *tip = only_tip(&d);
	for (double x = 1; x < 20; x += 0.5)
		assert_near(width_at(tip, x), x < 10 ? 0.1 * x : 1 + 0.104 * (x - 10), FINE);
	drawing_close(&d);
}

/* A round end of 16 chords, its outline started at each of its corners in turn. */
static void an_end_is_found_once_wherever_the_outline_starts(void **state)
{
	(void)state;
	enum { CHORDS = 16, CORNERS = CHORDS + 7 };
	struct cutlint_xy corners[CORNERS] = {{20, 30.4}, {20, 50}, {60, 50},
					      {60, 10},   {20, 10}, {20, 29.6}};
	for (int i = 0; i <= CHORDS; i++) {
		double angle = PI / 2 - i * PI / CHORDS;
		corners[6 + i] = (struct cutlint_xy){40 + 0.4 * cos(angle), 30 - 0.4 * sin(angle)};
	}
	for (int start = 0; start < CORNERS; start++) {
		char svg[2048], *at = svg, *end = svg + sizeof svg;
		at += snprintf(at, (size_t)(end - at), PAGE_START(100, 60) "<path" LINE "d='M");
		for (int i = 0; i < CORNERS; i++) {
			struct cutlint_xy corner = corners[(start + i) % CORNERS];
			at += snprintf(at, (size_t)(end - at), "%.6f %.6f ", corner.x, corner.y);
		}
		snprintf(at, (size_t)(end - at), "Z'/></svg>");
		struct drawing d;
		drawing_open(&d, svg);
		const struct cutlint_tip *tip = only_tip(&d);
		assert_near(tip->at.x, 40.4, 1e-6);
		assert_near(tip->at.y, 30, 1e-6);
		drawing_close(&d);
	}
}

/* Two slits in a V: the flap between them has a tip, the sheet outside of them has none. */
static void a_flap_between_two_slits_has_a_tip(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path class='slit'" LINE "d='M20 26L40 30L20 34'/>"));
	const struct cutlint_tip *tip = only_tip(&d);
	assert_near(tip->at.x, 40, 1e-6);
	assert_near(width_at(tip, 5), 2, FINE);
	drawing_close(&d);
}

/* A cut that meets the page's edge at 14 degrees: only one side of what it leaves is burned. */
static void at_the_page_s_edge_half_a_kerf_is_burned_off(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path" LINE "d='M40 0L20 5H60V0Z'/>"));
	const struct cutlint_tip *tip = only_tip(&d);
	assert_near(tip->at.x, 40, 1e-6);
	assert_near(tip->at.y, 0, 1e-6);
	assert_near(tip->burn_mm, 0.075, 1e-12);
	drawing_close(&d);
}

static void loose_parts_have_no_tips(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<path fill='red' d='M20 10H60V50H20Z'/>"
			      "<path fill='white' d='M30 27L50 30L30 33Z'/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 1);
	assert_int_equal(d.sheet->tip_count, 0);
	drawing_close(&d);
}

static void windows_have_no_tips(void **state)
{
	(void)state;
	assert_int_equal(count_tips(PAGE(100, 60, "<path" LINE "d='M30 27L50 30L30 33Z'/>")), 0);
}

/* A star of n points in a round window, held by one bar: each point is a tip. */
static void every_point_of_a_kept_star_is_a_tip(void **state)
{
	(void)state;
	enum { POINTS = 12 };
	char svg[4096];
	size_t used = (size_t)snprintf(
		svg, sizeof svg,
		PAGE_START(100, 60) "<path" LINE
				    "fill-rule='evenodd' d='M50 2A28 28 0 1 0 51 2.0178L50.5 21");
	/* From the bar at the top round the star, clockwise; no point lies on the bar. */
	for (int i = 1; i < 2 * POINTS; i++) {
		double angle = i * PI / POINTS - PI / 2, r = i % 2 ? 20 : 9;
		used += (size_t)snprintf(svg + used, sizeof svg - used, "L%.6f %.6f",
					 50 + r * cos(angle), 30 + r * sin(angle));
	}
	snprintf(svg + used, sizeof svg - used, "L49.5 21Z'/></svg>");
	struct drawing d;
	drawing_open(&d, svg);
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 0);
	assert_int_equal(d.sheet->tip_count, POINTS);
	drawing_close(&d);
}

/* Turned and mirrored, a tip has the same widths at the same distances. */
static void turning_and_mirroring_leave_widths_as_they_are(void **state)
{
	(void)state;
	static const char *const MOVES[] = {"rotate(33.3)", "scale(-1 1)",
					    "rotate(-71) scale(1 -1)"};
	struct drawing plain;
	drawing_open(&plain, TONGUE("33L40 30L20 29"));
	const struct cutlint_tip *as_drawn = only_tip(&plain);
	for (size_t i = 0; i < sizeof MOVES / sizeof MOVES[0]; i++) {
		char svg[512];
		snprintf(svg, sizeof svg,
			 PAGE(100, 100,
			      "<path transform='translate(50 50) %s'" LINE
			      "d='M-20 -20H20V20H-20V3L0 0L-20 -1Z'/>"),
			 MOVES[i]);
		struct drawing moved;
		drawing_open(&moved, svg);
		const struct cutlint_tip *tip = only_tip(&moved);
		for (double x = 0.25; x < 10; x += 0.25)
			assert_near(width_at(tip, x), width_at(as_drawn, x), FINE);
		drawing_close(&moved);
	}
	drawing_close(&plain);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_pointed_tongue_widens_in_proportion),
		cmocka_unit_test(a_corner_counts_below_thirty_degrees),
		cmocka_unit_test(a_square_end_is_as_wide_as_its_strip),
		cmocka_unit_test(a_blunt_end_counts_while_it_is_narrow),
		cmocka_unit_test(a_round_end_widens_as_a_circle_does),
		cmocka_unit_test(a_round_end_counts_up_to_a_millimetre),
		cmocka_unit_test(a_cut_off_wedge_starts_at_its_blunt_width),
		cmocka_unit_test(the_slightest_bend_is_kept),
		cmocka_unit_test(an_end_is_found_once_wherever_the_outline_starts),
		cmocka_unit_test(a_flap_between_two_slits_has_a_tip),
		cmocka_unit_test(at_the_page_s_edge_half_a_kerf_is_burned_off),
		cmocka_unit_test(loose_parts_have_no_tips),
		cmocka_unit_test(windows_have_no_tips),
		cmocka_unit_test(every_point_of_a_kept_star_is_a_tip),
		cmocka_unit_test(turning_and_mirroring_leave_widths_as_they_are),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
