/* Lines of large drawings: fewer points, rounded, and never farther off than the page says. */
#include "proof/path.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "proof/simplify.h"

#define COUNT 2000

/* Knuth's MMIX generator; uniform in [0, 1). */
static double next_random(uint64_t *state)
{
	*state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
	return (double)(*state >> 11) * 0x1p-53;
}

static double distance_to_side(struct cutlint_point at, struct cutlint_point a,
			       struct cutlint_point b)
{
	double x = (double)b.x - a.x, y = (double)b.y - a.y, square = x * x + y * y;
	double share =
		square > 0 ? (((double)at.x - a.x) * x + ((double)at.y - a.y) * y) / square : 0;
	share = fmin(fmax(share, 0), 1);
	return hypot(at.x - a.x - share * x, at.y - a.y - share * y);
}

/* By brute force: the nearest side of the chain that is left. */
static double distance_to_chain(struct cutlint_point at, const struct cutlint_point *chain,
				uint32_t count, bool closed)
{
	double least = INFINITY;
	for (uint32_t i = 0; i + (closed ? 0 : 1) < count; i++)
		least = fmin(least, distance_to_side(at, chain[i], chain[(i + 1) % count]));
	return least;
}

/* A wavy ring of radius 30 mm with noise of 2 µm. */
static void fill_ring(struct cutlint_point *points)
{
	uint64_t state = 7;
	for (uint32_t i = 0; i < COUNT; i++) {
		double angle = 2 * 3.14159265358979323846 * i / COUNT;
		double radius = 30e6 + 2e6 * cos(9 * angle) + 2000 * next_random(&state);
		points[i] = (struct cutlint_point){(int32_t)lround(radius * cos(angle)),
						   (int32_t)lround(radius * sin(angle))};
	}
}

static void what_is_left_out_lies_within_the_tolerance(void **state)
{
	(void)state;
	struct cutlint_point points[COUNT], left[COUNT];
	fill_ring(points);
	for (int closed = 0; closed < 2; closed++) {
		uint32_t count = simplify(points, COUNT, closed, 12000, left);
		assert_true(count > 10 && count < COUNT / 2);
		for (uint32_t i = 0; i < COUNT; i++)
			assert_true(distance_to_chain(points[i], left, count, closed) <= 12000.5);
	}
}

static void a_tolerance_of_nothing_leaves_every_corner(void **state)
{
	(void)state;
	const struct cutlint_point square[] = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
	struct cutlint_point left[4];
	assert_int_equal(simplify(square, 4, true, 0, left), 4);
}

/* Reads "M1 2l3-4 5 6z" back: absolute places in the grain's unit, by SVG 2's grammar of paths. */
static uint32_t read_back(const char *data, double unit_nm, struct cutlint_point *out)
{
	double x = 0, y = 0;
	uint32_t count = 0;
	char *at = (char *)data + strspn(data, "M");
	while (*at && *at != 'z') {
		bool relative = count > 0;
		at += strspn(at, "l");
		double dx = strtod(at, &at), dy = strtod(at, &at);
		x = relative ? x + dx : dx;
		y = relative ? y + dy : dy;
		out[count++] = (struct cutlint_point){(int32_t)lround(x * unit_nm),
						      (int32_t)lround(y * unit_nm)};
	}
	return count;
}

static void the_coarse_grain_keeps_what_it_promises(void **state)
{
	(void)state;
	struct cutlint_point points[COUNT], read[COUNT];
	struct cutlint_design large = {.vertex_count = PATH_MANY, .flatness_mm = 0.005};
	const struct path_grain grain = path_grain_for(&large);
	struct writer writer;
	fill_ring(points);
	assert_int_equal(writer_init(&writer), 0);
	struct path_run run = path_run_start(&writer, &grain);
	path_run_add(&run, points, COUNT, true);
	uint32_t count = read_back(run.data.bytes, grain.unit_mm * 1e6, read);
	path_run_end(&run);
	writer_finish(&writer);
	assert_true(path_deviation_mm(&grain) + large.flatness_mm <= 0.02);
	for (uint32_t i = 0; i < COUNT; i++)
		assert_true(distance_to_chain(points[i], read, count, true) <=
			    path_deviation_mm(&grain) * 1e6);
}

static void the_fine_grain_keeps_every_vertex_to_a_micrometre(void **state)
{
	(void)state;
	struct cutlint_point points[COUNT], read[COUNT];
	struct cutlint_design small = {.vertex_count = COUNT};
	const struct path_grain grain = path_grain_for(&small);
	struct writer writer;
	fill_ring(points);
	assert_int_equal(writer_init(&writer), 0);
	struct path_run run = path_run_start(&writer, &grain);
	path_run_add(&run, points, COUNT, true);
	assert_int_equal(read_back(run.data.bytes, grain.unit_mm * 1e6, read), COUNT);
	path_run_end(&run);
	writer_finish(&writer);
	for (uint32_t i = 0; i < COUNT; i++)
		assert_true(labs((long)read[i].x - points[i].x) <= 500 &&
			    labs((long)read[i].y - points[i].y) <= 500);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_is_left_out_lies_within_the_tolerance),
		cmocka_unit_test(a_tolerance_of_nothing_leaves_every_corner),
		cmocka_unit_test(the_coarse_grain_keeps_what_it_promises),
		cmocka_unit_test(the_fine_grain_keeps_every_vertex_to_a_micrometre),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
