/*
 * Loads: how much hangs on a bridge that alone holds something, and how far that reaches. Areas are
 * those of rectangles, reaches distances between their corners; whole random designs are compared
 * with a count over the sheet's own parts, bridge by bridge.
 */
#include "drawing.h"

#include <stdio.h>
#include <stdlib.h>

#include "random.h"

/* Reaches are told to within 2 %, never too long. */
#define assert_reach(value, expected) assert_near((value), (expected)*0.99, (expected)*0.0100001)

/*
 * A square of 20 by 20 in a square window, on a bar of width 2 and length 5 above it. It is cut off
 * in the middle of the bar, 2.5 above the square: 400 + 2 x 2.5.
 */
static void a_square_on_a_bar_weighs_its_area_and_half_the_bar(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d,
		     PAGE(100, 60, "<path" LINE "d='M35 15H49V20H40V40H60V20H51V15H65V45H35Z'/>"));
	const struct cutlint_neck *neck = drawing_neck(&d, CUTLINT_NECK_BRIDGE);
	assert_near(neck->load_mm2, 405, 1e-6);
	/* From the middle of the bar to the lower corners. */
	assert_reach(neck->reach_mm, hypot(10, 22.5));
	assert_near(drawing_part(&d, CUTLINT_PART_HELD)->area_mm2, 405, 1e-6);
	drawing_close(&d);
}

/*
 * Two squares of 10 by 10, one below the other, on bars of width 2 and length 4: the upper bar
 * carries both, the lower one the lower square only.
 */
static void what_hangs_on_what_hangs_counts_above(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<path" LINE "d='M40 10H49V14H45V24H49V28H45V38H55V28H51V24H55V14H51"
			      "V10H60V42H40Z'/>"));
	assert_int_equal(d.sheet->neck_count, 2);
	for (uint32_t i = 0; i < 2; i++) {
		const struct cutlint_neck *neck = &d.sheet->necks[i];
		bool upper = neck->walls[0].at.y < 20;
		/* Both squares, the bar between them and half of the upper bar; or half a bar. */
		assert_near(neck->load_mm2, upper ? 200 + 8 + 4 : 100 + 4, 1e-6);
		assert_reach(neck->reach_mm, hypot(5, upper ? 26 : 12));
	}
	drawing_close(&d);
}

/* A counter on two bars: neither holds it alone. */
static void of_two_bridges_neither_carries_a_load_alone(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><path d='M30 30V15H70V30H65V20H35V30Z'/>"
			      "<path d='M30 31V45H70V31H65V40H35V31Z'/></g>"));
	assert_int_equal(drawing_neck_count(&d, CUTLINT_NECK_BRIDGE), 2);
	for (uint32_t i = 0; i < 2; i++) {
		assert_near(d.sheet->necks[i].load_mm2, 0, 0);
		assert_near(d.sheet->necks[i].reach_mm, 0, 0);
	}
	drawing_close(&d);
}

/* The same with a left bar of 0.1 mm, which burns through: the right one carries all. */
static void beside_a_burned_through_bridge_the_sound_one_carries_all(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><path d='M30 30V15H70V30H65V20H35V30Z'/>"
			      "<path d='M30 30.1V45H70V31H65V40H35V30.1Z'/></g>"));
	for (uint32_t i = 0; i < d.sheet->neck_count; i++) {
		const struct cutlint_neck *neck = &d.sheet->necks[i];
		double load = neck->width_mm > 0 ? 600 + 2.5 + 0.25 : 0;
		assert_near(neck->load_mm2, load, 1e-6);
		assert_true(neck->width_mm > 0 || neck->reach_mm == 0);
	}
	drawing_close(&d);
}

/*
 * Two squares of 10 by 10 side by side, joined by two bars of 1 by 4, the left one on a bar of
 * 2 by 4: a ring of bridges below one that alone holds both.
 */
