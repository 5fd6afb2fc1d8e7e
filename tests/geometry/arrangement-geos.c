/*
 * Arrangements against GEOS: the same lines noded by its own snap rounding on the same grid, and
 * polygonized. Count of faces, each area, and total length of edges must be the same.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "geometry/arrangement.h"
#include "geos.h"
#include "random.h"

#define MOST_POINTS 4000
#define MOST_CHAINS 256

static struct cutlint_point points[MOST_POINTS];
static struct geo_chain chains[MOST_CHAINS];
static struct geo_lines lines;

static void begin(void)
{
	lines = (struct geo_lines){points, chains, 0, 0};
}

static void begin_chain(bool closed)
{
	chains[lines.chain_count++] = (struct geo_chain){lines.point_count, 0, closed};
}

static void add(int32_t x, int32_t y)
{
	points[lines.point_count++] = (struct cutlint_point){x, y};
	chains[lines.chain_count - 1].count++;
}

static int by_size(const void *a, const void *b)
{
	double left = *(const double *)a, right = *(const double *)b;
	return (left > right) - (left < right);
}

static double length_of(const struct geo_arrangement *arrangement)
{
	double length = 0;
	for (uint32_t edge = 0; edge < arrangement->edge_count; edge++) {
		struct cutlint_point from = arrangement->nodes[arrangement->edges[edge].from];
		struct cutlint_point to = arrangement->nodes[arrangement->edges[edge].to];
		length += hypot((double)to.x - from.x, (double)to.y - from.y);
	}
	return length;
}

static double *face_areas(const struct geo_arrangement *arrangement)
{
	double *areas = calloc(arrangement->face_count, sizeof(*areas));
	for (uint32_t face = 1; face < arrangement->face_count; face++)
		areas[face - 1] = arrangement->faces[face].area;
	qsort(areas, arrangement->face_count - 1, sizeof(*areas), by_size);
	return areas;
}

static double *polygon_areas(GEOSContextHandle_t geos, const GEOSGeometry *noded, uint32_t *count)
{
	GEOSGeometry *polygons = GEOSPolygonize_r(geos, &noded, 1);
	*count = (uint32_t)GEOSGetNumGeometries_r(geos, polygons);
	double *areas = calloc(*count + 1, sizeof(*areas));
	for (uint32_t i = 0; i < *count; i++)
		GEOSArea_r(geos, GEOSGetGeometryN_r(geos, polygons, (int)i), &areas[i]);
	qsort(areas, *count, sizeof(*areas), by_size);
	GEOSGeom_destroy_r(geos, polygons);
	return areas;
}

/* Arranges what was drawn and compares it. Returns the count of faces. */
static uint32_t compare(GEOSContextHandle_t geos)
{
	struct geo_arrangement *arrangement = geo_arrangement_create(&lines, NULL);
	assert_non_null(arrangement);
	GEOSGeometry *drawn = geos_lines(geos, &lines);
	GEOSGeometry *noded = GEOSUnaryUnionPrec_r(geos, drawn, 1);
	uint32_t count = arrangement->face_count, polygon_count;
	double *expected = polygon_areas(geos, noded, &polygon_count);
	double *areas = face_areas(arrangement), length;
	GEOSLength_r(geos, noded, &length);

	assert_int_equal(count - 1, polygon_count);
	assert_true(fabs(length_of(arrangement) - length) <= 1e-9 * length);
	for (uint32_t i = 0; i < polygon_count; i++)
		assert_true(fabs(areas[i] - expected[i]) <= 1e-6 * expected[i]);

	free(areas);
	free(expected);
	GEOSGeom_destroy_r(geos, noded);
	GEOSGeom_destroy_r(geos, drawn);
	geo_arrangement_destroy(arrangement);
	return count;
}

/*
 * Corners on a coarse lattice, so that crossings, overlaps and T-junctions abound. The lattice's
 * step is a multiple of 2^9, and the crossings of lines between its 13 x 13 points have
 * denominators of at most 2 * 12² = 288 steps, so that no crossing falls midway between two
 * integers, where GEOS, which works it out in doubles, rounds either way.
 */
static void drawings_on_a_lattice_have_the_same_faces(void **state)
{
	(void)state;
	GEOSContextHandle_t geos = GEOS_init_r();
	struct random random = {11};
	uint32_t faces = 0;
	for (int i = 0; i < 300; i++) {
		begin();
		uint32_t chain_count = 1 + random_below(&random, 10);
		int32_t step = 512 * (1 + (int32_t)random_below(&random, 300000));
		for (uint32_t chain = 0; chain < chain_count; chain++) {
			begin_chain(random_below(&random, 3) > 0);
			uint32_t count = 2 + random_below(&random, 4);
			for (uint32_t j = 0; j < count; j++)
				add(step * (int32_t)random_below(&random, 13),
				    step * (int32_t)random_below(&random, 13));
		}
		faces += compare(geos);
	}
	assert_true(faces > 3000);
	GEOS_finish_r(geos);
}

/* Long lines anywhere on a sheet of 2 m, which cross in hundreds of faces. */
static void drawings_without_a_lattice_have_the_same_faces(void **state)
{
	(void)state;
	GEOSContextHandle_t geos = GEOS_init_r();
	struct random random = {12};
	uint32_t faces = 0;
	for (int i = 0; i < 60; i++) {
		begin();
		for (uint32_t chain = 0; chain < 5; chain++) {
			begin_chain(random_below(&random, 2));
			for (uint32_t j = 0; j < 8; j++)
				add((int32_t)random_below(&random, 2000000001) - 1000000000,
				    (int32_t)random_below(&random, 2000000001) - 1000000000);
		}
		faces += compare(geos);
	}
	assert_true(faces > 6000);
	GEOS_finish_r(geos);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(drawings_on_a_lattice_have_the_same_faces),
		cmocka_unit_test(drawings_without_a_lattice_have_the_same_faces),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
