/* Arrangements: worked cases, closed forms, and validity of snap rounding by brute force. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "geometry/arrangement.h"
#include "planar.h"
#include "shapes.h"

static struct shapes shapes;

/* cmocka 1.1's own compares floats. */
static void assert_near(double value, double expected, double apart)
{
	if (!(fabs(value - expected) <= apart))
		fail_msg("%.17g is not within %g of %.17g", value, apart, expected);
}

static struct geo_arrangement *arrange(void)
{
	struct geo_lines lines = shapes_lines(&shapes);
	struct geo_arrangement *arrangement = geo_arrangement_create(&lines, NULL);
	assert_non_null(arrangement);
	assert_int_equal(geo_arrangement_locate(arrangement), 0);
	return arrangement;
}

/* Arranges, checks by definition, and leaves the drawing empty. */
static struct geo_arrangement *arrange_soundly(void)
{
	struct geo_lines lines = shapes_lines(&shapes);
	struct geo_arrangement *arrangement = arrange();
	const char *wrong = planar_all(arrangement, &lines);
	if (wrong)
		fail_msg("%s", wrong);
	shapes_clear(&shapes);
	return arrangement;
}

static void add_nm(int32_t x, int32_t y)
{
	shapes.points[shapes.point_count++] = (struct cutlint_point){x, y};
	shapes.chains[shapes.chain_count - 1].count++;
}

static void line_nm(int32_t x0, int32_t y0, int32_t x1, int32_t y1)
{
	shapes_begin(&shapes, false);
	add_nm(x0, y0);
	add_nm(x1, y1);
}

static uint32_t face_at_mm(const struct geo_arrangement *arrangement, double x, double y)
{
	return geo_face_at(arrangement, (struct geo_vector){x * 1e6, y * 1e6});
}

static double area_mm2(const struct geo_arrangement *arrangement, uint32_t face)
{
	return arrangement->faces[face].area * 1e-12;
}

static void nothing_drawn_is_one_unbounded_face(void **state)
{
	(void)state;
	struct geo_arrangement *arrangement = arrange_soundly();
	assert_int_equal(arrangement->face_count, 1);
	assert_int_equal(arrangement->edge_count, 0);
	assert_int_equal(face_at_mm(arrangement, 1, 2), 0);
	geo_arrangement_destroy(arrangement);
}

static void a_rectangle_has_two_faces(void **state)
{
	(void)state;
	shapes_rectangle(&shapes, 0, 0, 30, 20);
	struct geo_arrangement *arrangement = arrange_soundly();
	assert_int_equal(arrangement->face_count, 2);
	assert_near(area_mm2(arrangement, 1), 600, 0);
	assert_near(area_mm2(arrangement, 0), -600, 0);
	assert_int_equal(face_at_mm(arrangement, 15, 10), 1);
	assert_int_equal(face_at_mm(arrangement, 31, 10), 0);
	geo_arrangement_destroy(arrangement);
}

static void two_squares_that_overlap_make_three_faces(void **state)
{
	(void)state;
	shapes_rectangle(&shapes, 0, 0, 2, 2);
	shapes_rectangle(&shapes, 1, 1, 2, 2);
	struct geo_arrangement *arrangement = arrange_soundly();
	assert_int_equal(arrangement->face_count, 4);
	assert_int_equal(arrangement->node_count, 10);
	assert_int_equal(arrangement->edge_count, 12);
	assert_near(area_mm2(arrangement, face_at_mm(arrangement, 1.5, 1.5)), 1, 0);
	assert_near(area_mm2(arrangement, face_at_mm(arrangement, 0.5, 0.5)), 3, 0);
	assert_near(area_mm2(arrangement, face_at_mm(arrangement, 2.5, 2.5)), 3, 0);
	geo_arrangement_destroy(arrangement);
}

static void holes_are_taken_off_and_nesting_is_by_depth(void **state)
{
	(void)state;
	for (int ring = 0; ring < 4; ring++)
		shapes_rectangle(&shapes, ring, ring, 20 - 2 * ring, 20 - 2 * ring);
	shapes_rectangle(&shapes, 8, 8, 1, 1);
	shapes_rectangle(&shapes, 10, 8, 1, 1);
	struct geo_arrangement *arrangement = arrange_soundly();
	assert_int_equal(arrangement->face_count, 7);
	for (int ring = 0; ring < 3; ring++) {
		uint32_t face = face_at_mm(arrangement, ring + 0.5, ring + 0.5);
		double outer = 20 - 2 * ring, inner = outer - 2;
		assert_near(area_mm2(arrangement, face), outer * outer - inner * inner, 0);
		assert_int_equal(arrangement->faces[face].depth, ring + 1);
		assert_int_equal(arrangement->faces[face].inner_count, 1);
	}
	uint32_t face = face_at_mm(arrangement, 3.5, 3.5);
	assert_near(area_mm2(arrangement, face), 14 * 14 - 2, 0);
	assert_int_equal(arrangement->faces[face].inner_count, 2);
	assert_int_equal(arrangement->faces[face_at_mm(arrangement, 8.5, 8.5)].depth, 5);
	geo_arrangement_destroy(arrangement);
}

