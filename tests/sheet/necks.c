/* Necks: widths after the burn at a kerf of 0.15 mm, what they hold, what is burned through. */
#include "drawing.h"

#include <stdio.h>
#include <stdlib.h>

#include "random.h"

/* Two holes of radii 5 whose centres are 10.6 apart: neck D - r1 - r2 = 0.6, on the centre line. */
static void two_holes_leave_their_distance_less_the_kerf(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<circle id='a' cx='40' cy='30' r='5'" LINE "/>"
			      "<circle id='b' cx='50.6' cy='30' r='5'" LINE "/>"));
	assert_int_equal(d.sheet->neck_count, 1);
	const struct cutlint_neck *neck = &d.sheet->necks[0];
	assert_int_equal(neck->kind, CUTLINT_NECK_THIN_WALL);
	assert_near(neck->drawn_mm, 0.6, 1e-6);
	assert_near(neck->width_mm, 0.45, 1e-6);
	assert_int_equal(neck->walls[0].outline, drawing_outline(&d, "b"));
	assert_int_equal(neck->walls[1].outline, drawing_outline(&d, "a"));
	assert_near((neck->walls[0].at.x + neck->walls[1].at.x) / 2, 45.3, 1e-6);
	assert_near(neck->walls[0].at.y, 30, 1e-3);
	assert_false(neck->at_edge);
	drawing_close(&d);
}

/* The same holes turned by an angle no vertex falls on; curves are cubics, arcs and ellipses. */
static void the_width_is_that_of_the_true_curves_at_any_angle(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g transform='rotate(17.3 50 30)'" LINE ">"
			      "<ellipse cx='40' cy='30' rx='5' ry='5'/>"
			      "<path d='M55.6 30A5 5 0 1 1 45.6 30A5 5 0 1 1 55.6 30Z'/></g>"));
	assert_int_equal(d.sheet->neck_count, 1);
	assert_near(d.sheet->necks[0].drawn_mm, 0.6, 1e-6);
	drawing_close(&d);
}

/* Hole of radius 3, centre 3.8 from the edge: wall c - r = 0.8; the page's edge is not burned. */
static void against_an_edge_that_is_not_burned_only_half_the_kerf_goes(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<circle id='hole' cx='50' cy='3.8' r='3'" LINE "/>"));
	assert_int_equal(d.sheet->neck_count, 1);
	const struct cutlint_neck *neck = &d.sheet->necks[0];
	assert_near(neck->drawn_mm, 0.8, 1e-6);
	assert_near(neck->width_mm, 0.725, 1e-6);
	assert_true(neck->at_edge);
	assert_int_equal(neck->walls[1].outline, CUTLINT_NONE);
	assert_int_equal(neck->walls[0].outline, drawing_outline(&d, "hole"));
	drawing_close(&d);
	drawing_open(&d, PAGE(100, 60,
			      "<rect id='outline' x='0' y='0' width='100' height='60'" LINE "/>"
			      "<circle id='hole' cx='50' cy='3.8' r='3'" LINE "/>"));
	assert_near(d.sheet->necks[0].width_mm, 0.65, 1e-6);
	assert_true(d.sheet->necks[0].at_edge);
	drawing_close(&d);
}

/* A plate of height 20 with two round bites of radius 9 from opposite edges: neck H - 2q = 2. */
static void an_hourglass_parts_into_two_held_by_one_bridge(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 20,
			      "<path id='top' d='M21 0A9 9 0 0 0 39 0Z' fill='red'/>"
			      "<path id='low' d='M21 20A9 9 0 0 1 39 20Z' fill='red'/>"));
	const struct cutlint_neck *neck = drawing_neck(&d, CUTLINT_NECK_BRIDGE);
	assert_near(neck->drawn_mm, 2, 1e-6);
	assert_near(neck->width_mm, 1.85, 1e-6);
	const struct cutlint_part *held = drawing_part(&d, CUTLINT_PART_HELD);
	assert_ptr_equal(held, &d.sheet->parts[neck->held]);
	assert_int_equal(neck->held_with, 0);
	assert_int_equal(held->bridge_count, 1);
	/* Left of the bites: 30 x 20 less two quarters of a circle of radius 9. */
	assert_near(held->area_mm2, 600 - 9 * 9 * 3.14159265 / 2, 0.5);
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_FRAME), 1);
	drawing_close(&d);
}

