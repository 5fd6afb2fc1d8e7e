/* The index against looking at every segment, on work that is hard for an index. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "geometry/index-grid.h"
#include "geometry/index.h"

struct work {
	struct geo_segment segments[4000];
	uint32_t count;
	uint64_t seed;
};

/* Knuth's 64-bit linear congruential generator (MMIX). */
static double chance(struct work *work)
{
	work->seed = work->seed * 6364136223846793005U + 1442695040888963407U;
	return (double)(work->seed >> 11) / 9007199254740992.0;
}

static void add(struct work *work, double ax, double ay, double bx, double by)
{
	work->segments[work->count++] =
		(struct geo_segment){{(int32_t)ax, (int32_t)ay}, {(int32_t)bx, (int32_t)by}};
}

static void scatter(struct work *work, uint32_t count, double left, double top, double side,
		    double reach)
{
	for (uint32_t i = 0; i < count; i++) {
		double x = left + side * chance(work), y = top + side * chance(work);
		add(work, x, y, x + reach * (chance(work) - 0.5), y + reach * (chance(work) - 0.5));
	}
}

static double distance(struct geo_vector p, const struct geo_segment *s)
{
	double ax = s->from.x - p.x, ay = s->from.y - p.y;
	double dx = (double)s->to.x - s->from.x, dy = (double)s->to.y - s->from.y;
	double length2 = dx * dx + dy * dy;
	double t = length2 > 0 ? fmin(1, fmax(0, -(ax * dx + ay * dy) / length2)) : 0;
	return hypot(ax + t * dx, ay + t * dy);
}

static bool note(void *user, uint32_t segment)
{
	((bool *)user)[segment] = true;
	return true;
}

/* By clipping the segment to the box (Liang and Barsky 1984). */
static bool meets_box(const struct geo_segment *s, double left, double top, double right,
		      double bottom)
{
	double dx = (double)s->to.x - s->from.x, dy = (double)s->to.y - s->from.y, a = 0, b = 1;
	double p[4] = {-dx, dx, -dy, dy};
	double q[4] = {s->from.x - left, right - s->from.x, s->from.y - top, bottom - s->from.y};
	for (int i = 0; i < 4; i++) {
		if (p[i] == 0 && q[i] < 0)
			return false;
		if (p[i] < 0)
			a = fmax(a, q[i] / p[i]);
		if (p[i] > 0)
			b = fmin(b, q[i] / p[i]);
	}
	return a <= b;
}

static void check_boxes(struct work *work, const struct geo_index *index, double left, double top,
			double side)
{
	for (int i = 0; i < 200; i++) {
		bool seen[4000] = {false};
		double x = left + side * chance(work), y = top + side * chance(work);
		double w = side * pow(chance(work), 4), h = side * pow(chance(work), 4);
		geo_index_box(index, x, y, x + w, y + h, note, seen);
		for (uint32_t s = 0; s < work->count; s++)
			if (meets_box(&work->segments[s], x, y, x + w, y + h))
				assert_true(seen[s]);
	}
}

/* A square that the index says lies within one cell has all that comes within it in that cell. */
static void check_cells(struct work *work, const struct geo_index *index, double left, double top,
			double side)
{
	int answered = 0;
	for (int i = 0; i < 400; i++) {
		bool seen[4000] = {false};
		struct geo_vector at = {left + side * chance(work), top + side * chance(work)};
		double apart = side * 1e-3 * pow(chance(work), 4);
		const uint32_t *segments;
		uint32_t count;
		if (!geo_index_cell(index, at, apart, &segments, &count))
			continue;
		for (uint32_t k = 0; k < count; k++)
			seen[segments[k]] = true;
		for (uint32_t s = 0; s < work->count; s++)
			if (meets_box(&work->segments[s], at.x - apart, at.y - apart, at.x + apart,
				      at.y + apart))
				assert_true(seen[s]);
		answered++;
	}
	assert_true(answered > 0);
}

