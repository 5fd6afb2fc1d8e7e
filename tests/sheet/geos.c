/*
 * Areas, lengths, openings, inscribed circles, distances and the narrowest place against the GEOS C
 * library (3.11), which knows nothing of arrangements here: it unites polygons, and measures by its
 * own distance code.
 */
#include "drawing.h"

#include <geos_c.h>
#include <stdio.h>
#include <stdlib.h>

#include "random.h"

enum { DESIGNS = 60 };

static GEOSGeometry *polygon_of(GEOSContextHandle_t geos, const struct cutlint_design *design,
				uint32_t number)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	GEOSCoordSequence *points = GEOSCoordSeq_create_r(geos, outline->vertex_count + 1, 2);
	for (uint32_t i = 0; i <= outline->vertex_count; i++) {
		uint32_t vertex = outline->first_vertex + i % outline->vertex_count;
		struct cutlint_xy at = cutlint_point_mm(design->vertices[vertex]);
		GEOSCoordSeq_setXY_r(geos, points, i, at.x, at.y);
	}
	return GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, points), NULL, 0);
}

static GEOSGeometry *windows_of(GEOSContextHandle_t geos, const struct cutlint_design *design)
{
	GEOSGeometry **polygons = calloc(design->outline_count, sizeof *polygons);
	for (uint32_t i = 0; i < design->outline_count; i++)
		polygons[i] = polygon_of(geos, design, i);
	GEOSGeometry *all = GEOSGeom_createCollection_r(geos, GEOS_MULTIPOLYGON, polygons,
							design->outline_count);
	GEOSGeometry *united = GEOSUnaryUnion_r(geos, all);
	GEOSGeometry *page = GEOSGeom_createRectangle_r(geos, 0, 0, 100, 60);
	GEOSGeometry *result = GEOSIntersection_r(geos, united, page);
	GEOSGeom_destroy_r(geos, page);
	GEOSGeom_destroy_r(geos, united);
	GEOSGeom_destroy_r(geos, all);
	free(polygons);
	return result;
}

static double area_of(GEOSContextHandle_t geos, const GEOSGeometry *geometry)
{
	double area = 0;
	assert_int_equal(GEOSArea_r(geos, geometry, &area), 1);
	return area;
}

static double part_area(const struct cutlint_sheet *sheet, bool kept)
{
	double area = 0;
	for (uint32_t i = 0; i < sheet->part_count; i++) {
		enum cutlint_part_kind kind = sheet->parts[i].kind;
		bool is_kept = kind == CUTLINT_PART_FRAME || kind == CUTLINT_PART_HELD ||
			       kind == CUTLINT_PART_LOOSE;
		area += kind != CUTLINT_PART_WASTE && is_kept == kept ? sheet->parts[i].area_mm2
								      : 0;
	}
	return area;
}

/* GEOS's polygon of a hole: the one that holds the hole's centre. */
static const GEOSGeometry *polygon_at(GEOSContextHandle_t geos, const GEOSGeometry *windows,
				      struct cutlint_xy at)
{
	for (int i = 0; i < GEOSGetNumGeometries_r(geos, windows); i++) {
		const GEOSGeometry *polygon = GEOSGetGeometryN_r(geos, windows, i);
		GEOSGeometry *point = GEOSGeom_createPointFromXY_r(geos, at.x, at.y);
		char inside = GEOSContains_r(geos, polygon, point);
		GEOSGeom_destroy_r(geos, point);
		if (inside == 1)
			return polygon;
	}
	fail_msg("a hole's centre lies in no window");
	return NULL;
}

static void check_hole(GEOSContextHandle_t geos, const struct drawing *d,
		       const struct cutlint_hole *hole, const GEOSGeometry *windows)
{
	const GEOSGeometry *polygon = polygon_at(geos, windows, hole->centre);
	assert_near(hole->area_mm2, area_of(geos, polygon), 1e-4);
	GEOSGeometry *radius = GEOSMaximumInscribedCircle_r(geos, polygon, 1e-4);
	double length = 0;
	assert_int_equal(GEOSLength_r(geos, radius, &length), 1);
	GEOSGeom_destroy_r(geos, radius);
	/* Holes are refined on the true curves, of which GEOS sees the chords. */
	assert_near(hole->diameter_mm, 2 * length, 2 * d->design->flatness_mm + 2e-4);
}

static int count_off_edge(GEOSContextHandle_t geos, const GEOSGeometry *windows)
{
	GEOSGeometry *page = GEOSGeom_createRectangle_r(geos, 0, 0, 100, 60);
	const GEOSGeometry *edge = GEOSGetExteriorRing_r(geos, page);
	int count = 0;
	for (int i = 0; i < GEOSGetNumGeometries_r(geos, windows); i++)
		count += GEOSIntersects_r(geos, GEOSGetGeometryN_r(geos, windows, i), edge) == 0;
	GEOSGeom_destroy_r(geos, page);
	return count;
}

