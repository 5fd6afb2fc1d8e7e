/* The tree against looking at every segment: none that is near enough may be left out. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "geometry/distance.h"
#include "geometry/tree.h"

enum { MOST = 3000, FARTHEST_NM = 2000000000 };

struct work {
	struct geo_segment segments[MOST];
	uint32_t count;
	uint64_t seed;
};

/* Knuth's 64-bit linear congruential generator (MMIX). */
static double chance(struct work *work)
{
	work->seed = work->seed * 6364136223846793005U + 1442695040888963407U;
	return (double)(work->seed >> 11) / 9007199254740992.0;
}

static struct geo_vector place(struct work *work, double left, double top, double side)
{
	double x = left + side * chance(work), y = top + side * chance(work);
	return (struct geo_vector){round(x), round(y)};
}

static void scatter(struct work *work, uint32_t count, double left, double top, double side,
		    double reach)
{
	for (uint32_t i = 0; i < count; i++) {
		struct geo_vector at = place(work, left, top, side);
		struct geo_vector by = place(work, -reach / 2, -reach / 2, reach);
		work->segments[work->count++] =
			(struct geo_segment){{(int32_t)at.x, (int32_t)at.y},
					     {(int32_t)(at.x + by.x), (int32_t)(at.y + by.y)}};
	}
}

/* The distance is the geometry's own, which has its own test against GEOS. */
static double apart(const struct geo_segment *segment, struct geo_vector from, struct geo_vector to)
{
	struct geo_vector a = {segment->from.x, segment->from.y}, on_a;
	struct geo_vector b = {segment->to.x, segment->to.y}, on_b;
	return geo_segment_distance(a, b, from, to, &on_a, &on_b);
}

struct nearest {
	const struct work *work;
	struct geo_vector from, to;
	double distance;
	uint32_t visits;
};

static void take_nearer(void *user, uint32_t segment, double *reach)
{
	struct nearest *nearest = user;
	double distance = apart(&nearest->work->segments[segment], nearest->from, nearest->to);
	nearest->visits++;
	nearest->distance = fmin(nearest->distance, distance);
	*reach = fmin(*reach, nearest->distance);
}

static void note(void *user, uint32_t segment, double *reach)
{
	(void)reach;
	((bool *)user)[segment] = true;
}

static double nearest_of_all(const struct work *work, struct geo_vector from, struct geo_vector to)
{
	double least = INFINITY;
	for (uint32_t i = 0; i < work->count; i++)
		least = fmin(least, apart(&work->segments[i], from, to));
	return least;
}

static void check_line(struct work *work, const struct geo_tree *tree, struct geo_vector from,
		       struct geo_vector to)
{
	struct nearest nearest = {work, from, to, INFINITY, 0};
	geo_tree_near(tree, from, to, INFINITY, take_nearer, &nearest);
	assert_true(nearest.distance == nearest_of_all(work, from, to));

	bool seen[MOST] = {false};
	double reach = 2 * nearest.distance;
	geo_tree_near(tree, from, to, reach, note, seen);
	for (uint32_t i = 0; i < work->count; i++)
		assert_true(seen[i] || apart(&work->segments[i], from, to) > reach);
}

static void check_lines(struct work *work, double left, double top, double side)
{
	struct geo_tree *tree = geo_tree_create(work->segments, work->count);
	assert_non_null(tree);
	for (int i = 0; i < 100; i++) {
		struct geo_vector from = place(work, left, top, side);
		struct geo_vector to = place(work, from.x - side / 9, from.y - side / 9, side / 4);
		check_line(work, tree, from, from);
		check_line(work, tree, from, to);
	}
	geo_tree_destroy(tree);
}

static void finds_the_nearest_of_scattered_segments(void **state)
{
	(void)state;
	struct work work = {.seed = 1};
	scatter(&work, 2500, 0, 0, 1e8, 3e6);
	check_lines(&work, -2e7, -2e7, 1.4e8);
}

static void finds_the_nearest_of_long_segments(void **state)
{
	(void)state;
	struct work work = {.seed = 2};
	scatter(&work, 400, 0, 0, 1e8, 3e8);
	check_lines(&work, 0, 0, 1e8);
}

