/* report.c - findings, troubles and measures as text and JSON. */
#define _GNU_SOURCE /* setenv */
#include "report/report.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "fresh.h"
#include "report/colour.h"
#include "report/measure.h"

#include "drawing.h"

static struct finding_place RELATED[] = {
	{.file = "a.svg", .line = 20, .column = 3, .element = "path#b", .text = "the other wall"},
};

static struct finding sample(void)
{
	return (struct finding){
		.rule = "bridge-width",
		.severity = CUTLINT_ERROR,
		.message = "bridge of 0.21 mm is under 0.35 mm",
		.suggestion = "move the windows apart",
		.place = {.file = "a.svg", .line = 12, .column = 9, .element = "path#a"},
		.related = RELATED,
		.related_count = 1};
}

static void assert_report(struct finding *finding, bool colour, const char *wanted)
{
	struct text text = {0};
	struct findings findings = {.items = finding, .count = 1};
	report_findings(&text, &findings, colour);
	assert_string_equal(text.bytes, wanted);
	text_finish(&text);
}

static void a_finding_has_the_gnu_form_with_suggestion_and_related_places(void **state)
{
	(void)state;
	struct finding finding = sample();
	assert_report(&finding, false,
		      "a.svg:12:9: error: bridge of 0.21 mm is under 0.35 mm (path#a) "
		      "[bridge-width]\n"
		      "  suggestion: move the windows apart\n"
		      "a.svg:20:3: note: the other wall (path#b)\n");
}

static void an_element_that_the_message_names_is_not_named_again(void **state)
{
	(void)state;
	struct finding finding = sample();
	finding.message = "path#a is open";
	finding.suggestion = NULL;
	finding.related_count = 0;
	assert_report(&finding, false, "a.svg:12:9: error: path#a is open [bridge-width]\n");
}

/* A file name with a newline must not forge a finding, an id no terminal command. */
static void names_from_outside_are_escaped(void **state)
{
	(void)state;
	struct finding finding = sample();
	finding.place.file = "a\nb.svg:1:1: error: forged";
	finding.message = "id '\x1b[2J\xff' with \xc3\xa9";
	finding.suggestion = "see\rthere";
	finding.place.element = NULL;
	finding.related_count = 0;
	assert_report(&finding, false,
		      "a\\x0ab.svg:1:1: error: forged:12:9: error: id '\\x1b[2J\\xff' with "
		      "\xc3\xa9 [bridge-width]\n"
		      "  suggestion: see\\x0dthere\n");
}

static void colours_change_nothing_but_the_look(void **state)
{
	(void)state;
	struct finding finding = sample();
	struct findings findings = {.items = &finding, .count = 1};
	struct text plain = {0}, coloured = {0}, stripped = {0};
	report_findings(&plain, &findings, false);
	report_findings(&coloured, &findings, true);
	for (const char *at = coloured.bytes; *at; at++) {
		if (*at == '\x1b')
			at += strcspn(at, "m");
		else
			text_add(&stripped, at, 1);
	}
	assert_string_not_equal(coloured.bytes, plain.bytes);
	assert_string_equal(stripped.bytes, plain.bytes);
	text_finish(&plain);
	text_finish(&coloured);
	text_finish(&stripped);
}

static void troubles_stand_at_the_job_files_line_or_speak_for_the_command(void **state)
{
	struct troubles troubles = {.arena = *state};
	struct source source;
	struct notices notices = {.arena = *state};
	source_index(&source, *state, "cutlint.job", "[burn]\nkref = 1 mm\n", 18);
	struct notice *notice = notice_add(&notices, NOTICE_FATAL, "job", 7, 4, "no key 'kref'");
	notice_suggest(&notices, notice, "did you mean '%s'?", "kerf");
	trouble_add_fatal(&troubles, &source, &notices);
	trouble_add(&troubles, "cannot read 'x'");

	struct text text = {0};
	report_troubles(&text, &troubles, false);
	assert_string_equal(text.bytes, "cutlint.job:2:1: error: no key 'kref'\n"
					"  suggestion: did you mean 'kerf'?\n"
					"cutlint: error: cannot read 'x'\n");
	text_finish(&text);
}

static void assert_tally(struct tally tally, const char *wanted)
{
	struct text text = {0};
	report_tally(&text, &tally);
	assert_string_equal(text.bytes, wanted);
	text_finish(&text);
}

static void a_summary_counts_what_there_is(void **state)
{
	(void)state;
	assert_tally((struct tally){.by_severity = {0, 1, 2}, .file_count = 1},
		     "2 errors, 1 warning in 1 file\n");
	assert_tally((struct tally){.by_severity = {3, 0, 0}, .file_count = 2},
		     "3 notes in 2 files\n");
	assert_tally((struct tally){.file_count = 1}, "no findings in 1 file\n");
	assert_tally((struct tally){.file_count = 1, .failed_count = 1},
		     "1 file could not be checked in full\n");
	assert_tally((struct tally){.file_count = 2, .failed_count = 1},
		     "no findings in 2 files; 1 file could not be checked in full\n");
}

