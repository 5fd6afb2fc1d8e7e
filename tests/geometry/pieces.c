/* Pieces: worked cases. All corners and feet are integers, so that no rounding comes in. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "cutting.h"

static void cut_once(void)
{
	struct random random = {1};
	cut(&random);
}

/* How many pieces have this area, of those with bounds. */
static uint32_t with_area(double area)
{
	uint32_t count = 0;
	for (uint32_t i = 1; i < drawing.pieces.count; i++)
		count += fabs(drawing.pieces.items[i].area - area) < 1e-6 * area;
	return count;
}

static bool is_bridge(uint32_t number)
{
	return drawing.pieces.sides[2 * number] != drawing.pieces.sides[2 * number + 1];
}

static void a_face_without_a_neck_is_one_piece(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	rectangle(40, 40, 10, 20);
	cut_once();
	assert_int_equal(drawing.pieces.count, 3);
	assert_int_equal(with_area(9800), 1);
	assert_int_equal(with_area(200), 1);
	end();
}

static void a_ring_with_one_neck_stays_one_piece(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	rectangle(20, 20, 60, 60);
	neck(50, 0, 50, 20);
	cut_once();
	assert_int_equal(drawing.pieces.count, 3);
	assert_int_equal(with_area(6400), 1);
	assert_false(is_bridge(0));
	end();
}

/* k cuts through a ring make k pieces: here quarters with mitred corners. */
static void a_ring_with_four_necks_falls_into_four(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	rectangle(20, 20, 60, 60);
	neck(0, 0, 20, 20);
	neck(100, 0, 80, 20);
	neck(80, 80, 100, 100);
	neck(20, 80, 0, 100);
	cut_once();
	assert_int_equal(drawing.pieces.count, 6);
	assert_int_equal(with_area(1600), 4);
	for (uint32_t i = 0; i < 4; i++)
		assert_true(is_bridge(i));
	end();
}

static void a_neck_that_is_not_chosen_does_not_cut(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	rectangle(20, 20, 60, 60);
	neck(50, 0, 50, 20);
	neck(50, 80, 50, 100);
	drawing.chosen[1] = false;
	cut_once();
	assert_int_equal(with_area(6400), 1);
	assert_int_equal(drawing.pieces.sides[2], drawing.pieces.sides[0]);
	assert_int_equal(drawing.pieces.sides[3], drawing.pieces.sides[0]);
	end();
}

static void strips_and_contacts_do_not_cut(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	neck(50, 0, 50, 100);
	cut_once();
	assert_int_equal(with_area(5000), 2);
	geo_pieces_finish(&drawing.pieces);
	struct geo_necks necks = {drawing.necks, 1};
	for (int kind = GEO_STRIP; kind <= GEO_CONTACT; kind++) {
		drawing.necks[0].kind = (enum geo_neck_kind)kind;
		assert_int_equal(geo_pieces_cut(drawing.arrangement, &necks, drawing.chosen,
						&drawing.pieces, NULL),
				 0);
		assert_int_equal(with_area(10000), 1);
		geo_pieces_finish(&drawing.pieces);
	}
	geo_arrangement_destroy(drawing.arrangement);
}

/* Cuts between holes alone part nothing until they close a ring. */
static void holes_joined_in_a_ring_part_what_lies_within(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	rectangle(10, 10, 10, 80);
	rectangle(80, 10, 10, 80);
	rectangle(50, 50, 4, 4);
	neck(20, 15, 80, 15);
	cut_once();
	assert_int_equal(with_area(10000 - 1600 - 16), 1);
	assert_false(is_bridge(0));
	end();

	neck(80, 85, 20, 85);
	cut_once();
	assert_int_equal(with_area(60 * 70 - 16), 1);
	assert_int_equal(with_area(10000 - 1600 - 60 * 70), 1);
	assert_true(is_bridge(0));
	assert_true(is_bridge(1));
	end();
}

/* A hole on each side of a cut that runs below both of them. */
static void a_hole_goes_to_the_piece_that_holds_it(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	rectangle(10, 60, 10, 10);
	rectangle(70, 10, 20, 20);
	rectangle(30, 80, 5, 5);
	neck(0, 0, 100, 100);
	cut_once();
	assert_int_equal(with_area(5000 - 100 - 25), 1);
	assert_int_equal(with_area(5000 - 400), 1);
	end();
}

/* The upright line through the hole's first corner meets the foot of the cut below it. */
static void a_hole_straight_above_a_foot_lies_above_its_cut(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 400, 400);
	rectangle(300, 100, 50, 80);
	rectangle(300, 250, 20, 20);
	neck(300, 180, 400, 200);
	neck(300, 100, 0, 100);
	cut_once();
	assert_int_equal(with_area(300 * 300 + 100 * 210 - 400), 1);
	assert_int_equal(with_area(160000 - 111000 - 4000), 1);
	end();
}

static void necks_on_one_edge_and_from_one_foot_are_ordered(void **state)
{
	(void)state;
	begin();
	rectangle(0, 0, 100, 100);
	neck(70, 0, 70, 100);
	neck(20, 0, 20, 100);
	neck(70, 0, 100, 30);
	neck(100, 60, 70, 0);
	cut_once();
	assert_int_equal(with_area(2000), 1);
	assert_int_equal(with_area(5000), 1);
	assert_int_equal(with_area(30 * 30 / 2.0), 2);
	assert_int_equal(with_area(3000 - 900), 1);
	end();
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_face_without_a_neck_is_one_piece),
		cmocka_unit_test(a_ring_with_one_neck_stays_one_piece),
		cmocka_unit_test(a_ring_with_four_necks_falls_into_four),
		cmocka_unit_test(a_neck_that_is_not_chosen_does_not_cut),
		cmocka_unit_test(strips_and_contacts_do_not_cut),
		cmocka_unit_test(holes_joined_in_a_ring_part_what_lies_within),
		cmocka_unit_test(a_hole_goes_to_the_piece_that_holds_it),
		cmocka_unit_test(a_hole_straight_above_a_foot_lies_above_its_cut),
		cmocka_unit_test(necks_on_one_edge_and_from_one_foot_are_ordered),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
