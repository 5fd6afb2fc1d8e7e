/*
 * Whole sheets whose areas, lengths and widths have closed forms: circles, sectors, rectangles and
 * ellipses of plane geometry. Areas are those of chords, which are short by at most the boundary
 * times the flatness; lengths and widths are those of the true curves.
 */
#include "drawing.h"

#include <stdio.h>

static const double PI = 3.14159265358979323846;

static void read(struct drawing *drawing, const char *svg, double kerf_mm, double scan_mm)
{
	drawing_read(drawing, svg);
	drawing->facts.kerf_mm = kerf_mm;
	drawing->facts.scan_mm = scan_mm;
	drawing_build(drawing);
}

static double length_of(const struct drawing *drawing, const char *id)
{
	return cutlint_outline_length(drawing->design, drawing_outline(drawing, id));
}

/*
 * Ring R 20, r 15: wall R - r = 5, after the kerf R - r - k; area pi (R² - r²) = 549.778714; length
 * 2 pi (R + r) = 219.911486.
 */
static void a_ring_has_its_wall_area_and_length(void **state)
{
	(void)state;
	static const double KERFS[] = {0.1, 0.2};
	for (int i = 0; i < 2; i++) {
		struct drawing d;
		read(&d,
		     PAGE(100, 60,
			  "<circle id='outline' cx='50' cy='30' r='20'" LINE "/>"
			  "<circle id='window' cx='50' cy='30' r='15'" LINE "/>"),
		     KERFS[i], 6);
		assert_int_equal(d.sheet->neck_count, 1);
		assert_int_equal(d.sheet->necks[0].kind, CUTLINT_NECK_STRIP);
		assert_near(d.sheet->necks[0].drawn_mm, 5, 1e-6);
		assert_near(d.sheet->necks[0].width_mm, 5 - KERFS[i], 1e-6);
		assert_near(drawing_part(&d, CUTLINT_PART_FRAME)->area_mm2, 549.778714,
			    220 * 0.005);
		assert_near(length_of(&d, "outline") + length_of(&d, "window"), 219.911486, 1e-6);
		drawing_close(&d);
	}
}

/* Disks R 10 at ±15 with a bar w 2 between: area 648.385298, length 141.857512. */
static void a_dumbbell_has_its_area_and_length(void **state)
{
	(void)state;
	struct drawing d;
	double reach = sqrt(99);
	char svg[512];
	snprintf(svg, sizeof svg,
		 PAGE(100, 60,
		      "<path id='outline'" LINE
		      "d='M%.12f 29H%.12fA10 10 0 1 1 %.12f 31H%.12fA10 10 0 1 1 %.12f 29Z'/>"),
		 35 + reach, 65 - reach, 65 - reach, 35 + reach, 35 + reach);
	read(&d, svg, 0.15, 3);
	const struct cutlint_neck *neck = drawing_neck(&d, CUTLINT_NECK_BRIDGE);
	assert_near(neck->drawn_mm, 2, 2e-6);
	double area = drawing_part(&d, CUTLINT_PART_FRAME)->area_mm2 +
		      drawing_part(&d, CUTLINT_PART_HELD)->area_mm2;
	assert_near(area, 648.385298, 142 * 0.005);
	/* The equal half hangs on the bar: from its middle to the far end of the disk. */
	assert_near(neck->load_mm2, 648.385298 / 2, 142 * 0.005);
	assert_near(neck->reach_mm, 25, 0.5);
	assert_near(length_of(&d, "outline"), 141.857512, 1e-5);
	drawing_close(&d);
}

/* A card W 100, H 60 with a hole of 30 by 20 at 2, 5: area W H - w h, length 2 (W + H + w + h). */
static void a_rectangle_with_a_hole_has_its_area_and_length(void **state)
{
	(void)state;
	struct drawing d;
	read(&d,
	     PAGE(120, 80,
		  "<rect id='outline' x='10' y='10' width='100' height='60'" LINE "/>"
		  "<rect id='window' x='12' y='15' width='30' height='20'" LINE "/>"),
	     0.15, 3);
	assert_near(drawing_part(&d, CUTLINT_PART_FRAME)->area_mm2, 6000 - 600, 1e-6);
	assert_near(length_of(&d, "outline") + length_of(&d, "window"), 2 * (160 + 50), 1e-6);
	assert_int_equal(d.sheet->neck_count, 1);
	assert_near(d.sheet->necks[0].drawn_mm, 2, 1e-6);
	drawing_close(&d);
}

/*
 * A sector of a ring, 120 degrees, R 20, r 15: area th (R² - r²)/2 = 183.259571, length
 * th (R + r) + 2 (R - r) = 83.303829.
 */
