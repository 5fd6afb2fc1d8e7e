/*
 * test-sheet-metamorphic [random designs]
 *
 * What must not change: parts and necks of a drawing that is moved, turned, mirrored, drawn in
 * another order or direction, split at other places, or flattened otherwise.
 *
 * Tolerances. Vertices are rounded to 1 nm, so that under a motion widths and places of necks may
 * differ by a few nm, and areas by a nm along the whole boundary. Other vertices on the same curves
 * move the boundary by up to the flatness; widths and places stay those of the true curves.
 */
#include "figures.h"

#include <stdio.h>
#include <stdlib.h>

/* Of widths (mm); of the place of a neck that is not a corridor (mm). */
static const double SAME_WIDTH = 1e-5, SAME_PLACE = 2e-3;

/* One way to draw the same thing. */
struct variant {
	const char *name;
	struct motion motion;
	struct drawn_as as;
	double from_mm, flatness_mm; /* of the drawing as it is, and of this one; 0: the default */
	double moved_mm;             /* the boundary moves by at most so much */
};

#define PLAIN                                                                                      \
	{                                                                                          \
		1, 0, 0, 1, 0, 0                                                                   \
	}

/* Fine chords, so that hardly any neck rises by as much as makes it one. */
#define FINE_MM 0.0005

static const struct variant VARIANTS[] = {
	{"moved", {1, 0, 0, 1, 13.37, -7.77}, {0}, 0, 0, 1e-5},
	{"moved far", {1, 0, 0, 1, 700.123457, 612.7}, {0}, 0, 0, 1e-5},
	{"turned by a right angle", {0, 1, -1, 0, 20, -30}, {0}, 0, 0, 1e-5},
	{"turned by a little",
	 {0.99999847691329, 0.0017453283659, -0.0017453283659, 0.99999847691329, 1, 1},
	 {0},
	 0,
	 0,
	 1e-5},
	{"turned", {0.6, 0.8, -0.8, 0.6, 50, -10}, {0}, 0, 0, 1e-5},
	{"mirrored", {-1, 0, 0, 1, 5, 0}, {0}, 0, 0, 1e-5},
	{"mirrored aslant", {0.28, 0.96, 0.96, -0.28, 0, 0}, {0}, 0, 0, 1e-5},
	{"drawn backwards", PLAIN, {.reversed = true}, 0, 0, 1e-5},
	{"started elsewhere", PLAIN, {.start = 1}, 0, 0, 1e-5},
	{"drawn in another order", PLAIN, {.reordered = true}, 0, 0, 1e-5},
	{"split", PLAIN, {.split = true}, FINE_MM, FINE_MM, FINE_MM},
	{"flattened finer", PLAIN, {0}, FINE_MM, FINE_MM / 3, FINE_MM},
	{"all at once",
	 {-0.6, 0.8, 0.8, 0.6, 11, 3},
	 {true, true, true, 2},
	 FINE_MM,
	 FINE_MM / 2,
	 FINE_MM},
};

#define VARIANT_COUNT (sizeof VARIANTS / sizeof VARIANTS[0])

/* Where a neck is: the middle between its feet. */
static struct cutlint_xy middle_of(const struct cutlint_neck *neck)
{
	return (struct cutlint_xy){(neck->walls[0].at.x + neck->walls[1].at.x) / 2,
				   (neck->walls[0].at.y + neck->walls[1].at.y) / 2};
}

/* Whether vertices lie elsewhere on the curves. */
static bool other_chords(const struct variant *variant)
{
	return variant->moved_mm > SAME_WIDTH;
}

static bool same_neck(const struct cutlint_neck *a, const struct cutlint_neck *b,
		      const struct variant *variant)
{
	struct cutlint_xy at = figures_moved(&variant->motion, middle_of(a)), there = middle_of(b);
	/* The least width of a corridor may be anywhere along it. */
	double reach = SAME_PLACE + fmax(a->length_mm, b->length_mm);
	/* Lines touch or cross where their chords do. */
	if (a->kind == CUTLINT_NECK_CONTACT)
		reach += 4 * variant->moved_mm;
	return a->kind == b->kind && a->at_edge == b->at_edge && a->open_gap == b->open_gap &&
	       fabs(a->drawn_mm - b->drawn_mm) <= SAME_WIDTH &&
	       fabs(a->width_mm - b->width_mm) <= SAME_WIDTH &&
	       (other_chords(variant) ||
		fabs(a->length_mm - b->length_mm) <= 0.05 + 0.1 * a->length_mm) &&
	       hypot(at.x - there.x, at.y - there.y) <= reach;
}