/* Reads each random design and has it checked. Flatness in mm; 0: the default. */
static void check_random(void (*check)(GEOSContextHandle_t geos, struct drawing *drawing),
			 double flatness_mm)
{
	GEOSContextHandle_t geos = GEOS_init_r();
	for (uint64_t number = 0; number < DESIGNS; number++) {
		static char svg[16384];
		random_design(number, "", svg, sizeof svg);
		struct drawing d;
		drawing_read_flat(&d, svg, flatness_mm);
		check(geos, &d);
		drawing_close(&d);
	}
	GEOS_finish_r(geos);
}

static void check_parts_and_holes(GEOSContextHandle_t geos, struct drawing *d)
{
	drawing_build(d);
	GEOSGeometry *windows = windows_of(geos, d->design);
	assert_near(part_area(d->sheet, false), area_of(geos, windows), 1e-4);
	/* Kept faces of which the burn leaves nothing are no parts: at most a kerf wide. */
	assert_near(part_area(d->sheet, true), 6000 - area_of(geos, windows), 0.5);
	assert_int_equal(d->sheet->hole_count, count_off_edge(geos, windows));
	for (uint32_t i = 0; i < d->sheet->hole_count; i++)
		check_hole(geos, d, &d->sheet->holes[i], windows);
	GEOSGeom_destroy_r(geos, windows);
}

static void areas_and_openings_are_those_of_united_polygons(void **state)
{
	(void)state;
	check_random(check_parts_and_holes, 0);
}

static void check_distances(GEOSContextHandle_t geos, struct drawing *d)
{
	for (uint32_t i = 1; i < d->design->outline_count; i++) {
		GEOSGeometry *a = polygon_of(geos, d->design, i - 1);
		GEOSGeometry *b = polygon_of(geos, d->design, i);
		double expected = 0;
		assert_int_equal(GEOSDistance_r(geos, GEOSGetExteriorRing_r(geos, a),
						GEOSGetExteriorRing_r(geos, b), &expected),
				 1);
		struct cutlint_wall walls[2];
		double found = cutlint_outline_distance(d->design, i - 1, i, walls);
		assert_near(found, expected, 2 * d->design->flatness_mm + 1e-6);
		assert_near(hypot(walls[1].at.x - walls[0].at.x, walls[1].at.y - walls[0].at.y),
			    found, 1e-5);
		GEOSGeom_destroy_r(geos, a);
		GEOSGeom_destroy_r(geos, b);
	}
}

static void distances_between_outlines_are_those_of_rings(void **state)
{
	(void)state;
	check_random(check_distances, 0);
}

static void check_lengths_and_areas(GEOSContextHandle_t geos, struct drawing *d)
{
	for (uint32_t i = 0; i < d->design->outline_count; i++) {
		GEOSGeometry *ring = polygon_of(geos, d->design, i);
		double length = 0;
		assert_int_equal(GEOSLength_r(geos, ring, &length), 1);
		/* n chords of a circle are short by a share 1.645/n²; n is 111 or more. */
		double true_length = cutlint_outline_length(d->design, i);
		assert_true(true_length >= length - 1e-5);
		assert_true(true_length <= length * (1 + 1.5e-4) + 1e-5);
		assert_near(fabs(cutlint_outline_area(d->design, i)), area_of(geos, ring), 1e-9);
		GEOSGeom_destroy_r(geos, ring);
	}
}

static void lengths_and_areas_of_outlines_are_those_of_rings(void **state)
{
	(void)state;
	check_random(check_lengths_and_areas, 0.0002);
}

/* Six windows with four long sides each, in two rows; the gaps between them are what is narrow. */
static void random_quadrangles(uint64_t number, char *out, size_t size)
{
	struct dice dice = {.state = number + 1};
	size_t used = (size_t)snprintf(out, size, PAGE_START(100, 60));
	for (int i = 0; i < 6; i++) {
		double x = 17 + 33 * (i % 3), y = i < 3 ? 16 : 44;
		used += (size_t)snprintf(out + used, size - used, "<polygon points='");
		for (int k = 0; k < 4; k++) {
			double angle = k * acos(0) + dice_roll(&dice, -0.3, 0.3);
			double radius =
				k % 2 ? dice_roll(&dice, 12, 13.8) : dice_roll(&dice, 14, 16.4);
			used += (size_t)snprintf(out + used, size - used, "%.6f,%.6f ",
						 x + radius * cos(angle), y + radius * sin(angle));
		}
		used += (size_t)snprintf(out + used, size - used, "'/>");
	}
	snprintf(out + used, size - used, "</svg>");
}

