/* Parts: what falls out as meant, what is kept, what hangs on what. */
#include "drawing.h"

static const double PI = 3.14159265358979323846;

/* The area of circles drawn with chords within 0.005 mm is a little short. */
static const double CHORDS = 0.01;

static void a_window_leaves_the_frame(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<circle cx='50' cy='30' r='10'" LINE "/>"));
	assert_int_equal(d.sheet->part_count, 2);
	assert_near(drawing_part(&d, CUTLINT_PART_WINDOW)->area_mm2, 100 * PI, 100 * PI * CHORDS);
	assert_near(drawing_part(&d, CUTLINT_PART_FRAME)->area_mm2, 6000 - 100 * PI,
		    100 * PI * CHORDS);
	drawing_close(&d);
}

/* Ring of radii 20 and 15: area pi (R² - r²) = 549.778714; wall R - r = 5, 4.85 after the kerf. */
static void a_ring_in_a_window_is_loose(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<circle cx='50' cy='30' r='25'" LINE "/>"
			      "<circle id='outer' cx='50' cy='30' r='20'" LINE "/>"
			      "<circle id='inner' cx='50' cy='30' r='15'" LINE "/>"));
	const struct cutlint_part *ring = drawing_part(&d, CUTLINT_PART_LOOSE);
	assert_near(ring->area_mm2, 549.778714, 549.778714 * CHORDS);
	assert_int_equal(ring->outline, drawing_outline(&d, "inner"));
	assert_int_equal(ring->bridge_count, 0);
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_WINDOW), 2);
	drawing_close(&d);
}

static void the_counter_of_a_letter_o_is_loose(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<path fill-rule='evenodd' d='M40 15H60V45H40ZM45 20V40H55V20Z'/>"));
	assert_near(drawing_part(&d, CUTLINT_PART_LOOSE)->area_mm2, 200, 1e-9);
	assert_near(drawing_part(&d, CUTLINT_PART_WINDOW)->area_mm2, 400, 1e-9);
	drawing_close(&d);
}

/* SVG 2, 13.4.2 fill-rule: subpaths of opposite direction wind to zero, of the same to two. */
static void the_nonzero_rule_follows_the_direction_of_subpaths(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path d='M40 15H60V45H40ZM45 20V40H55V20Z'/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 1);
	drawing_close(&d);
	drawing_open(&d, PAGE(100, 60, "<path d='M40 15H60V45H40ZM45 20H55V40H45Z'/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 0);
	assert_near(drawing_part(&d, CUTLINT_PART_WINDOW)->area_mm2, 600, 1e-9);
	drawing_close(&d);
}

static void overlapping_windows_of_one_paint_are_one_opening(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<rect x='20' y='20' width='20' height='20' fill='red'/>"
			      "<rect x='30' y='25' width='20' height='10' fill='red'/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 0);
	assert_near(drawing_part(&d, CUTLINT_PART_WINDOW)->area_mm2, 400 + 200 - 100, 1e-9);
	assert_int_equal(d.sheet->hole_count, 1);
	drawing_close(&d);
}

static void overlapping_windows_without_fill_leave_no_loose_lens(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<circle cx='45' cy='30' r='10'" LINE "/>"
			      "<circle cx='55' cy='30' r='10'" LINE "/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 0);
	assert_int_equal(d.sheet->hole_count, 1);
	/* Union of two circles: 2 pi r² less the lens 2 r² acos(d/2r) - d/2 sqrt(4r² - d²). */
	double lens = 200 * acos(0.5) - 5 * sqrt(300);
	assert_near(d.sheet->holes[0].area_mm2, 200 * PI - lens, 200 * PI * CHORDS);
	drawing_close(&d);
}

static void a_lens_of_two_paints_falls_out_with_its_windows(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<circle cx='45' cy='30' r='10' fill='red'/>"
			      "<circle cx='55' cy='30' r='10' fill='blue'/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 0);
	assert_int_equal(d.sheet->hole_count, 1);
	drawing_close(&d);
}

static void a_shape_in_one_of_another_paint_is_kept_and_one_in_that_falls_out(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<rect x='20' y='10' width='40' height='40' fill='black'/>"
			      "<rect x='25' y='15' width='30' height='30' fill='white'/>"
			      "<rect x='30' y='20' width='20' height='20' fill='black'/>"
			      "<rect x='35' y='25' width='10' height='10' fill='black'/>"));
	assert_near(drawing_part(&d, CUTLINT_PART_LOOSE)->area_mm2, 900 - 400, 1e-9);
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_WINDOW), 2);
	assert_int_equal(d.sheet->hole_count, 2);
	drawing_close(&d);
}

