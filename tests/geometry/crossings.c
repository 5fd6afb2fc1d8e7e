/* Crossings in crowded places: all pairs by definition. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "geometry/crossings.h"
#include "planar.h"
#include "random.h"

#define MOST 400

static struct geo_segment segments[MOST];
static unsigned char seen[MOST][MOST];

static bool mark(void *user, uint32_t a, uint32_t b)
{
	(void)user;
	assert_true(a < b);
	seen[a][b] = 1;
	return true;
}

static bool cross(const struct geo_segment *a, const struct geo_segment *b)
{
	return planar_side(a->from, a->to, b->from) * planar_side(a->from, a->to, b->to) < 0 &&
	       planar_side(b->from, b->to, a->from) * planar_side(b->from, b->to, a->to) < 0;
}

/* Compares with all pairs; returns the crossings. */
static uint32_t compare(uint32_t count)
{
	struct geo_index *index = geo_index_create(segments, count);
	uint32_t crossings = 0;
	memset(seen, 0, sizeof(seen));
	assert_non_null(index);
	assert_int_equal(geo_crossings_each(index, mark, NULL), 0);
	geo_index_destroy(index);
	for (uint32_t b = 0; b < count; b++)
		for (uint32_t a = 0; a < b; a++) {
			bool expected = cross(&segments[a], &segments[b]);
			assert_int_equal(seen[a][b], expected);
			crossings += expected;
		}
	return crossings;
}

static int32_t between(struct random *random, int32_t least, int32_t most)
{
	return least + (int32_t)random_below(random, (uint32_t)(most - least + 1));
}

/* Lines from one side to the other that change places, upright or flat. */
static void bundles_cross_where_lines_change_places(void **state)
{
	(void)state;
	struct random random = {31};
	for (int i = 0; i < 60; i++) {
		bool flat = i % 2;
		int32_t pitch = between(&random, 1, 9);
		int32_t shift = i % 3 ? 2 * pitch : pitch / 2;
		int32_t length = between(&random, 500, 2000000000);
		for (int32_t j = 0; j < MOST; j++) {
			struct cutlint_point from = {0, j * pitch};
			struct cutlint_point to = {length - j,
						   j * pitch + between(&random, -shift, shift)};
			if (flat)
				segments[j] = (struct geo_segment){from, to};
			else
				segments[j] = (struct geo_segment){{to.y, to.x}, {from.y, from.x}};
		}
		assert_true((compare(MOST) > 0) == (2 * shift > 3 * pitch));
	}
}

/* Lines that share an end never cross, though they enter every strip there as one. */
static void fans_cross_only_each_other(void **state)
{
	(void)state;
	struct random random = {32};
	for (int i = 0; i < 40; i++) {
		int32_t reach = between(&random, 200, 100000);
		for (int32_t j = 0; j < MOST; j++) {
			int32_t side = j % 2 ? reach : 0;
			segments[j] = (struct geo_segment){
				{side, i % 3}, {reach - side, between(&random, -reach, reach)}};
		}
		assert_true(compare(MOST) > 100);
	}
}

/* Crossings a nanometre from the ends and corners of everything. */
static void a_thicket_of_nanometres_is_complete(void **state)
{
	(void)state;
	struct random random = {33};
	for (int i = 0; i < 60; i++) {
		int32_t side = between(&random, 6, 300);
		for (int32_t j = 0; j < MOST; j++)
			segments[j] = (struct geo_segment){
				{between(&random, 0, side), between(&random, 0, side)},
				{between(&random, 0, side), between(&random, 0, side)}};
		compare(MOST);
	}
}

static bool stop(void *user, uint32_t a, uint32_t b)
{
	(void)a;
	(void)b;
	return ++*(int *)user < 3;
}

static void the_visit_can_stop_it(void **state)
{
	(void)state;
	struct random random = {34};
	for (int32_t j = 0; j < MOST; j++)
		segments[j] = (struct geo_segment){{0, between(&random, 0, 1000)},
						   {900, between(&random, 0, 1000)}};
	struct geo_index *index = geo_index_create(segments, MOST);
	int visits = 0;
	assert_int_equal(geo_crossings_each(index, stop, &visits), 1);
	assert_int_equal(visits, 3);
	geo_index_destroy(index);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(bundles_cross_where_lines_change_places),
		cmocka_unit_test(fans_cross_only_each_other),
		cmocka_unit_test(a_thicket_of_nanometres_is_complete),
		cmocka_unit_test(the_visit_can_stop_it),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