/* no-color.org: NO_COLOR, when present and not an empty string, prevents colour. */
static void no_color_wins_over_clicolor_force_and_the_option_over_both(void **state)
{
	(void)state;
	setenv("CLICOLOR_FORCE", "1", 1);
	setenv("NO_COLOR", "", 1);
	assert_true(colour_wanted(COLOUR_AUTO, 1));
	setenv("NO_COLOR", "1", 1);
	assert_false(colour_wanted(COLOUR_AUTO, 1));
	assert_true(colour_wanted(COLOUR_ALWAYS, 1));
	unsetenv("NO_COLOR");
	assert_false(colour_wanted(COLOUR_NEVER, 1));
	setenv("CLICOLOR_FORCE", "0", 1);
	setenv("TERM", "dumb", 1);
	assert_false(colour_wanted(COLOUR_AUTO, 1));
}

/* A reading that had something to say, of shapes that are no outlines. */
static const struct svg_report READ = {
	.heard = {{"marker", 3, NOTICE_WARNING}, {"gradient", 1, NOTICE_NOTE}},
	.template_shapes = 2,
};

/* A right triangle with legs of 10 mm: length 20 + 10 sqrt 2, area 50. */
static void the_measures_of_a_triangle_are_those_of_the_closed_form(void **state)
{
	struct drawing drawing;
	struct measures measures;
	drawing_init(&drawing, *state);
	assert_int_equal(measure_design(&measures, *state, &drawing.design, &READ), 0);
	assert_int_equal(measures.count, 1);
	assert_true(fabs(measures.outlines[0].length_mm - (20 + 10 * sqrt(2))) < 1e-9);
	assert_true(fabs(measures.outlines[0].area_mm2 - 50) < 1e-9);
	assert_int_equal(measures.totals[CUTLINT_ROLE_ART].outline_count, 1);

	struct text text = {0};
	measure_add_text(&text, &measures);
	assert_string_equal(
		text.bytes,
		"tri.svg:2:21: art closed, 34.142 mm, 50.000 mm2, box 0.000 0.000 to "
		"10.000 10.000 mm (path#tri)\n"
		"total\n"
		"art          1 outline,      1 closed       34.142 mm         50.000 mm2\n"
		"not burned\n"
		"template                 2 shapes\n"
		"said by the reader\n"
		"marker                   3 warnings\n"
		"gradient                 1 note\n");
	text_finish(&text);
}

static void json_reads_back_with_the_documented_fields(void **state)
{
	struct drawing drawing;
	struct measures measures;
	struct text text = {0};
	drawing_init(&drawing, *state);
	drawing.vertices[1].x = 100000; /* 0.1 mm */
	drawing.design.file = "bad\xff.svg";
	measure_design(&measures, *state, &drawing.design, &READ);
	assert_int_equal(measure_add_json(&text, &measures), 0);
	assert_null(strstr(text.bytes, "0.10000000000000001"));

	json_error_t error;
	json_t *root = json_loads(text.bytes, 0, &error);
	assert_non_null(root);
	const char *file, *id, *role, *element;
	double length, left, total;
	int line, column, closed, physical;
	assert_int_equal(json_unpack(root,
				     "{s:s, s:b, s:n, s:F, s:[{s:i, s:i, s:s, s:s, s:s, s:b, s:F, "
				     "s:F, s:{s:F, s:F, s:F, s:F}}], s:[{s:s, s:F}]}",
				     "file", &file, "physical", &physical, "page", "flatness_mm",
				     &total, "outlines", "line", &line, "column", &column,
				     "element", &element, "id", &id, "role", &role, "closed",
				     &closed, "length_mm", &length, "area_mm2", &total, "box_mm",
				     "left", &left, "top", &left, "right", &left, "bottom", &left,
				     "totals", "role", &role, "length_mm", &total),
			 0);
	assert_string_equal(file, "bad\\xff.svg");
	assert_string_equal(id, "tri");
	assert_string_equal(element, "path#tri");
	assert_int_equal(line, PATH_LINE);

	const char *kind, *severity;
	int template, text_count, clipped, dashed, count;
	assert_int_equal(json_unpack(root, "{s:{s:i, s:i}, s:i, s:i, s:[{s:s, s:s, s:i}]}",
				     "not_burned", "template", &template, "text", &text_count,
				     "clipped", &clipped, "dashed", &dashed, "notices", "kind",
				     &kind, "severity", &severity, "count", &count),
			 0);
	assert_int_equal(template, 2);
	assert_int_equal(text_count + clipped + dashed, 0);
	assert_string_equal(kind, "marker");
	assert_string_equal(severity, "warning");
	assert_int_equal(count, 3);
	json_decref(root);
	text_finish(&text);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(a_finding_has_the_gnu_form_with_suggestion_and_related_places),
		FRESH(an_element_that_the_message_names_is_not_named_again),
		FRESH(names_from_outside_are_escaped),
		FRESH(colours_change_nothing_but_the_look),
		FRESH(troubles_stand_at_the_job_files_line_or_speak_for_the_command),
		FRESH(a_summary_counts_what_there_is),
		FRESH(no_color_wins_over_clicolor_force_and_the_option_over_both),
		FRESH(the_measures_of_a_triangle_are_those_of_the_closed_form),
		FRESH(json_reads_back_with_the_documented_fields),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