static void print_neck(const char *what, const struct cutlint_neck *neck)
{
	struct cutlint_xy at = middle_of(neck);
	print_error("%s: kind %d, %.6f mm at (%.4f, %.4f), length %.4f\n", what, neck->kind,
		    neck->drawn_mm, at.x, at.y, neck->length_mm);
}

/*
 * Lines may cross in two nodes a few nm apart where they do in one as drawn: one contact. And
 * whether a line that doubles back on itself touches itself may be decided by the last nm.
 */
static bool is_doubtful(const struct cutlint_sheet *sheet, uint32_t number)
{
	const struct cutlint_neck *neck = &sheet->necks[number];
	if (neck->kind != CUTLINT_NECK_CONTACT)
		return false;
	if (neck->walls[0].outline == neck->walls[1].outline)
		return true;
	for (uint32_t i = 0; i < number; i++) {
		struct cutlint_xy a = middle_of(neck), b = middle_of(&sheet->necks[i]);
		if (sheet->necks[i].kind == CUTLINT_NECK_CONTACT &&
		    hypot(a.x - b.x, a.y - b.y) <= SAME_WIDTH)
			return true;
	}
	return false;
}

/* Each neck of `a` with one of `b`, and each of `b` with one of `a`. */
static bool compare_necks(const struct cutlint_sheet *a, const struct cutlint_sheet *b,
			  const struct variant *variant)
{
	bool *used = calloc((size_t)b->neck_count + 1, sizeof *used);
	bool same = true;
	assert_non_null(used);
	for (uint32_t i = 0; i < a->neck_count; i++) {
		uint32_t k = 0;
		while (k < b->neck_count &&
		       (used[k] || !same_neck(&a->necks[i], &b->necks[k], variant)))
			k++;
		if (k < b->neck_count) {
			used[k] = true;
		} else if (!is_doubtful(a, i)) {
			print_neck("as drawn only", &a->necks[i]);
			same = false;
		}
	}
	for (uint32_t k = 0; k < b->neck_count; k++) {
		if (used[k] || is_doubtful(b, k))
			continue;
		print_neck("in the variant only", &b->necks[k]);
		same = false;
	}
	free(used);
	return same;
}

/*
 * How far areas of a part may differ. The boundary of one is at most all lines, both sides. Where
 * it is cut off at a neck of round walls may shift along them by half a chord on each side (of 8 mm
 * radius, the largest, 0.1 mm each at FINE_MM), and at a corridor all along that.
 */
static double same_area(const struct cutlint_sheet *sheet, uint32_t part, double boundary_mm,
			const struct variant *variant)
{
	double area = boundary_mm * variant->moved_mm;
	for (uint32_t i = 0; i < sheet->neck_count && other_chords(variant); i++) {
		const struct cutlint_neck *neck = &sheet->necks[i];
		if (neck->parts[0] == part || neck->parts[1] == part)
			area += neck->drawn_mm * (neck->length_mm + 0.2);
	}
	return area;
}

/* The part of its kind, not yet taken, that is nearest in area. */
static uint32_t like_part(const struct cutlint_part *part, const struct cutlint_sheet *sheet,
			  const bool *used)
{
	uint32_t best = CUTLINT_NONE;
	double least = INFINITY;
	for (uint32_t k = 0; k < sheet->part_count; k++) {
		const struct cutlint_part *other = &sheet->parts[k];
		double differ = fabs(other->area_mm2 - part->area_mm2);
		if (used[k] || other->kind != part->kind || other->at_edge != part->at_edge ||
		    other->bridge_count != part->bridge_count || differ >= least)
			continue;
		least = differ;
		best = k;
	}
	return best;
}