/* The page without its windows. */
static GEOSGeometry *card_of(GEOSContextHandle_t geos, const struct cutlint_design *design)
{
	GEOSGeometry *windows = windows_of(geos, design);
	GEOSGeometry *page = GEOSGeom_createRectangle_r(geos, 0, 0, 100, 60);
	GEOSGeometry *card = GEOSDifference_r(geos, page, windows);
	GEOSGeom_destroy_r(geos, page);
	GEOSGeom_destroy_r(geos, windows);
	return card;
}

/* Minimum clearance is the smallest way that a vertex can move until the polygon is invalid. */
static void the_narrowest_neck_is_the_minimum_clearance(void **state)
{
	(void)state;
	GEOSContextHandle_t geos = GEOS_init_r();
	for (uint64_t number = 0; number < DESIGNS; number++) {
		static char svg[4096];
		random_quadrangles(number, svg, sizeof svg);
		struct drawing d;
		drawing_open(&d, svg);
		GEOSGeometry *card = card_of(geos, d.design);
		double clearance = 0, narrowest = INFINITY;
		assert_int_equal(GEOSMinimumClearance_r(geos, card, &clearance), 0);
		for (uint32_t i = 0; i < d.sheet->neck_count; i++)
			narrowest = fmin(narrowest, d.sheet->necks[i].drawn_mm);
		assert_near(narrowest, clearance, 1e-6);
		GEOSGeom_destroy_r(geos, card);
		drawing_close(&d);
	}
	GEOS_finish_r(geos);
}

/* Whether a disk of some diameter that lies in a region covers a place: opening by that disk. */
static bool is_covered(GEOSContextHandle_t geos, const GEOSGeometry *region, double diameter,
		       struct cutlint_xy at)
{
	enum { QUADRANT = 200 };
	GEOSGeometry *eroded = GEOSBuffer_r(geos, region, -diameter / 2, QUADRANT);
	GEOSGeometry *point = GEOSGeom_createPointFromXY_r(geos, at.x, at.y);
	double away = INFINITY;
	if (GEOSisEmpty_r(geos, eroded) == 0)
		assert_int_equal(GEOSDistance_r(geos, eroded, point, &away), 1);
	GEOSGeom_destroy_r(geos, point);
	GEOSGeom_destroy_r(geos, eroded);
	return away <= diameter / 2;
}

/*
 * Opening (J. Serra, "Image Analysis and Mathematical Morphology", 1982, title from memory): what
 * no disk of a diameter reaches is thinner than that. Just inside a neck's walls the disks up to
 * its width reach, and no larger ones; round walls leave room for 2 % on each side.
 */
static void necks_are_what_the_opening_by_a_larger_disk_takes_off(void **state)
{
	(void)state;
	static const char *const DESIGNS_WITH_NECKS[] = {
		PAGE(100, 60, "<circle cx='40' cy='30' r='5'/><circle cx='50.6' cy='30' r='5'/>"),
		PAGE(100, 60, "<circle cx='50' cy='3.8' r='3'/><circle cx='50' cy='54' r='4'/>"),
		PAGE(100, 60,
		     "<path d='M21 0A29 29 0 0 0 79 0Z'/><path d='M21 60A29 29 0 0 1 79 60Z'/>"),
		PAGE(100, 60,
		     "<rect x='20' y='20' width='20' height='20'/>"
		     "<rect x='41.3' y='15' width='20' height='20'/>"),
	};
	GEOSContextHandle_t geos = GEOS_init_r();
	uint32_t necks = 0;
	for (size_t i = 0; i < sizeof DESIGNS_WITH_NECKS / sizeof DESIGNS_WITH_NECKS[0]; i++) {
		struct drawing d;
		drawing_open(&d, DESIGNS_WITH_NECKS[i]);
		GEOSGeometry *kept = card_of(geos, d.design);
		for (uint32_t n = 0; n < d.sheet->neck_count; n++) {
			const struct cutlint_neck *neck = &d.sheet->necks[n];
			struct cutlint_xy p = neck->walls[0].at, q = neck->walls[1].at;
			struct cutlint_xy in = {p.x + 0.02 * (q.x - p.x), p.y + 0.02 * (q.y - p.y)};
			assert_true(is_covered(geos, kept, 0.96 * neck->drawn_mm, in));
			assert_false(is_covered(geos, kept, 1.04 * neck->drawn_mm, in));
			necks++;
		}
		GEOSGeom_destroy_r(geos, kept);
		drawing_close(&d);
	}
	GEOS_finish_r(geos);
	assert_int_equal(necks, 5);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(areas_and_openings_are_those_of_united_polygons),
		cmocka_unit_test(distances_between_outlines_are_those_of_rings),
		cmocka_unit_test(lengths_and_areas_of_outlines_are_those_of_rings),
		cmocka_unit_test(the_narrowest_neck_is_the_minimum_clearance),
		cmocka_unit_test(necks_are_what_the_opening_by_a_larger_disk_takes_off),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