static void four_lines_that_join_bound_a_window(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d,
		     PAGE(100, 60,
			  "<g" LINE "><line x1='40' y1='20' x2='60' y2='20'/>"
			  "<line x1='60' y1='40' x2='60.04' y2='20'/>"
			  "<path d='M60 40H40'/><polyline points='40,20 40,30 40,39.97'/></g>"));
	assert_near(drawing_part(&d, CUTLINT_PART_WINDOW)->area_mm2, 400.4, 0.5);
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 0);
	drawing_close(&d);
}

static void a_gap_up_to_the_kerf_is_burned_shut(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path d='M40 20H60V40H40V20.14'" LINE "/>"));
	assert_near(drawing_part(&d, CUTLINT_PART_WINDOW)->area_mm2, 400, 1e-9);
	drawing_close(&d);
	drawing_open(&d, PAGE(100, 60, "<path d='M40 20H60V40H40V20.14'/>"));
	assert_near(drawing_part(&d, CUTLINT_PART_WINDOW)->area_mm2, 400, 1e-9);
	drawing_close(&d);
	drawing_open(&d, PAGE(100, 60, "<path d='M40 20H60V40H40V20.16'" LINE "/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_WINDOW), 0);
	drawing_close(&d);
}

static void a_line_that_ends_at_a_side_within_the_kerf_cuts_off(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<path class='slit' d='M20 0V20.1'" LINE "/>"
			      "<path class='slit' d='M0 20H100'" LINE "/>"));
	/* The top left corner, the rest above and the lower part: one frame, two that nothing
	 * holds. */
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 2);
	assert_near(drawing_part(&d, CUTLINT_PART_FRAME)->area_mm2, 4000, 1e-6);
	drawing_close(&d);
	drawing_open(&d, PAGE(100, 60,
			      "<path class='slit' d='M20 0V19.9'" LINE "/>"
			      "<path class='slit' d='M0 20H100'" LINE "/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 2);
	drawing_close(&d);
}

static void a_slit_makes_no_window(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path class='slit' d='M40 20H60V40H40'" LINE "/>"));
	assert_int_equal(d.sheet->part_count, 1);
	assert_int_equal(d.sheet->hole_count, 0);
	drawing_close(&d);
}

static void a_cut_from_edge_to_edge_leaves_the_larger_face_as_frame(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path d='M30 0V60'" LINE "/>"));
	assert_near(drawing_part(&d, CUTLINT_PART_FRAME)->area_mm2, 4200, 1e-6);
	assert_near(drawing_part(&d, CUTLINT_PART_LOOSE)->area_mm2, 1800, 1e-6);
	drawing_close(&d);
}

static void the_frame_is_the_face_with_the_fold(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<path d='M30 0V60'" LINE "/>"
			      "<line id='fold' x1='15' y1='0' x2='15' y2='60'" LINE "/>"));
	assert_near(drawing_part(&d, CUTLINT_PART_FRAME)->area_mm2, 1800, 1e-6);
	drawing_close(&d);
}

static void what_lies_outside_the_cards_is_waste(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<rect id='outline' x='10' y='10' width='60' height='40'" LINE "/>"
			      "<circle cx='85' cy='30' r='5'" LINE "/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_WINDOW), 0);
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_WASTE), 1);
	assert_near(drawing_part(&d, CUTLINT_PART_FRAME)->area_mm2, 2400, 1e-9);
	drawing_close(&d);
}

static void a_hole_drawn_as_one_path_with_the_outline_falls_out(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<path id='outline' d='M10 10H70V50H10ZM15 15V20H20V15Z'" LINE "/>"));
	assert_near(drawing_part(&d, CUTLINT_PART_FRAME)->area_mm2, 2375, 1e-9);
	assert_near(drawing_part(&d, CUTLINT_PART_WINDOW)->area_mm2, 25, 1e-9);
	drawing_close(&d);
}