static void finds_the_nearest_from_far_away_and_at_the_ends_of_the_sheet(void **state)
{
	(void)state;
	struct work work = {.seed = 3};
	scatter(&work, 500, -FARTHEST_NM, -FARTHEST_NM, 1e6, 1e4);
	scatter(&work, 500, FARTHEST_NM - 1.1e6, FARTHEST_NM - 1.1e6, 1e6, 1e4);
	check_lines(&work, -FARTHEST_NM / 2.0, -FARTHEST_NM / 2.0, FARTHEST_NM);
}

static void finds_equal_segments_all(void **state)
{
	(void)state;
	struct work work = {.count = 100};
	struct geo_vector origin = {0, 0};
	struct geo_tree *tree = geo_tree_create(work.segments, work.count);
	bool seen[MOST] = {false};
	geo_tree_near(tree, origin, origin, 0, note, seen);
	for (uint32_t i = 0; i < work.count; i++)
		assert_true(seen[i]);
	geo_tree_destroy(tree);
}

static void finds_nothing_where_nothing_is(void **state)
{
	(void)state;
	struct work work = {0};
	struct geo_tree *tree = geo_tree_create(work.segments, 0);
	struct nearest nearest = {&work, {0, 0}, {0, 0}, INFINITY, 0};
	geo_tree_near(tree, nearest.from, nearest.to, INFINITY, take_nearer, &nearest);
	assert_true(isinf(nearest.distance) && nearest.visits == 0);
	geo_tree_destroy(tree);
}

/* What the tree is for: over a wide empty space few of the segments are looked at. */
static void looks_at_few_of_many_from_far_away(void **state)
{
	(void)state;
	struct work work = {.seed = 4};
	scatter(&work, MOST, 0, 0, 1e7, 1e4);
	struct geo_tree *tree = geo_tree_create(work.segments, work.count);
	struct geo_vector far = {1e9, 3e6};
	struct nearest nearest = {&work, far, far, INFINITY, 0};
	geo_tree_near(tree, far, far, INFINITY, take_nearer, &nearest);
	assert_true(nearest.distance == nearest_of_all(&work, far, far));
	assert_true(nearest.visits <= 200);
	geo_tree_destroy(tree);
}

/* Among the lines of a fan the boxes overlap: what runs along them must tell them apart. By boxes
 * alone 447 of the 3,000 are looked at on average. */
static void looks_at_few_of_the_lines_of_a_fan(void **state)
{
	(void)state;
	struct work work = {.count = MOST};
	for (uint32_t i = 0; i < MOST; i++) {
		double c = cos(2 * acos(-1) * i / MOST), s = sin(2 * acos(-1) * i / MOST);
		work.segments[i] = (struct geo_segment){{(int32_t)(2e7 * c), (int32_t)(2e7 * s)},
							{(int32_t)(2e8 * c), (int32_t)(2e8 * s)}};
	}
	struct geo_tree *tree = geo_tree_create(work.segments, work.count);
	uint32_t visits = 0;
	for (int i = 0; i < 100; i++) {
		double angle = 2 * acos(-1) * (i + 0.37) / 100;
		struct geo_vector at = {1e8 * cos(angle), 1e8 * sin(angle)};
		struct nearest nearest = {&work, at, at, INFINITY, 0};
		geo_tree_near(tree, at, at, INFINITY, take_nearer, &nearest);
		assert_true(nearest.distance == nearest_of_all(&work, at, at));
		visits += nearest.visits;
	}
	assert_true(visits <= 100 * 64);
	geo_tree_destroy(tree);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(finds_the_nearest_of_scattered_segments),
		cmocka_unit_test(finds_the_nearest_of_long_segments),
		cmocka_unit_test(finds_the_nearest_from_far_away_and_at_the_ends_of_the_sheet),
		cmocka_unit_test(finds_equal_segments_all),
		cmocka_unit_test(finds_nothing_where_nothing_is),
		cmocka_unit_test(looks_at_few_of_many_from_far_away),
		cmocka_unit_test(looks_at_few_of_the_lines_of_a_fan),
	};
	return cmocka_run_group_tests_name("tree", tests, NULL, NULL);
}