static void check_bands(struct work *work, const struct geo_index *index, double left, double top,
			double side)
{
	for (int i = 0; i < 200; i++) {
		bool seen[4000] = {false};
		struct geo_vector a = {left + side * chance(work), top + side * chance(work)};
		struct geo_vector b = {a.x + side * (chance(work) - 0.5),
				       a.y + side * (chance(work) - 0.5)};
		double apart = side * 0.1 * pow(chance(work), 3);
		geo_index_band(index, a, b, apart, note, seen);
		for (uint32_t s = 0; s < work->count; s++)
			for (int k = 0; k <= 20; k++) {
				struct geo_vector p = {a.x + (b.x - a.x) * k / 20,
						       a.y + (b.y - a.y) * k / 20};
				if (distance(p, &work->segments[s]) <= apart)
					assert_true(seen[s]);
			}
	}
}

struct nearest {
	const struct work *work;
	struct geo_vector at;
	double best;
};

static void keep_nearest(void *user, uint32_t segment, double *reach)
{
	struct nearest *nearest = user;
	double d = distance(nearest->at, &nearest->work->segments[segment]);
	nearest->best = fmin(nearest->best, d);
	*reach = fmin(*reach, d);
}

static void check_nearest(struct work *work, const struct geo_index *index, double left, double top,
			  double side)
{
	for (int i = 0; i < 200; i++) {
		struct nearest nearest = {
			work,
			{left + side * (1.2 * chance(work) - 0.1), top + side * chance(work)},
			INFINITY};
		double best = INFINITY;
		for (uint32_t s = 0; s < work->count; s++)
			best = fmin(best, distance(nearest.at, &work->segments[s]));
		geo_index_near(index, nearest.at, i % 2 ? INFINITY : side * 2, keep_nearest,
			       &nearest);
		assert_true(nearest.best == best);
	}
}

static void note_all(void *user, const uint32_t *segments, uint32_t count, double *reach)
{
	(void)reach;
	for (uint32_t i = 0; i < count; i++)
		note(user, segments[i]);
}

/* One flag a segment, so that neighbours in a cell have different ones. */
static uint64_t flag_of(uint32_t segment)
{
	return UINT64_C(1) << segment % 64;
}

static void flag(struct work *work, struct geo_index *index)
{
	uint64_t flags[4000];
	for (uint32_t s = 0; s < work->count; s++)
		flags[s] = flag_of(s);
	assert_int_equal(geo_index_flag(index, flags), 0);
}

/* Of points along each segment that has a flag, those in the cone must have been seen. */
static void check_cones(struct work *work, const struct geo_index *index, double left, double top,
			double side)
{
	for (int i = 0; i < 200; i++) {
		bool seen[4000] = {false};
		struct geo_cone cone = {{left + side * chance(work), top + side * chance(work)},
					i & 1,
					i & 2,
					2 * chance(work) - 1,
					0};
		cone.high = fmin(1, cone.low + 0.3 * chance(work));
		double reach = side * 0.5 * chance(work);
		uint64_t flags = i % 3 ? UINT64_C(0x111) << i % 56 : GEO_ALL;
		geo_index_cone(index, &cone, reach, flags, note_all, seen);
		for (uint32_t s = 0; s < work->count; s++)
			for (int k = 0; k <= 20 && (flags & flag_of(s)); k++) {
				const struct geo_segment *g = &work->segments[s];
				double t = k / 20.0;
				double x = g->from.x * (1 - t) + g->to.x * t - cone.apex.x;
				double y = g->from.y * (1 - t) + g->to.y * t - cone.apex.y;
				double along = (cone.steep ? y : x) * (cone.back ? -1 : 1);
				double across = cone.steep ? x : y;
				if (along >= 0 && along <= reach && across >= cone.low * along &&
				    across <= cone.high * along)
					assert_true(seen[s]);
			}
	}
}

/* A pair that meets must come; both boxes of every pair that comes meet. */
struct pairs {
	const struct work *work;
	bool *seen;
};

static bool note_pair(void *user, uint32_t a, uint32_t b)
{
	struct pairs *pairs = user;
	assert_true(a < b);
	pairs->seen[(size_t)a * pairs->work->count + b] = true;
	return true;
}

static double cross(struct cutlint_point a, struct cutlint_point b, struct cutlint_point c)
{
	return ((double)b.x - a.x) * ((double)c.y - a.y) -
	       ((double)b.y - a.y) * ((double)c.x - a.x);
}