/* The counter of a square O on a bar of width w and length 5, cut out of the letter. */
#define COUNTER(w) PAGE(100, 60, "<path" LINE "d='M30 15H70V45H30V" #w "H35V40H65V20H35V30H30Z'/>")

static void a_corridor_is_one_bridge_with_its_length(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, COUNTER(31));
	const struct cutlint_neck *neck = drawing_neck(&d, CUTLINT_NECK_BRIDGE);
	assert_near(neck->drawn_mm, 1, 1e-6);
	assert_near(neck->width_mm, 0.85, 1e-6);
	/* The bar is 5 long; where the width is at most 5 % more, it goes on round both corners. */
	assert_true(neck->length_mm >= 5 && neck->length_mm < 6.5);
	assert_near(hypot(neck->ends[1].x - neck->ends[0].x, neck->ends[1].y - neck->ends[0].y),
		    neck->length_mm, 0.1);
	const struct cutlint_part *held = drawing_part(&d, CUTLINT_PART_HELD);
	assert_near(held->area_mm2, 600, 5.1);
	assert_ptr_equal(held, &d.sheet->parts[neck->held]);
	drawing_close(&d);
}

static void a_bridge_up_to_the_kerf_is_burned_through_and_what_it_held_is_loose(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, COUNTER(30.15));
	const struct cutlint_neck *neck = drawing_neck(&d, CUTLINT_NECK_BRIDGE);
	assert_true(neck->width_mm <= 1e-9);
	const struct cutlint_part *loose = drawing_part(&d, CUTLINT_PART_LOOSE);
	assert_ptr_equal(loose, &d.sheet->parts[neck->held]);
	assert_int_equal(neck->held_with, 0);
	drawing_close(&d);
	drawing_open(&d, COUNTER(30.16));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 0);
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_HELD), 1);
	drawing_close(&d);
}

/* A counter on two bars, left and right, of which the left may be burned through. */
#define TWO_BARS(w)                                                                                \
	PAGE(100, 60,                                                                              \
	     "<g" LINE "><path d='M30 30V15H70V30H65V20H35V30Z'/>"                                 \
	     "<path d='M30 " #w "V45H70V31H65V40H35V" #w "Z'/></g>")

static void of_two_bridges_each_knows_the_other(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, TWO_BARS(30.5));
	assert_int_equal(drawing_neck_count(&d, CUTLINT_NECK_BRIDGE), 2);
	const struct cutlint_part *held = drawing_part(&d, CUTLINT_PART_HELD);
	assert_int_equal(held->bridge_count, 2);
	for (uint32_t i = 0; i < d.sheet->neck_count; i++) {
		assert_ptr_equal(held, &d.sheet->parts[d.sheet->necks[i].held]);
		assert_int_equal(d.sheet->necks[i].held_with, 1);
	}
	drawing_close(&d);
}

static void a_burned_bridge_beside_a_sound_one_leaves_the_part_held(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, TWO_BARS(30.1));
	assert_int_equal(drawing_neck_count(&d, CUTLINT_NECK_BRIDGE), 2);
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 0);
	assert_int_equal(drawing_part(&d, CUTLINT_PART_HELD)->bridge_count, 1);
	for (uint32_t i = 0; i < d.sheet->neck_count; i++) {
		const struct cutlint_neck *neck = &d.sheet->necks[i];
		assert_int_equal(neck->held_with, neck->width_mm > 0 ? 0 : 1);
	}
	drawing_close(&d);
}

static void the_gap_of_an_open_path_is_told_from_a_bridge(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path d='M50 20H60V40H40V20H49'" LINE "/>"));
	assert_int_equal(d.sheet->neck_count, 1);
	assert_true(d.sheet->necks[0].open_gap);
	assert_near(d.sheet->necks[0].drawn_mm, 1, 1e-6);
	drawing_close(&d);
	/* The last end faces the first side a little beside its start. */
	drawing_open(&d, PAGE(100, 60, "<path d='M50 20L60 21V40H40V20.7H49'" LINE "/>"));
	assert_int_equal(d.sheet->neck_count, 1);
	assert_true(d.sheet->necks[0].open_gap);
	drawing_close(&d);
	drawing_open(&d, PAGE(100, 60, "<path class='slit' d='M50 20H60V40H40V20H49'" LINE "/>"));
	assert_int_equal(d.sheet->neck_count, 1);
	assert_false(d.sheet->necks[0].open_gap);
	drawing_close(&d);
}