static void a_ring_of_bridges_hangs_as_one(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d,
		     PAGE(100, 60,
			  "<g" LINE
			  "><path d='M29 16H34V20H30V30H40V28H44V30H54V20H44V22H40V20H36V16H58V34"
			  "H29Z'/>"
			  "<rect x='40' y='23' width='4' height='4'/></g>"));
	uint32_t alone = 0;
	for (uint32_t i = 0; i < d.sheet->neck_count; i++) {
		const struct cutlint_neck *neck = &d.sheet->necks[i];
		if (neck->load_mm2 == 0)
			continue;
		alone++;
		/* Both squares, two bars of 1 by 4 and half of the upper bar. */
		assert_near(neck->load_mm2, 200 + 8 + 4, 1e-6);
		assert_reach(neck->reach_mm, hypot(54 - 35, 30 - 18));
	}
	assert_int_equal(alone, 1);
	drawing_close(&d);
}

/* Six squares of 6 by 6, each on a bar of 2 by 3 to a hub of 60 by 10 that hangs by one of 2 by 2.
 */
static void a_hub_carries_all_that_hangs_on_it(void **state)
{
	(void)state;
	char svg[2048];
	size_t used = (size_t)snprintf(svg, sizeof svg,
				       PAGE_START(100, 60) "<path" LINE "d='M10 10H49V12H20V22");
	for (int i = 0; i < 6; i++)
		used += (size_t)snprintf(svg + used, sizeof svg - used, "H%d V25H%dV31H%dV25H%dV22",
					 24 + 10 * i, 22 + 10 * i, 28 + 10 * i, 26 + 10 * i);
	snprintf(svg + used, sizeof svg - used, "H80V12H51V10H90V50H10Z'/></svg>");
	struct drawing d;
	drawing_open(&d, svg);
	assert_int_equal(d.sheet->neck_count, 7);
	uint32_t all = 0;
	for (uint32_t i = 0; i < 7; i++) {
		const struct cutlint_neck *neck = &d.sheet->necks[i];
		if (neck->walls[0].at.y > 20) {
			assert_near(neck->load_mm2, 36 + 3, 1e-6);
			continue;
		}
		all++;
		assert_near(neck->load_mm2, 600 + 6 * (36 + 6) + 2, 1e-6);
		assert_reach(neck->reach_mm, hypot(28, 20));
	}
	assert_int_equal(all, 1);
	drawing_close(&d);
}

/* Which parts hang on a frame by sound bridges when one of them is taken away. */
static void flood(const struct cutlint_sheet *sheet, uint32_t without, bool *reached)
{
	for (uint32_t p = 0; p < sheet->part_count; p++)
		reached[p] = sheet->parts[p].kind == CUTLINT_PART_FRAME;
	bool more = true;
	while (more) {
		more = false;
		for (uint32_t n = 0; n < sheet->neck_count; n++) {
			const struct cutlint_neck *neck = &sheet->necks[n];
			bool sound = neck->kind == CUTLINT_NECK_BRIDGE && neck->width_mm > 0;
			if (!sound || n == without ||
			    reached[neck->parts[0]] == reached[neck->parts[1]])
				continue;
			reached[neck->parts[0]] = reached[neck->parts[1]] = more = true;
		}
	}
}

static double area_lost(const struct cutlint_sheet *sheet, const bool *before, uint32_t neck)
{
	bool *after = calloc(sheet->part_count, sizeof *after);
	assert_non_null(after);
	flood(sheet, neck, after);
	double area = 0;
	for (uint32_t p = 0; p < sheet->part_count; p++)
		area += before[p] && !after[p] ? sheet->parts[p].area_mm2 : 0;
	free(after);
	return area;
}

/* How many of its bridges alone hold something. */
static uint32_t compare_with_flood(const struct cutlint_sheet *sheet)
{
	uint32_t alone = 0;
	bool *before = calloc(sheet->part_count, sizeof *before);
	assert_non_null(before);
	flood(sheet, CUTLINT_NONE, before);
	for (uint32_t n = 0; n < sheet->neck_count; n++) {
		double lost = area_lost(sheet, before, n);
		assert_near(sheet->necks[n].load_mm2, lost, 1e-6);
		alone += lost > 0 ? 1 : 0;
	}
	free(before);
	return alone;
}

/* Random rooms that hang on each other in a window, each on one or two bars, some burned through.
 */
struct tree {
	struct dice dice;
	char contour[8192], inner[4096];
	size_t contour_used, inner_used;
};