static void a_sector_of_a_ring_has_its_area_and_length(void **state)
{
	(void)state;
	struct drawing d;
	double half = PI / 3;
	char svg[512];
	snprintf(svg, sizeof svg,
		 PAGE(100, 100,
		      "<path id='window'" LINE "d='M%.12f %.12fA20 20 0 0 1 %.12f %.12fL%.12f %.12f"
		      "A15 15 0 0 0 %.12f %.12fZ'/>"),
		 50 + 20 * cos(half), 50 - 20 * sin(half), 50 + 20 * cos(half), 50 + 20 * sin(half),
		 50 + 15 * cos(half), 50 + 15 * sin(half), 50 + 15 * cos(half),
		 50 - 15 * sin(half));
	read(&d, svg, 0.15, 3);
	assert_near(drawing_part(&d, CUTLINT_PART_WINDOW)->area_mm2, 183.259571, 84 * 0.005);
	assert_near(length_of(&d, "window"), 83.303829, 1e-6);
	drawing_close(&d);
}

/* Slots 0.8 wide at a pitch of 1.5: webs p - s = 0.7 as drawn, p - s - k = 0.6 at a kerf of 0.1. */
static void webs_between_slots_are_pitch_less_slot_less_kerf(void **state)
{
	(void)state;
	struct drawing d;
	read(&d,
	     PAGE(100, 60,
		  "<g" LINE "><rect x='40' y='20' width='0.8' height='20'/>"
		  "<rect x='41.5' y='20' width='0.8' height='20'/></g>"),
	     0.1, 3);
	assert_int_equal(d.sheet->neck_count, 1);
	assert_near(d.sheet->necks[0].drawn_mm, 0.7, 1e-6);
	assert_near(d.sheet->necks[0].width_mm, 0.6, 1e-6);
	drawing_close(&d);
}

/* The counter of a letter O on n bridges: loose on none, alone on one, with n - 1 others on n. */
static void a_counter_is_held_if_any_bridge_holds_it(void **state)
{
	(void)state;
	for (int n = 0; n <= 4; n++) {
		char svg[8192], *at = svg, *end = svg + sizeof svg;
		at += snprintf(at, (size_t)(end - at),
			       PAGE_START(100, 60) "<g fill='none' stroke='black' "
						   "transform='translate(50 30)'>");
		if (n == 0)
			at += snprintf(at, (size_t)(end - at), "<circle r='9'/><circle r='5'/>");
		/* Parts of a ring between the radii 5 and 9, with bridges of 0.8 between them. */
		for (int k = 0; k < n; k++) {
			double from = 2 * PI * k / n, to = 2 * PI * (k + 1) / n;
			double out = asin(0.4 / 9), in = asin(0.4 / 5);
			int large = n == 1;
			at += snprintf(at, (size_t)(end - at),
				       "<path d='M%.9f %.9fA9 9 0 %d 1 %.9f %.9fL%.9f %.9f"
				       "A5 5 0 %d 0 %.9f %.9fZ'/>",
				       9 * cos(from + out), 9 * sin(from + out), large,
				       9 * cos(to - out), 9 * sin(to - out), 5 * cos(to - in),
				       5 * sin(to - in), large, 5 * cos(from + in),
				       5 * sin(from + in));
		}
		snprintf(at, (size_t)(end - at), "</g></svg>");
		struct drawing d;
		drawing_open(&d, svg);
		assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), n == 0 ? 1 : 0);
		assert_int_equal(drawing_part_count(&d, CUTLINT_PART_HELD), n == 0 ? 0 : 1);
		assert_int_equal(drawing_neck_count(&d, CUTLINT_NECK_BRIDGE), n);
		for (uint32_t i = 0; i < d.sheet->neck_count; i++) {
			assert_near(d.sheet->necks[i].drawn_mm, 0.8, 1e-5);
			assert_int_equal(d.sheet->necks[i].held_with, n - 1);
		}
		drawing_close(&d);
	}
}

/*
 * Two sides delta apart: up to 0.05 they are one line drawn twice; up to the kerf what is between
 * burns away; beyond it a sliver of delta less the kerf stays.
 */