static void narrow_places_of_loose_parts_are_not_told(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<circle cx='50' cy='30' r='25' fill='red'/>"
			      "<path fill='white' d='M35 20H65V40H51V25H49V40H35Z'/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 1);
	assert_int_equal(d.sheet->neck_count, 0);
	drawing_close(&d);
}

static void a_tip_is_no_neck(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<path d='M30 20L70 30L30 40L50 30Z'" LINE "/>"));
	assert_int_equal(drawing_neck_count(&d, CUTLINT_NECK_BRIDGE), 0);
	assert_int_equal(drawing_neck_count(&d, CUTLINT_NECK_THIN_WALL), 0);
	drawing_close(&d);
}

/* Eccentric ring, R 20, r 15, offset 4.5: least wall R - r - e = 0.5. */
static void an_eccentric_ring_has_one_neck_where_it_is_thinnest(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<circle id='outline' cx='50' cy='30' r='20'" LINE "/>"
			      "<circle cx='54.5' cy='30' r='15'" LINE "/>"));
	assert_int_equal(d.sheet->neck_count, 1);
	assert_near(d.sheet->necks[0].drawn_mm, 0.5, 1e-6);
	assert_near(d.sheet->necks[0].width_mm, 0.35, 1e-6);
	assert_near(d.sheet->necks[0].walls[1].at.x, 70, 1e-3);
	drawing_close(&d);
}

/*
 * Coaxial ellipses 20, 10 and 17, 6: the least wall is 2.996485 at (16.8655, 0.7533), although the
 * walls on the axes are 3 and 4. Found numerically from the parametric forms.
 */
static void the_least_wall_of_an_elliptic_ring_is_beside_its_axis(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<ellipse id='outline' cx='50' cy='30' rx='20' ry='10'" LINE "/>"
			      "<ellipse cx='50' cy='30' rx='17' ry='6'" LINE "/>"));
	assert_int_equal(d.sheet->neck_count, 2);
	for (uint32_t i = 0; i < 2; i++) {
		const struct cutlint_neck *neck = &d.sheet->necks[i];
		assert_near(neck->drawn_mm, 2.996485, 1e-6);
		assert_near(fabs(neck->walls[0].at.x - 50), 16.8655, 5e-3);
		assert_near(fabs(neck->walls[0].at.y - 30), 0.7533, 5e-3);
	}
	drawing_close(&d);
}

/* A zigzag of round holes; each is drawn at a known gap from the one before. */
struct chain {
	double gaps[5];
	char svg[4096];
};

static void make_chain(struct dice *dice, struct chain *chain)
{
	double x = 10, y = 30, r = dice_roll(dice, 2.5, 5);
	size_t used = (size_t)snprintf(
		chain->svg, sizeof chain->svg,
		PAGE_START(100, 60) "<g" LINE "><circle cx='%.17g' cy='%.17g' r='%.17g'/>", x, y,
		r);
	for (int i = 0; i < 5; i++) {
		double next = dice_roll(dice, 2.5, 5), turn = dice_roll(dice, -0.25, 0.25);
		chain->gaps[i] = dice_roll(dice, 0.02, 2.9);
		x += (r + chain->gaps[i] + next) * cos(turn);
		y += (r + chain->gaps[i] + next) * sin(turn);
		r = next;
		used += (size_t)snprintf(chain->svg + used, sizeof chain->svg - used,
					 "<circle cx='%.17g' cy='%.17g' r='%.17g'/>", x, y, r);
	}
	snprintf(chain->svg + used, sizeof chain->svg - used, "</g></svg>");
}

static void gaps_known_by_construction_are_found_to_a_nanometre_or_two(void **state)
{
	(void)state;
	struct dice dice = {11};
	for (int design = 0; design < 60; design++) {
		struct chain chain;
		make_chain(&dice, &chain);
		struct drawing d;
		drawing_open(&d, chain.svg);
		/* Necks stand in the order of the later wall, which is that of the chain. */
		assert_int_equal(d.sheet->neck_count, 5);
		for (uint32_t i = 0; i < 5; i++)
			assert_near(d.sheet->necks[i].drawn_mm, chain.gaps[i], 2e-6);
		drawing_close(&d);
	}
}