static void go(struct tree *tree, const char *command, double to)
{
	size_t left = sizeof tree->contour - tree->contour_used;
	tree->contour_used +=
		(size_t)snprintf(tree->contour + tree->contour_used, left, "%s%.3f", command, to);
}

/* Half the width of what joins a room at `x` to the one above, whose lower side is at `y`. */
static double add_link(struct tree *tree, double x, double y)
{
	double kind = dice_roll(&tree->dice, 0, 1);
	if (kind < 0.5)
		return 1;
	if (kind < 0.6)
		return 0.05;
	/* A window between two bars, of which the left one may burn through. */
	double left = kind < 0.8 ? 1 : 0.1;
	size_t room = sizeof tree->inner - tree->inner_used;
	tree->inner_used += (size_t)snprintf(tree->inner + tree->inner_used, room,
					     "<rect x='%.3f' y='%.3f' width='%.3f' height='3'/>",
					     x - 2 + left, y, 3 - left);
	return 2;
}

enum { SLOT = 6, ROOM = 4, LINK = 3 };

/* A room over so many slots, from its link's left side round to the right one. */
static void add_room(struct tree *tree, double left, int slots, double top, double link, int depth)
{
	double right = left + SLOT * slots - 2, middle = (left + right) / 2;
	int used = depth > 0 && dice_roll(&tree->dice, 0, 1) < 0.8 ? 0 : slots;
	go(tree, "H", left);
	go(tree, "V", top + ROOM);
	while (used < slots) {
		int share = 1 + (int)dice_roll(&tree->dice, 0, slots - used);
		double x = left + SLOT * used, below = top + ROOM;
		double at = x + SLOT * share / 2.0 - 1;
		double half = add_link(tree, at, below);
		go(tree, "H", at - half);
		go(tree, "V", below + LINK);
		add_room(tree, x, share, below + LINK, half, depth - 1);
		go(tree, "V", below);
		used += share;
	}
	go(tree, "H", right);
	go(tree, "V", top);
	go(tree, "H", middle + link);
}

static void open_tree(struct drawing *drawing, uint64_t number)
{
	struct tree *tree = calloc(1, sizeof *tree);
	static char svg[16384];
	assert_non_null(tree);
	tree->dice.state = number * 7919 + 1;
	go(tree, "H", 49);
	go(tree, "V", 8);
	add_room(tree, 8, 14, 8, 1, 5);
	snprintf(svg, sizeof svg, PAGE(100, 60, "<g" LINE "><path d='M5 5%sV5H95V58H5Z'/>%s</g>"),
		 tree->contour, tree->inner);
	drawing_open(drawing, svg);
	free(tree);
}

static void in_random_designs_a_load_is_what_falls_off_without_the_bridge(void **state)
{
	(void)state;
	uint32_t alone = 0;
	for (uint64_t number = 0; number < 60; number++) {
		struct drawing d;
		open_tree(&d, number);
		alone += compare_with_flood(d.sheet);
		drawing_close(&d);
	}
	assert_true(alone >= 200);
}

/* Round windows at random: hardly anything hangs on one bridge, and no load is invented. */
static void among_random_windows_no_load_is_invented(void **state)
{
	(void)state;
	static char svg[16384];
	for (uint64_t number = 0; number < 40; number++) {
		struct drawing d;
		random_design(number, "", svg, sizeof svg);
		drawing_open(&d, svg);
		compare_with_flood(d.sheet);
		drawing_close(&d);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_square_on_a_bar_weighs_its_area_and_half_the_bar),
		cmocka_unit_test(what_hangs_on_what_hangs_counts_above),
		cmocka_unit_test(of_two_bridges_neither_carries_a_load_alone),
		cmocka_unit_test(beside_a_burned_through_bridge_the_sound_one_carries_all),
		cmocka_unit_test(a_ring_of_bridges_hangs_as_one),
		cmocka_unit_test(a_hub_carries_all_that_hangs_on_it),
		cmocka_unit_test(in_random_designs_a_load_is_what_falls_off_without_the_bridge),
		cmocka_unit_test(among_random_windows_no_load_is_invented),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