static void sides_at_a_distance_are_a_duplicate_a_burn_or_a_sliver(void **state)
{
	(void)state;
	static const double DELTAS[] = {0, 0.04, 0.06, 0.14, 0.16, 0.45};
	for (size_t i = 0; i < sizeof DELTAS / sizeof DELTAS[0]; i++) {
		char svg[512];
		bool duplicate = DELTAS[i] <= 0.05;
		snprintf(svg, sizeof svg,
			 PAGE(100, 60,
			      "<g" LINE "><rect x='30' y='20' width='20' height='20'/>"
			      "<rect x='%.6f' y='20' width='20' height='20'/></g>"),
			 50 + DELTAS[i]);
		struct drawing d;
		drawing_open(&d, svg);
		assert_int_equal(d.sheet->overlap_count, duplicate ? 1 : 0);
		assert_int_equal(d.sheet->neck_count, duplicate ? 0 : 1);
		if (!duplicate)
			assert_near(d.sheet->necks[0].width_mm, DELTAS[i] - 0.15, 1e-6);
		drawing_close(&d);
	}
}

/*
 * Chords lie inside circles: a wall between two holes reads too wide, one between a hole and an
 * outer circle either way, each by at most the flatness. Widths on the true curves are exact at any
 * flatness.
 */
static void flattening_does_not_bias_widths(void **state)
{
	(void)state;
	static const double FLATNESSES[] = {0.05, 0.01, 0.002};
	for (int i = 0; i < 3; i++) {
		struct drawing d;
		drawing_read_flat(&d,
				  PAGE(100, 60,
				       "<g" LINE "><circle cx='40' cy='30' r='5'/>"
				       "<circle cx='50.2' cy='32.4' r='5.1'/></g>"),
				  FLATNESSES[i]);
		drawing_build(&d);
		assert_near(d.sheet->necks[0].drawn_mm, hypot(10.2, 2.4) - 10.1, 1e-6);
		drawing_close(&d);
		drawing_read_flat(&d,
				  PAGE(100, 60,
				       "<circle id='outline' cx='50' cy='30' r='20'" LINE "/>"
				       "<circle cx='54' cy='31' r='15'" LINE "/>"),
				  FLATNESSES[i]);
		drawing_build(&d);
		assert_near(d.sheet->necks[0].drawn_mm, 5 - hypot(4, 1), 1e-6);
		drawing_close(&d);
	}
}

/* Circle r 5: 2 pi r = 31.415927; ellipse 7, 4: 35.203162197287 by the arithmetic-geometric mean.
 */
static void lengths_are_those_of_the_true_curves(void **state)
{
	(void)state;
	struct drawing d;
	drawing_read(&d,
		     PAGE(100, 60,
			  "<g" LINE "><circle id='circle' cx='20' cy='30' r='5'/>"
			  "<ellipse id='ellipse' cx='50' cy='30' rx='7' ry='4' "
			  "transform='rotate(33 50 30)'/>"
			  "<path id='parabola' d='M0 0Q1 0 2 4'/>"
			  "<path id='half' d='M70 20A5 5 0 0 1 80 20'/>"
			  "<path id='shut' d='M70 40A5 5 0 0 1 80 40Z'/>"
			  "<rect id='round' x='10' y='45' width='20' height='10' rx='2'/></g>"));
	assert_near(length_of(&d, "circle"), 10 * PI, 1e-6);
	assert_near(length_of(&d, "ellipse"), 35.203162197287, 1e-6);
	/* S. Ramanujan, Quarterly Journal of Mathematics 45, 1914: within 1e-7 at this ratio. */
	double h = (3.0 / 11) * (3.0 / 11);
	assert_near(length_of(&d, "ellipse"), PI * 11 * (1 + 3 * h / (10 + sqrt(4 - 3 * h))), 1e-6);
	/* y = x² from 0 to a: a/2 sqrt(1 + 4a²) + asinh(2a)/4 (calculus textbooks). */
	assert_near(length_of(&d, "parabola"), sqrt(17) + asinh(4) / 4, 1e-6);
	assert_near(length_of(&d, "half"), 5 * PI, 1e-6);
	assert_near(length_of(&d, "shut"), 5 * PI + 10, 1e-6);
	assert_near(length_of(&d, "round"), 2 * (16 + 6) + 4 * PI, 1e-6);
	drawing_close(&d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_ring_has_its_wall_area_and_length),
		cmocka_unit_test(a_dumbbell_has_its_area_and_length),
		cmocka_unit_test(a_rectangle_with_a_hole_has_its_area_and_length),
		cmocka_unit_test(a_sector_of_a_ring_has_its_area_and_length),
		cmocka_unit_test(webs_between_slots_are_pitch_less_slot_less_kerf),
		cmocka_unit_test(a_counter_is_held_if_any_bridge_holds_it),
		cmocka_unit_test(sides_at_a_distance_are_a_duplicate_a_burn_or_a_sliver),
		cmocka_unit_test(flattening_does_not_bias_widths),
		cmocka_unit_test(lengths_are_those_of_the_true_curves),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