static int compare_widths(const void *left, const void *right)
{
	const double *a = left, *b = right;
	return *a < *b ? -1 : *a > *b;
}

/* The widths of all necks but those at the page's edge, which does not turn, ascending. */
static uint32_t collect_widths(const char *group, uint64_t number, double *widths, size_t most)
{
	static char svg[16384];
	random_design(number, group, svg, sizeof svg);
	struct drawing d;
	drawing_open(&d, svg);
	uint32_t count = 0;
	for (uint32_t i = 0; i < d.sheet->neck_count && count < most; i++) {
		if (!d.sheet->necks[i].at_edge)
			widths[count++] = d.sheet->necks[i].drawn_mm;
	}
	qsort(widths, count, sizeof *widths, compare_widths);
	drawing_close(&d);
	return count;
}

static void mirroring_leaves_all_widths_as_they_are(void **state)
{
	(void)state;
	enum { MOST = 256 };
	for (uint64_t number = 0; number < 40; number++) {
		double plain[MOST], mirrored[MOST];
		uint32_t count = collect_widths("", number, plain, MOST);
		assert_int_equal(collect_widths("transform='translate(100 0) scale(-1 1)'", number,
						mirrored, MOST),
				 count);
		for (uint32_t i = 0; i < count; i++)
			assert_near(mirrored[i], plain[i], 5e-6);
	}
}

/* Two sides within 0.05 mm are one line drawn twice; at 0.1 mm they leave a wall, burned through.
 */
static void the_sliver_between_two_copies_of_a_line_is_no_neck(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><rect x='40' y='20' width='10' height='10'/>"
			      "<rect x='50.03' y='20' width='10' height='10'/></g>"));
	assert_int_equal(d.sheet->neck_count, 0);
	assert_int_equal(d.sheet->overlap_count, 1);
	drawing_close(&d);
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><rect x='40' y='20' width='10' height='10'/>"
			      "<rect x='50.1' y='20' width='10' height='10'/></g>"));
	assert_near(drawing_neck(&d, CUTLINT_NECK_THIN_WALL)->width_mm, -0.05, 1e-9);
	drawing_close(&d);
}

/* Slots 0.8 wide at a pitch of 1.5: webs p - s = 0.7 as drawn. */
static void webs_between_parallel_slots_are_thin_walls(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><rect x='40' y='20' width='0.8' height='20'/>"
			      "<rect x='41.5' y='20' width='0.8' height='20'/>"
			      "<rect x='43' y='20' width='0.8' height='20'/></g>"));
	assert_int_equal(d.sheet->neck_count, 2);
	for (uint32_t i = 0; i < 2; i++) {
		assert_near(d.sheet->necks[i].drawn_mm, 0.7, 1e-9);
		assert_true(d.sheet->necks[i].length_mm >= 20);
	}
	drawing_close(&d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(two_holes_leave_their_distance_less_the_kerf),
		cmocka_unit_test(the_width_is_that_of_the_true_curves_at_any_angle),
		cmocka_unit_test(against_an_edge_that_is_not_burned_only_half_the_kerf_goes),
		cmocka_unit_test(an_hourglass_parts_into_two_held_by_one_bridge),
		cmocka_unit_test(a_corridor_is_one_bridge_with_its_length),
		cmocka_unit_test(
			a_bridge_up_to_the_kerf_is_burned_through_and_what_it_held_is_loose),
		cmocka_unit_test(of_two_bridges_each_knows_the_other),
		cmocka_unit_test(a_burned_bridge_beside_a_sound_one_leaves_the_part_held),
		cmocka_unit_test(the_gap_of_an_open_path_is_told_from_a_bridge),
		cmocka_unit_test(narrow_places_of_loose_parts_are_not_told),
		cmocka_unit_test(a_tip_is_no_neck),
		cmocka_unit_test(an_eccentric_ring_has_one_neck_where_it_is_thinnest),
		cmocka_unit_test(the_least_wall_of_an_elliptic_ring_is_beside_its_axis),
		cmocka_unit_test(gaps_known_by_construction_are_found_to_a_nanometre_or_two),
		cmocka_unit_test(mirroring_leaves_all_widths_as_they_are),
		cmocka_unit_test(the_sliver_between_two_copies_of_a_line_is_no_neck),
		cmocka_unit_test(webs_between_parallel_slots_are_thin_walls),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
