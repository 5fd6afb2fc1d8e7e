/*
 * Sites: where bridges could hold a loose part. Distances and places are those of rectangles and
 * circles; sites of one part lie at least 90 and 60 degrees apart as seen from its middle.
 */
#include "drawing.h"

static const struct cutlint_site *site(const struct drawing *drawing, uint32_t number)
{
	const struct cutlint_part *part = drawing_part(drawing, CUTLINT_PART_LOOSE);
	assert_true(number < part->site_count);
	return &drawing->sheet->sites[part->first_site + number];
}

static void assert_at(const struct cutlint_wall *wall, double x, double y, double tolerance)
{
	assert_near(wall->at.x, x, tolerance);
	assert_near(wall->at.y, y, tolerance);
}

/* A square of 10 in a window of 20, 1 from its left side, 2 from the top, 9 and 8 from the others.
 */
static void a_square_is_best_held_at_its_nearest_sides(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<rect id='window' x='30' y='20' width='20' height='20'" LINE "/>"
			      "<rect id='part' x='31' y='22' width='10' height='10'" LINE "/>"));
	/* The left side's corner is as near as its middle; from there on only corners are left. */
	assert_int_equal(drawing_part(&d, CUTLINT_PART_LOOSE)->site_count, 2);
	assert_near(site(&d, 0)->apart_mm, 1, 1e-6);
	assert_at(&site(&d, 0)->part, 31, 27, 1e-6);
	assert_at(&site(&d, 0)->kept, 30, 27, 1e-6);
	assert_int_equal(site(&d, 0)->part.outline, drawing_outline(&d, "part"));
	assert_int_equal(site(&d, 0)->kept.outline, drawing_outline(&d, "window"));
	assert_near(site(&d, 1)->apart_mm, 2, 1e-6);
	assert_at(&site(&d, 1)->part, 41, 22, 1e-6);
	drawing_close(&d);
}

/* A disk of radius 5 in a round window of radius 8, 2 off its middle: 8 - 5 - 2 = 1 at the least.
 */
static void a_disk_is_best_held_on_the_side_to_which_it_is_shifted(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<circle cx='50' cy='30' r='8'" LINE "/>"
			      "<circle cx='52' cy='30' r='5'" LINE "/>"));
	const struct cutlint_part *part = drawing_part(&d, CUTLINT_PART_LOOSE);
	assert_int_equal(part->site_count, 3);
	assert_near(site(&d, 0)->apart_mm, 1, 0.011);
	/* Within a chord of the line through both middles. */
	assert_at(&site(&d, 0)->part, 57, 30, 0.3);
	for (uint32_t i = 1; i < 3; i++) {
		double bearing = atan2(site(&d, i)->part.at.y - 30, site(&d, i)->part.at.x - 52);
		double first = atan2(site(&d, 0)->part.at.y - 30, site(&d, 0)->part.at.x - 52);
		assert_true(fabs(bearing - first) >= 3.14159265 / 3 - 0.01);
		/* At a bearing b the window is √(64 - (2 sin b)²) - 2 cos b from the disk's middle;
		 * the nearest place lies within a chord. */
		double s = 2 * sin(bearing), away = sqrt(64 - s * s) - 2 * cos(bearing) - 5;
		assert_true(site(&d, i)->apart_mm <= away + 0.01);
		assert_true(site(&d, i)->apart_mm >= 1);
	}
	drawing_close(&d);
}

static void parts_that_hang_have_no_sites(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d,
		     PAGE(100, 60, "<path" LINE "d='M35 15H49V20H40V40H60V20H51V15H65V45H35Z'/>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_HELD), 1);
	assert_int_equal(d.sheet->site_count, 0);
	drawing_close(&d);
}

/* Of two disks, one in the other's window, the inner is nearer to the outer, which is loose too. */
static void another_loose_part_is_no_place_to_hang_on(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g" LINE "><circle cx='50' cy='30' r='20'/>"
			      "<circle cx='50' cy='30' r='15'/><circle cx='50' cy='30' r='10'/>"
			      "<circle id='inner' cx='50' cy='30' r='5'/></g>"));
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 2);
	for (uint32_t p = 0; p < d.sheet->part_count; p++) {
		const struct cutlint_part *part = &d.sheet->parts[p];
		if (part->kind != CUTLINT_PART_LOOSE)
			continue;
		bool inner = part->outline == drawing_outline(&d, "inner");
		const struct cutlint_site *first = &d.sheet->sites[part->first_site];
		assert_near(first->apart_mm, inner ? 15 : 5, 0.011);
	}
	drawing_close(&d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_square_is_best_held_at_its_nearest_sides),
		cmocka_unit_test(a_disk_is_best_held_on_the_side_to_which_it_is_shifted),
		cmocka_unit_test(parts_that_hang_have_no_sites),
		cmocka_unit_test(another_loose_part_is_no_place_to_hang_on),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