static void a_line_drawn_twice_divides_once(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<rect x='40' y='20' width='20' height='20'" LINE "/>"
			      "<path d='M60.02 40V20H40V40Z'" LINE "/>"));
	assert_int_equal(d.sheet->part_count, 2);
	assert_int_equal(d.sheet->neck_count, 0);
	assert_near(drawing_part(&d, CUTLINT_PART_WINDOW)->area_mm2, 400, 1e-9);
	drawing_close(&d);
}

/* A strip between two windows that is narrower than the kerf is burned away whole. */
static void a_face_narrower_than_the_kerf_is_no_part(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<rect x='20' y='20' width='20' height='20'" LINE "/>"
			      "<rect x='30' y='25' width='0.1' height='10'" LINE "/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 0);
	drawing_close(&d);
}

/* What is scored, burned on another sheet, or drawn for reference divides nothing. */
static void only_cuts_divide(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<path id='fold' d='M50 0V60'" LINE "/>"
			      "<rect id='inset' x='10' y='10' width='20' height='20'/>"
			      "<rect id='face' x='50' y='0' width='50' height='60' fill='none'/>"
			      "<rect id='guide' x='60' y='10' width='20' height='20'/>"
			      "<rect id='as-seen' x='62' y='12' width='5' height='5'/>"));
	assert_int_equal(d.sheet->part_count, 1);
	assert_near(drawing_part(&d, CUTLINT_PART_FRAME)->area_mm2, 6000, 1e-9);
	drawing_close(&d);
}

static void an_empty_page_is_all_frame(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, ""));
	assert_int_equal(d.sheet->part_count, 1);
	assert_near(drawing_part(&d, CUTLINT_PART_FRAME)->area_mm2, 6000, 1e-9);
	drawing_close(&d);
}

static void two_outlines_are_two_cards_with_a_frame_each(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g class='outline'" LINE ">"
			      "<rect x='0' y='0' width='30' height='40'/>"
			      "<rect x='30' y='0' width='30' height='40'/></g>"
			      "<circle cx='15' cy='20' r='5'" LINE "/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_FRAME), 2);
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 0);
	assert_int_equal(drawing_part(&d, CUTLINT_PART_WINDOW)->card, 0);
	drawing_close(&d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_window_leaves_the_frame),
		cmocka_unit_test(a_ring_in_a_window_is_loose),
		cmocka_unit_test(the_counter_of_a_letter_o_is_loose),
		cmocka_unit_test(the_nonzero_rule_follows_the_direction_of_subpaths),
		cmocka_unit_test(overlapping_windows_of_one_paint_are_one_opening),
		cmocka_unit_test(overlapping_windows_without_fill_leave_no_loose_lens),
		cmocka_unit_test(a_lens_of_two_paints_falls_out_with_its_windows),
		cmocka_unit_test(a_shape_in_one_of_another_paint_is_kept_and_one_in_that_falls_out),
		cmocka_unit_test(four_lines_that_join_bound_a_window),
		cmocka_unit_test(a_gap_up_to_the_kerf_is_burned_shut),
		cmocka_unit_test(a_line_that_ends_at_a_side_within_the_kerf_cuts_off),
		cmocka_unit_test(a_slit_makes_no_window),
		cmocka_unit_test(a_cut_from_edge_to_edge_leaves_the_larger_face_as_frame),
		cmocka_unit_test(the_frame_is_the_face_with_the_fold),
		cmocka_unit_test(what_lies_outside_the_cards_is_waste),
		cmocka_unit_test(a_hole_drawn_as_one_path_with_the_outline_falls_out),
		cmocka_unit_test(a_line_drawn_twice_divides_once),
		cmocka_unit_test(only_cuts_divide),
		cmocka_unit_test(an_empty_page_is_all_frame),
		cmocka_unit_test(two_outlines_are_two_cards_with_a_frame_each),
		cmocka_unit_test(a_face_narrower_than_the_kerf_is_no_part),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
