/* coverage.c - a drawing of which nothing is burned must not pass in silence. */
#include "engine/coverage.h"

#include <string.h>

#include "fresh.h"

#include "drawing.h"

static struct findings report(struct drawing *drawing, struct arena *arena, bool art_named)
{
	struct findings findings = {.arena = arena};
	struct cutlint_job job = {.art_named = art_named};
	struct coverage coverage = coverage_count(&drawing->design);
	coverage_report(&coverage, &drawing->design, &job, &findings);
	return findings;
}

static void burned_art_needs_no_word(void **state)
{
	struct drawing drawing;
	drawing_init(&drawing, *state);
	assert_int_equal(report(&drawing, *state, false).count, 0);
}

static void a_drawing_without_shapes_is_an_error(void **state)
{
	struct drawing drawing;
	drawing_init(&drawing, *state);
	drawing.design.shape_count = drawing.design.outline_count = 0;
	struct findings findings = report(&drawing, *state, false);
	assert_int_equal(findings.count, 1);
	assert_string_equal(findings.items[0].rule, "nothing-to-burn");
	assert_int_equal(findings.items[0].severity, CUTLINT_ERROR);
	assert_string_equal(findings.items[0].message, "nothing to burn: the drawing has no lines");
}

static void what_is_left_out_is_counted_with_the_reason(void **state)
{
	struct drawing drawing;
	drawing_init(&drawing, *state);
	struct cutlint_shape shapes[4] = {drawing.shape, drawing.shape, drawing.shape,
					  drawing.shape};
	shapes[0].unburned = CUTLINT_UNBURNED_PAINT;
	shapes[1].unburned = CUTLINT_UNBURNED_PAINT;
	shapes[2].unburned = CUTLINT_UNBURNED_TEXT;
	shapes[3].role = CUTLINT_ROLE_GUIDE;
	drawing.design.shapes = shapes;
	drawing.design.shape_count = 4;
	struct findings findings = report(&drawing, *state, false);
	assert_int_equal(findings.count, 1);
	assert_string_equal(findings.items[0].message,
			    "nothing to burn: all shapes are left out (2 without fill and stroke, "
			    "1 text, 1 with the role guide)");
	assert_int_equal(findings.items[0].place.line, 1);
}

static void folds_and_insets_are_burned_too(void **state)
{
	struct drawing drawing;
	drawing_init(&drawing, *state);
	drawing.shape.role = CUTLINT_ROLE_FOLD;
	assert_int_equal(report(&drawing, *state, false).count, 0);
	drawing.shape.role = CUTLINT_ROLE_INSET;
	assert_int_equal(report(&drawing, *state, false).count, 0);
}

static void art_that_no_pattern_names_is_noted_once_a_file(void **state)
{
	struct drawing drawing;
	drawing_init(&drawing, *state);
	struct cutlint_shape shapes[3] = {drawing.shape, drawing.shape, drawing.shape};
	shapes[0].role_named = true;
	drawing.design.shapes = shapes;
	drawing.design.shape_count = 3;
	assert_int_equal(report(&drawing, *state, false).count, 0);
	struct findings findings = report(&drawing, *state, true);
	assert_int_equal(findings.count, 1);
	assert_string_equal(findings.items[0].rule, "unnamed-art");
	assert_int_equal(findings.items[0].severity, CUTLINT_NOTE);
	assert_non_null(strstr(findings.items[0].message, "2 shapes"));
	assert_int_equal(findings.items[0].place.line, PATH_LINE);
	assert_int_equal(findings.items[0].place.column, PATH_COLUMN);
}

static void dashed_lines_that_are_cut_are_said_once_a_file(void **state)
{
	struct drawing drawing;
	drawing_init(&drawing, *state);
	struct cutlint_shape shapes[3] = {drawing.shape, drawing.shape, drawing.shape};
	for (int i = 0; i < 3; i++) {
		shapes[i].dashed = true;
		shapes[i].stroke.kind = CUTLINT_PAINT_COLOUR;
	}
	shapes[0].role = CUTLINT_ROLE_FOLD; /* dashes of a score are how a fold is drawn */
	drawing.design.shapes = shapes;
	drawing.design.shape_count = 3;
	struct findings findings = report(&drawing, *state, false);
	assert_int_equal(findings.count, 1);
	assert_string_equal(findings.items[0].rule, "dashes");
	assert_int_equal(findings.items[0].severity, CUTLINT_WARNING);
	assert_string_equal(findings.items[0].message,
			    "2 dashed lines are burned as if solid, from here on");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(burned_art_needs_no_word),
		FRESH(dashed_lines_that_are_cut_are_said_once_a_file),
		FRESH(a_drawing_without_shapes_is_an_error),
		FRESH(what_is_left_out_is_counted_with_the_reason),
		FRESH(folds_and_insets_are_burned_too),
		FRESH(art_that_no_pattern_names_is_noted_once_a_file),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