static void an_open_line_has_the_same_face_on_both_sides(void **state)
{
	(void)state;
	shapes_rectangle(&shapes, 0, 0, 10, 10);
	shapes_line(&shapes, 2, 5, 8, 5);
	shapes_line(&shapes, 0, 1, 3, 1);
	struct geo_arrangement *arrangement = arrange_soundly();
	assert_int_equal(arrangement->face_count, 2);
	assert_near(area_mm2(arrangement, 1), 100, 0);
	assert_int_equal(arrangement->faces[1].inner_count, 1);
	assert_int_equal(arrangement->inner_count, 2);
	geo_arrangement_destroy(arrangement);
}

static void an_inner_boundary_names_what_lies_under_its_first_node(void **state)
{
	(void)state;
	shapes_rectangle(&shapes, 0, 0, 10, 10);
	shapes_rectangle(&shapes, 4, 1, 2, 2);
	shapes_rectangle(&shapes, 5, 6, 2, 2);
	struct geo_arrangement *arrangement = arrange_soundly();
	const struct geo_face *face = &arrangement->faces[face_at_mm(arrangement, 1, 1)];
	assert_int_equal(face->inner_count, 2);
	for (uint32_t i = 0; i < 2; i++) {
		uint32_t inner = arrangement->inners[face->first_inner + i];
		uint32_t under = arrangement->unders[face->first_inner + i];
		struct cutlint_point first =
			arrangement->nodes[geo_half_edge_from(arrangement, inner)];
		struct cutlint_point low =
			arrangement->nodes[geo_half_edge_from(arrangement, under)];
		assert_int_equal(first.x, i == 0 ? 4000000 : 5000000);
		assert_int_equal(low.y, i == 0 ? 0 : 3000000);
	}
	geo_arrangement_destroy(arrangement);
}

static void lines_that_coincide_share_their_edges(void **state)
{
	(void)state;
	shapes_rectangle(&shapes, 0, 0, 10, 10);
	shapes_rectangle(&shapes, 0, 0, 10, 10);
	shapes_line(&shapes, 12, 0, 2, 0);
	struct geo_arrangement *arrangement = arrange_soundly();
	assert_int_equal(arrangement->face_count, 2);
	assert_int_equal(arrangement->edge_count, 6);
	uint32_t of_three = 0;
	for (uint32_t edge = 0; edge < arrangement->edge_count; edge++) {
		uint32_t count;
		const uint32_t *covers = geo_covers(arrangement, edge, &count);
		assert_int_equal(covers[0], arrangement->edges[edge].segment);
		of_three += count == 3 && covers[0] == 0 && covers[1] == 4 && covers[2] == 8;
	}
	assert_int_equal(of_three, 1);
	geo_arrangement_destroy(arrangement);
}

static void segments_of_length_zero_are_dropped(void **state)
{
	(void)state;
	shapes_line(&shapes, 1, 1, 1, 1);
	shapes_begin(&shapes, true);
	add_nm(5, 5);
	shapes_begin(&shapes, true);
	add_nm(0, 0);
	add_nm(9, 0);
	add_nm(9, 0);
	add_nm(0, 9);
	struct geo_arrangement *arrangement = arrange_soundly();
	assert_int_equal(arrangement->node_count, 3);
	assert_int_equal(arrangement->edge_count, 3);
	assert_near(arrangement->faces[1].area, 40.5, 0);
	geo_arrangement_destroy(arrangement);
}

static void a_there_and_back_line_is_one_edge(void **state)
{
	(void)state;
	shapes_begin(&shapes, true);
	add_nm(0, 0);
	add_nm(100, 7);
	struct geo_arrangement *arrangement = arrange_soundly();
	assert_int_equal(arrangement->edge_count, 1);
	assert_int_equal(arrangement->cover_count, 2);
	assert_int_equal(arrangement->face_count, 1);
	geo_arrangement_destroy(arrangement);
}