static void check_pairs(const struct work *work, const struct geo_index *index)
{
	struct pairs pairs = {work, calloc((size_t)work->count * work->count, 1)};
	assert_non_null(pairs.seen);
	assert_true(geo_index_pairs(index, note_pair, &pairs));
	for (uint32_t b = 0; b < work->count; b++)
		for (uint32_t a = 0; a < b; a++) {
			const struct geo_segment *s = &work->segments[a], *t = &work->segments[b];
			bool crossing =
				cross(s->from, s->to, t->from) * cross(s->from, s->to, t->to) < 0 &&
				cross(t->from, t->to, s->from) * cross(t->from, t->to, s->to) < 0;
			bool same_end = s->to.x == t->from.x && s->to.y == t->from.y;
			if (crossing || same_end)
				assert_true(pairs.seen[(size_t)a * work->count + b]);
		}
	free(pairs.seen);
}

static void check(struct work *work, double left, double top, double side)
{
	struct geo_index *index = geo_index_create(work->segments, work->count);
	assert_non_null(index);
	check_boxes(work, index, left, top, side);
	check_cells(work, index, left, top, side);
	check_bands(work, index, left, top, side);
	check_nearest(work, index, left, top, side);
	flag(work, index);
	check_cones(work, index, left, top, side);
	check_pairs(work, index);
	geo_index_destroy(index);
}

static struct work *start(uint64_t seed)
{
	struct work *work = calloc(1, sizeof *work);
	assert_non_null(work);
	work->seed = seed;
	return work;
}

static void segments_spread_evenly_are_found(void **state)
{
	(void)state;
	struct work *work = start(1);
	scatter(work, 2000, -1e8, -1e8, 2e8, 8e6);
	check(work, -1e8, -1e8, 2e8);
	free(work);
}

static void a_tiny_dense_motif_on_a_large_sheet_is_found(void **state)
{
	(void)state;
	struct work *work = start(2);
	scatter(work, 50, 0, 0, 1.5e9, 4e8);
	scatter(work, 1500, 7e8, 7e8, 2e6, 1e5);
	scatter(work, 300, 7.01e8, 7.01e8, 2000, 60);
	check(work, 0, 0, 1.5e9);
	check(work, 7e8, 7e8, 2e6);
	check(work, 7.01e8, 7.01e8, 2000);
	free(work);
}

static void long_lines_are_found_along_their_course(void **state)
{
	(void)state;
	struct work *work = start(3);
	for (int i = 0; i < 700; i++)
		add(work, i * 1e5, 0, i * 1e5 + 3e7, 5e7);
	for (int i = 0; i < 300; i++)
		add(work, i * 2e5, -1e6, i * 2e5, 4e7);
	for (int i = 0; i < 100; i++)
		add(work, -1e6, i * 5e5, 1e8, i * 5e5);
	check(work, 0, 0, 1e8);
	free(work);
}

static void a_fan_through_one_hub_is_found(void **state)
{
	(void)state;
	struct work *work = start(4);
	for (int i = 0; i < 1500; i++) {
		double c = cos(i * 2e-3 * acos(-1)), s = sin(i * 2e-3 * acos(-1));
		add(work, 1e4 * c, 1e4 * s, 9e7 * c, 9e7 * s);
	}
	check(work, -1e8, -1e8, 2e8);
	check(work, -2e4, -2e4, 4e4);
	free(work);
}

/* Lines of 50 mm side by side over 90 mm, askew: the gap goes 2,222 times into their length. */
static void add_comb(struct work *work, uint32_t count)
{
	double c = cos(0.6), s = sin(0.6);
	for (uint32_t i = 0; i < count; i++) {
		double x = 9e7 * i / count;
		add(work, x * c, x * s, x * c - 5e7 * s, x * s + 5e7 * c);
	}
}

static void a_comb_askew_is_found(void **state)
{
	(void)state;
	struct work *work = start(8);
	add_comb(work, 1500);
	check(work, -3e7, 0, 1.1e8);
	check(work, 2e7, 3e7, 1e6);
	free(work);
}