static bool compare_parts(const struct cutlint_sheet *a, const struct cutlint_sheet *b,
			  double boundary_mm, const struct variant *variant)
{
	bool *used = calloc((size_t)b->part_count + 1, sizeof *used);
	bool same = a->part_count == b->part_count;
	assert_non_null(used);
	for (uint32_t i = 0; i < a->part_count; i++) {
		const struct cutlint_part *part = &a->parts[i];
		uint32_t like = like_part(part, b, used);
		double area = same_area(a, i, boundary_mm, variant);
		if (like != CUTLINT_NONE &&
		    fabs(b->parts[like].area_mm2 - part->area_mm2) <= area) {
			used[like] = true;
			continue;
		}
		print_error("as drawn only: part of kind %d, %.6f mm², %u bridges\n", part->kind,
			    part->area_mm2, part->bridge_count);
		same = false;
	}
	free(used);
	return same;
}

static bool compare(const struct figures *figures, const struct drawing *plain,
		    const struct variant *variant)
{
	struct drawing drawing;
	figures_open(figures, &variant->motion, &variant->as, variant->flatness_mm, &drawing);
	bool same =
		compare_necks(plain->sheet, drawing.sheet, variant) &&
		compare_parts(plain->sheet, drawing.sheet, 2 * figures_length(plain->design),
			      variant) &&
		plain->sheet->hole_count == drawing.sheet->hole_count &&
		(other_chords(variant) || plain->sheet->tip_count == drawing.sheet->tip_count) &&
		plain->sheet->crossing_count == drawing.sheet->crossing_count;
	if (!same)
		print_error(
			"... when %s: %u and %u parts, %u and %u necks, %u and %u holes, %u and "
			"%u tips, %u and %u crossings\n",
			variant->name, plain->sheet->part_count, drawing.sheet->part_count,
			plain->sheet->neck_count, drawing.sheet->neck_count,
			plain->sheet->hole_count, drawing.sheet->hole_count,
			plain->sheet->tip_count, drawing.sheet->tip_count,
			plain->sheet->crossing_count, drawing.sheet->crossing_count);
	drawing_close(&drawing);
	return same;
}

/* Returns how many variants differ. */
static unsigned compare_all(const struct figures *figures, const char *name, uint32_t *necks)
{
	const struct motion none = PLAIN;
	const struct drawn_as plainly = {0};
	struct drawing plain, fine;
	unsigned different = 0;
	figures_open(figures, &none, &plainly, 0, &plain);
	figures_open(figures, &none, &plainly, FINE_MM, &fine);
	for (size_t i = 0; i < VARIANT_COUNT; i++) {
		const struct drawing *from = VARIANTS[i].from_mm > 0 ? &fine : &plain;
		if (compare(figures, from, &VARIANTS[i]))
			continue;
		print_error("    design %s\n", name);
		different++;
	}
	*necks += plain.sheet->neck_count;
	drawing_close(&plain);
	drawing_close(&fine);
	return different;
}

static void random_designs_stay_what_they_are(void **state)
{
	const unsigned long *designs = *state;
	struct figures *figures = calloc(1, sizeof *figures);
	unsigned different = 0;
	uint32_t necks = 0;
	assert_non_null(figures);
	for (uint64_t number = 0; number < *designs; number++) {
		char name[32];
		snprintf(name, sizeof name, "%u", (unsigned)number);
		figures_random(figures, number);
		different += compare_all(figures, name, &necks);
	}
	free(figures);
	assert_true(necks > 5 * *designs);
	assert_int_equal(different, 0);
}

static void designs_as_makers_draw_them_stay_what_they_are(void **state)
{
	(void)state;
	struct figures *figures = calloc(1, sizeof *figures);
	unsigned different = 0;
	uint32_t necks = 0;
	assert_non_null(figures);
	for (int i = 0; figures_named(figures, i); i++)
		different += compare_all(figures, figures->name, &necks);
	free(figures);
	assert_true(necks > 20);
	assert_int_equal(different, 0);
}

int main(int argc, char **argv)
{
	unsigned long designs = argc > 1 ? strtoul(argv[1], NULL, 10) : 60;
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(designs_as_makers_draw_them_stay_what_they_are),
		cmocka_unit_test_prestate(random_designs_stay_what_they_are, &designs),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