static void circles_that_touch_meet_in_one_node(void **state)
{
	(void)state;
	shapes_circle(&shapes, 0, 0, 5, 64, 0);
	shapes_circle(&shapes, 10, 0, 5, 64, pi);
	struct geo_arrangement *arrangement = arrange_soundly();
	assert_int_equal(arrangement->node_count, 127);
	assert_int_equal(arrangement->face_count, 3);
	assert_int_equal(arrangement->inner_count, 1);
	/* Of a regular polygon inscribed in a circle: n/2 r² sin(2π/n), less the rounding to nm. */
	double area = 32 * 25 * sin(2 * pi / 64);
	assert_near(area_mm2(arrangement, face_at_mm(arrangement, 1, 1)), area, 1e-5);
	assert_near(area_mm2(arrangement, face_at_mm(arrangement, 11, 1)), area, 1e-5);
	geo_arrangement_destroy(arrangement);
}

static void a_sliver_of_one_nanometre_is_a_face(void **state)
{
	(void)state;
	shapes_rectangle(&shapes, 0, 0, 10, 10);
	shapes_begin(&shapes, true);
	add_nm(10000001, 0);
	add_nm(20000000, 0);
	add_nm(20000000, 10000000);
	add_nm(10000001, 10000000);
	line_nm(10000000, 0, 10000001, 0);
	line_nm(10000000, 10000000, 10000001, 10000000);
	struct geo_arrangement *arrangement = arrange_soundly();
	assert_int_equal(arrangement->face_count, 4);
	double least = INFINITY;
	for (uint32_t face = 1; face < 4; face++)
		least = fmin(least, arrangement->faces[face].area);
	assert_near(least, 1e7, 0);
	geo_arrangement_destroy(arrangement);
}

/* n lines through one point: 2n rays, and no face but the unbounded one. */
static void a_thousand_lines_through_one_point_meet_in_one_node(void **state)
{
	(void)state;
	for (int32_t i = 0; i < 500; i++) {
		line_nm(-1000000, -1000000 + 2000 * i, 1000000, 1000000 - 2000 * i);
		line_nm(1000000 - 2000 * i, -1000000, -1000000 + 2000 * i, 1000000);
	}
	struct geo_arrangement *arrangement = arrange();
	shapes_clear(&shapes);
	assert_int_equal(arrangement->node_count, 2001);
	assert_int_equal(arrangement->edge_count, 2000);
	assert_int_equal(arrangement->face_count, 1);
	geo_arrangement_destroy(arrangement);
}

static void lines_nearly_through_one_point_are_still_valid(void **state)
{
	(void)state;
	for (int i = 0; i < 60; i++) {
		double angle = pi * i / 60, x = 2e6 * cos(angle), y = 2e6 * sin(angle);
		line_nm((int32_t)lround(-x), (int32_t)lround(-y), (int32_t)lround(x) + i % 5,
			(int32_t)lround(y) + i % 3);
	}
	geo_arrangement_destroy(arrange_soundly());
}

/* A grid of m by n lines that stick out: (m-1)(n-1) bounded faces. */
static void a_grid_of_lines_has_the_faces_of_the_grid(void **state)
{
	(void)state;
	for (int i = 0; i < 9; i++)
		shapes_line(&shapes, i, -1, i, 12);
	for (int i = 0; i < 12; i++)
		shapes_line(&shapes, -1, i, 9, i);
	struct geo_arrangement *arrangement = arrange_soundly();
	assert_int_equal(arrangement->face_count, 1 + 8 * 11);
	for (uint32_t face = 1; face < arrangement->face_count; face++)
		assert_near(area_mm2(arrangement, face), 1, 0);
	geo_arrangement_destroy(arrangement);
}

/* m lines across n lines make m n crossings; lines through one point one, however many they are. */
static void crossings_over_a_bound_are_refused_with_two_lines_that_cross(void **state)
{
	(void)state;
	for (int i = 1; i < 9; i++)
		shapes_line(&shapes, i, 0, i, 13);
	for (int i = 1; i < 12; i++)
		shapes_line(&shapes, 0, i, 10, i);
	struct geo_lines lines = shapes_lines(&shapes);
	struct geo_crowding crowding = {.most = 8 * 11};
	struct geo_arrangement *arrangement = geo_arrangement_create(&lines, &crowding);
	assert_non_null(arrangement);
	assert_false(crowding.exceeded);
	geo_arrangement_destroy(arrangement);

	crowding.most--;
	assert_null(geo_arrangement_create(&lines, &crowding));
	assert_true(crowding.exceeded);
	bool upright[2];
	for (int i = 0; i < 2; i++) {
		const struct cutlint_point *from = &lines.points[crowding.segments[i]];
		upright[i] = from[0].x == from[1].x;
	}
	assert_true(upright[0] != upright[1]);
	shapes_clear(&shapes);

	for (int i = 0; i < 40; i++)
		shapes_line(&shapes, 50 - i, -50, i - 50, 50);
	lines = shapes_lines(&shapes);
	crowding = (struct geo_crowding){.most = 1};
	arrangement = geo_arrangement_create(&lines, &crowding);
	assert_non_null(arrangement);
	geo_arrangement_destroy(arrangement);
	shapes_clear(&shapes);
}

