/* The picture: polygons of cards, windows, and what falls out by mistake. */
#include "drawing.h"

static const double PI = 3.14159265358979323846;

/* The area of circles drawn with chords within 0.005 mm is a little short. */
static const double CHORDS = 0.01;

/* The shoelace formula over a region's rings, material on their left: holes count against. */
static double area_of(const struct sheet_picture *picture, const struct picture_region *region)
{
	double area2 = 0;
	for (uint32_t r = 0; r < region->ring_count; r++) {
		struct picture_ring ring = picture->rings[region->first_ring + r];
		for (uint32_t i = 0; i < ring.count; i++) {
			struct cutlint_xy a = cutlint_point_mm(picture->points[ring.first + i]);
			struct cutlint_xy b = cutlint_point_mm(
				picture->points[ring.first + (i + 1) % ring.count]);
			area2 += a.x * b.y - a.y * b.x;
		}
	}
	return fabs(area2) / 2;
}

/* The only region of a kind. */
static const struct picture_region *region_of(const struct drawing *d, enum cutlint_part_kind kind)
{
	const struct picture_region *found = NULL;
	for (uint32_t i = 0; i < d->picture.region_count; i++) {
		if (d->picture.regions[i].kind != kind)
			continue;
		assert_null(found);
		found = &d->picture.regions[i];
	}
	assert_non_null(found);
	return found;
}

static void a_window_has_its_circle(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<circle cx='50' cy='30' r='10'" LINE "/>"));
	assert_int_equal(d.picture.region_count, 2);
	assert_near(area_of(&d.picture, region_of(&d, CUTLINT_PART_WINDOW)), 100 * PI,
		    100 * PI * CHORDS);
	assert_near(area_of(&d.picture, region_of(&d, CUTLINT_PART_FRAME)), 6000, 1e-9);
	drawing_close(&d);
}

/* Radii 20 and 15: area pi (R² - r²) = 549.778714. */
static void a_loose_ring_has_a_hole(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<circle cx='50' cy='30' r='25'" LINE "/>"
			      "<circle cx='50' cy='30' r='20'" LINE "/>"
			      "<circle cx='50' cy='30' r='15'" LINE "/>"));
	const struct picture_region *ring = region_of(&d, CUTLINT_PART_LOOSE);
	assert_int_equal(ring->ring_count, 2);
	assert_near(area_of(&d.picture, ring), 549.778714, 549.778714 * CHORDS);
	drawing_close(&d);
}

/*
 * An island of two half discs of radius 8 with a strip of 0.1 mm between them, 64 pi + 1.6, hangs
 * on two bridges as wide as the strip and 2 mm long, which a kerf of 0.15 mm burns through. It is
 * cut somewhere along them: up to 0.4 more.
 */
static void what_burned_bridges_free_ends_at_them(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<path d='M30 20H49.95V22A8 8 0 0 0 49.95 38V40H30Z'/>"
			      "<path d='M70 20H50.05V22A8 8 0 0 1 50.05 38V40H70Z'/>"));
	const struct picture_region *island = region_of(&d, CUTLINT_PART_LOOSE);
	assert_near(area_of(&d.picture, island), d.sheet->parts[island->part].area_mm2, 1e-4);
	assert_near(area_of(&d.picture, island), 64 * PI + 1.8, 0.2 + 0.1 * CHORDS);
	drawing_close(&d);
}

static void windows_that_overlap_are_one_region(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<rect x='20' y='20' width='20' height='20'/>"
			      "<rect x='30' y='25' width='20' height='10'/>"));
	assert_near(area_of(&d.picture, region_of(&d, CUTLINT_PART_WINDOW)), 500, 1e-9);
	drawing_close(&d);
}

/* Between two windows 0.1 mm apart a kerf of 0.15 mm leaves nothing of a closed sliver. */
static void what_the_kerf_takes_whole_is_neither_kept_nor_loose(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d,
		     PAGE(100, 60,
			  "<path fill-rule='evenodd' d='M30 20H60V40H30ZM40 30V30.1H50V30Z'/>"));
	assert_near(area_of(&d.picture, region_of(&d, CUTLINT_PART_WASTE)), 1, 1e-9);
	drawing_close(&d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_window_has_its_circle),
		cmocka_unit_test(a_loose_ring_has_a_hole),
		cmocka_unit_test(what_burned_bridges_free_ends_at_them),
		cmocka_unit_test(windows_that_overlap_are_one_region),
		cmocka_unit_test(what_the_kerf_takes_whole_is_neither_kept_nor_loose),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