/* Entries a segment, and how many share a cell with one of them on average. */
struct crowding {
	double entries, together;
};

static struct crowding crowding_of(const struct work *work)
{
	struct geo_index *index = geo_index_create(work->segments, work->count);
	assert_non_null(index);
	double squares = 0;
	for (uint32_t i = 0; i < index->cell_count; i++)
		if (index->cells[i].count != INDEX_DIVIDED)
			squares += pow(index->cells[i].count, 2);
	struct crowding crowding = {(double)index->ref_count / work->count,
				    squares / index->ref_count};
	geo_index_destroy(index);
	return crowding;
}

/* In straight cells alone, 1,000 lines take 22 entries each with 46 in a cell; 4,000 lines 34 with
 * 117. */
static void lines_side_by_side_along_a_slope_are_told_apart(void **state)
{
	(void)state;
	for (uint32_t count = 1000; count <= 4000; count *= 2) {
		struct work *work = start(9);
		add_comb(work, count);
		struct crowding crowding = crowding_of(work);
		assert_true(crowding.entries <= 12);
		assert_true(crowding.together <= 6);
		free(work);
	}
}

/* In straight cells alone there are 31 in a cell of 1,000 lines, 69 of 4,000. */
static void lines_of_a_fan_are_told_apart_however_many(void **state)
{
	(void)state;
	for (uint32_t count = 1000; count <= 4000; count *= 2) {
		struct work *work = start(10);
		for (uint32_t i = 0; i < count; i++) {
			double angle = 2 * acos(-1) * i / count;
			double c = cos(angle), s = sin(angle);
			add(work, 2e7 * c, 2e7 * s, 2e8 * c, 2e8 * s);
		}
		struct crowding crowding = crowding_of(work);
		assert_true(crowding.entries <= 48);
		assert_true(crowding.together <= 8);
		free(work);
	}
}

static void many_segments_in_one_spot_are_found(void **state)
{
	(void)state;
	struct work *work = start(5);
	for (int i = 0; i < 1000; i++)
		add(work, 0, 0, 3e6, 1e6);
	for (int i = 0; i < 500; i++)
		add(work, 5, 5, 5, 5);
	add(work, -CUTLINT_FARTHEST_NM, -CUTLINT_FARTHEST_NM, CUTLINT_FARTHEST_NM,
	    CUTLINT_FARTHEST_NM);
	check(work, -1e6, -1e6, 6e6);
	free(work);
}

static void an_empty_index_holds_nothing(void **state)
{
	(void)state;
	struct geo_index *index = geo_index_create(NULL, 0);
	bool seen[1] = {false};
	assert_non_null(index);
	geo_index_box(index, -1, -1, 1, 1, note, seen);
	assert_true(geo_index_pairs(index, note_pair, seen));
	assert_false(seen[0]);
	geo_index_destroy(index);
	geo_index_destroy(NULL);
}

static bool stop(void *user, uint32_t segment)
{
	(void)segment;
	++*(int *)user;
	return false;
}

static void a_visit_can_end_the_search(void **state)
{
	(void)state;
	struct work *work = start(6);
	scatter(work, 1000, 0, 0, 1e6, 1e5);
	struct geo_index *index = geo_index_create(work->segments, work->count);
	int calls = 0;
	geo_index_box(index, 0, 0, 1e6, 1e6, stop, &calls);
	assert_int_equal(calls, 1);
	geo_index_destroy(index);
	free(work);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(segments_spread_evenly_are_found),
		cmocka_unit_test(a_tiny_dense_motif_on_a_large_sheet_is_found),
		cmocka_unit_test(long_lines_are_found_along_their_course),
		cmocka_unit_test(a_fan_through_one_hub_is_found),
		cmocka_unit_test(a_comb_askew_is_found),
		cmocka_unit_test(lines_side_by_side_along_a_slope_are_told_apart),
		cmocka_unit_test(lines_of_a_fan_are_told_apart_however_many),
		cmocka_unit_test(many_segments_in_one_spot_are_found),
		cmocka_unit_test(an_empty_index_holds_nothing),
		cmocka_unit_test(a_visit_can_end_the_search),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