static void the_corners_of_the_largest_sheet_are_exact(void **state)
{
	(void)state;
	const int32_t far = CUTLINT_FARTHEST_NM;
	line_nm(-far, -far, far, far);
	line_nm(-far, far, far, -far + 1);
	line_nm(-far, -far, -far, far);
	line_nm(far, -far, far, far);
	struct geo_arrangement *arrangement = arrange_soundly();
	assert_int_equal(arrangement->face_count, 3);
	assert_near(arrangement->faces[1].area + arrangement->faces[2].area, 8e18, 8e18 * 1e-9);
	geo_arrangement_destroy(arrangement);
}

static void random_tiny_drawing(struct random *random, uint32_t side, uint32_t count)
{
	for (uint32_t i = 0; i < count; i++) {
		shapes_begin(&shapes, random_below(random, 2));
		uint32_t vertices = 2 + random_below(random, 3);
		for (uint32_t vertex = 0; vertex < vertices; vertex++)
			add_nm((int32_t)random_below(random, side),
			       (int32_t)random_below(random, side));
	}
}

static void places_are_found(const struct geo_arrangement *arrangement, struct random *random,
			     uint32_t side)
{
	for (int i = 0; i < 20; i++) {
		struct geo_vector at = {random_below(random, 4 * side) / 4.0,
					random_below(random, 4 * side) / 4.0 + 0.125};
		uint32_t expected = planar_face_at(arrangement, at);
		if (expected != GEO_NONE)
			assert_int_equal(geo_face_at(arrangement, at), expected);
	}
}

/* Of a place on an edge or a node: a face that touches it. */
static void places_on_lines_are_found(const struct geo_arrangement *arrangement)
{
	for (uint32_t half = 0; half < 2 * arrangement->edge_count; half++) {
		uint32_t node = geo_half_edge_from(arrangement, half);
		struct cutlint_point from = arrangement->nodes[node];
		struct cutlint_point to = arrangement->nodes[geo_half_edge_to(arrangement, half)];
		struct geo_vector middle = {(from.x + to.x) / 2.0, (from.y + to.y) / 2.0};
		uint32_t found = geo_face_at(arrangement, middle);
		assert_true(found == arrangement->face[half] ||
			    found == arrangement->face[half ^ 1]);

		found = geo_face_at(arrangement, (struct geo_vector){from.x, from.y});
		bool touches = false;
		for (uint32_t other = 0; other < 2 * arrangement->edge_count; other++)
			touches |= geo_half_edge_from(arrangement, other) == node &&
				   arrangement->face[other] == found;
		assert_true(touches);
	}
}

/* On so small a grid nearly all pixels are hot and nearly everything degenerates. */
static void snap_rounding_is_valid_where_everything_degenerates(void **state)
{
	(void)state;
	struct random random = {20};
	for (int i = 0; i < 600; i++) {
		uint32_t side = 4 + random_below(&random, 18);
		random_tiny_drawing(&random, side, 1 + random_below(&random, 14));
		struct geo_arrangement *arrangement = arrange_soundly();
		places_are_found(arrangement, &random, side);
		places_on_lines_are_found(arrangement);
		geo_arrangement_destroy(arrangement);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(nothing_drawn_is_one_unbounded_face),
		cmocka_unit_test(a_rectangle_has_two_faces),
		cmocka_unit_test(two_squares_that_overlap_make_three_faces),
		cmocka_unit_test(holes_are_taken_off_and_nesting_is_by_depth),
		cmocka_unit_test(an_open_line_has_the_same_face_on_both_sides),
		cmocka_unit_test(an_inner_boundary_names_what_lies_under_its_first_node),
		cmocka_unit_test(lines_that_coincide_share_their_edges),
		cmocka_unit_test(segments_of_length_zero_are_dropped),
		cmocka_unit_test(a_there_and_back_line_is_one_edge),
		cmocka_unit_test(circles_that_touch_meet_in_one_node),
		cmocka_unit_test(a_sliver_of_one_nanometre_is_a_face),
		cmocka_unit_test(a_thousand_lines_through_one_point_meet_in_one_node),
		cmocka_unit_test(lines_nearly_through_one_point_are_still_valid),
		cmocka_unit_test(a_grid_of_lines_has_the_faces_of_the_grid),
		cmocka_unit_test(crossings_over_a_bound_are_refused_with_two_lines_that_cross),
		cmocka_unit_test(the_corners_of_the_largest_sheet_are_exact),
		cmocka_unit_test(snap_rounding_is_valid_where_everything_degenerates),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
