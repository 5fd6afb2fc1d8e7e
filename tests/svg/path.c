/*
 * Path data. Section numbers are those of SVG 2 (chapter 9, Paths); examples marked "SVG 2" are the
 * specification's own, with the points that its text and figures give.
 */
#include "svg/path.h"

#include <stdio.h>
#include <string.h>

#include "helper.h"

/* Writes segments as text: "M 1 2|L 3 4|Z". */
struct writer {
	char text[1024];
	size_t length;
};

static void write_numbers(struct writer *writer, const struct cutlint_xy *points, int count)
{
	for (int i = 0; i < count; i++)
		writer->length += (size_t)snprintf(writer->text + writer->length,
						   sizeof(writer->text) - writer->length, " %g %g",
						   points[i].x, points[i].y);
}

static bool write_segment(void *user, const struct svg_segment *segment)
{
	static const char LETTERS[] = "MLQCAZ";
	static const int POINTS[] = {1, 1, 2, 3, 1, 0};
	struct writer *writer = user;
	writer->length += (size_t)snprintf(writer->text + writer->length,
					   sizeof(writer->text) - writer->length, "%s%c",
					   writer->length ? "|" : "", LETTERS[segment->kind]);
	if (segment->kind == SVG_ARC)
		writer->length += (size_t)snprintf(
			writer->text + writer->length, sizeof(writer->text) - writer->length,
			" %g %g %g %d %d", segment->arc.rx, segment->arc.ry, segment->arc.rotation,
			segment->arc.large, segment->arc.sweep);
	write_numbers(writer, segment->p, POINTS[segment->kind]);
	return true;
}

static struct svg_mistake read_path(const char *data, struct writer *writer)
{
	struct svg_mistake mistake;
	*writer = (struct writer){.length = 0};
	struct svg_sink sink = {write_segment, writer};
	assert_true(svg_path_parse(svg_scan_of(data), sink, &mistake));
	return mistake;
}

static void reads_as(const char *data, const char *expected)
{
	struct writer writer;
	struct svg_mistake mistake = read_path(data, &writer);
	assert_string_equal(writer.text, expected);
	assert_null(mistake.message);
}

static void fails_at(const char *data, uint32_t offset, const char *drawn)
{
	struct writer writer;
	struct svg_mistake mistake = read_path(data, &writer);
	assert_string_equal(writer.text, drawn);
	assert_non_null(mistake.message);
	assert_int_equal(mistake.offset, offset);
}

static void the_examples_of_the_specification_read_as_their_figures_show(void **state)
{
	(void)state;
	/* SVG 2, 9.3.2, triangle01; 9.3.6, cubic01; 9.3.7, quad01 with the control point 800,550.
	 */
	reads_as("M 100 100 L 300 100 L 200 300 z", "M 100 100|L 300 100|L 200 300|Z");
	reads_as("M100,200 C100,100 250,100 250,200 S400,300 400,200",
		 "M 100 200|C 100 100 250 100 250 200|C 250 300 400 300 400 200");
	reads_as("M200,300 Q400,50 600,300 T1000,300",
		 "M 200 300|Q 400 50 600 300|Q 800 550 1000 300");
	/* SVG 2, 9.3.8, arcs01 */
	reads_as("M300,200 h-150 a150,150 0 1,0 150,-150 z",
		 "M 300 200|L 150 200|A 150 150 0 1 0 300 50|Z");
}

static void numbers_end_where_no_longer_one_can_be_read(void **state)
{
	(void)state;
	/* SVG 2, 9.3.9: "M 100-200" and "M 0.6.5" are its examples. */
	reads_as("M 100-200", "M 100 -200");
	reads_as("M 0.6.5", "M 0.6 0.5");
	reads_as("M1e2-3E-1+4.5.25", "M 100 -0.3|L 4.5 0.25");
	reads_as("M-.5.5l.1-.2", "M -0.5 0.5|L -0.4 0.3");
	/* a point without digits behind it is no number of SVG 2, and viewers stop at it */
	fails_at("M 23. 5", 2, "");
	fails_at("M 2 3L4 5.e1", 8, "M 2 3");
}

static void more_pairs_after_a_moveto_are_linetos(void **state)
{
	(void)state;
	/* SVG 2, 9.3.3: relative after m; a first m is absolute */
	reads_as("M 1 2 3 4 5 6", "M 1 2|L 3 4|L 5 6");
	reads_as("m 1 2 3 4 5 6 z m 1 1", "M 1 2|L 4 6|L 9 12|Z|M 2 3");
}

static void every_command_repeats_its_letter_silently(void **state)
{
	(void)state;
	/* SVG 2, 9.3.1: the letter can be left out on later commands of the same kind */
	reads_as("M0 0H1 2V3 4h1 1v-1-1", "M 0 0|L 1 0|L 2 0|L 2 3|L 2 4|L 3 4|L 4 4|L 4 3|L 4 2");
	reads_as("M0 0q1 1 2 0 1 1 2 0", "M 0 0|Q 1 1 2 0|Q 3 1 4 0");
	reads_as("M0 0c0 1 1 1 1 0 0 1 1 1 1 0", "M 0 0|C 0 1 1 1 1 0|C 1 1 2 1 2 0");
	reads_as("M0 0t1 1 1 1", "M 0 0|Q 0 0 1 1|Q 2 2 2 2");
	reads_as("M0 0s1 1 2 0 1 1 2 0", "M 0 0|C 0 0 1 1 2 0|C 3 -1 3 1 4 0");
}

static void arc_flags_need_no_separators(void **state)
{
	(void)state;
	/* SVG 2, 9.3.9: flag: "0" | "1", each one character */
	reads_as("M0 0a1 1 0 001 1", "M 0 0|A 1 1 0 0 0 1 1");
	reads_as("M0 0a1,1 0 0110,10", "M 0 0|A 1 1 0 0 1 10 10");
	reads_as("M0 0A1 1 0 1 01.84.5", "M 0 0|A 1 1 0 1 0 1.84 0.5");
	reads_as("M0 0a1 1 0 00 1 1 1 1 0 112 2", "M 0 0|A 1 1 0 0 0 1 1|A 1 1 0 1 1 3 3");
}

static void a_smooth_command_after_another_kind_starts_at_the_current_point(void **state)
{
	(void)state;
	/* SVG 2, 9.3.6 and 9.3.7: if the previous command was not C, c, S, s (Q, q, T, t) */
	reads_as("M1 1 Q2 2 3 1 S 4 0 5 1", "M 1 1|Q 2 2 3 1|C 3 1 4 0 5 1");
	reads_as("M1 1 C1 2 3 2 3 1 T 5 1", "M 1 1|C 1 2 3 2 3 1|Q 3 1 5 1");
}

static void closing_returns_to_the_start_of_the_subpath(void **state)
{
	(void)state;
	/* SVG 2, 9.3.4: the next subpath starts at the same point */
	reads_as("M 5 5 h 10 v 10 z l 1 1", "M 5 5|L 15 5|L 15 15|Z|L 6 6");
}

static void nothing_and_none_draw_nothing(void **state)
{
	(void)state;
	/* SVG 2, 9.3.1: the value none, or an empty string, disables rendering without error */
	reads_as("", "");
	reads_as(" \n\t ", "");
	reads_as("none", "");
}

static void a_path_is_drawn_up_to_its_first_mistake(void **state)
{
	(void)state;
	/* SVG 2, 9.5.4: its example "M 10,10 L 20,20,30" is drawn to 20,20 */
	fails_at("M 10,10 L 20,20,30", 16, "M 10 10|L 20 20");
	fails_at("M 1 1 L 2 2 x 3 3", 12, "M 1 1|L 2 2");
	fails_at("M 1 1 L 2 z", 10, "M 1 1");
	fails_at("L 1 1", 0, "");
	fails_at("M 1 1 L,2 2", 7, "M 1 1");
	fails_at("M 1 1 2 2, L 3 3", 9, "M 1 1|L 2 2");
	fails_at("M 1 1,,2 2", 5, "M 1 1");
	fails_at("M0 0 a1 1 0 2 0 1 1", 12, "M 0 0");
	fails_at("M0 0 a1 1 0 0", 5, "M 0 0");
	fails_at("M0 0 C 1 1 2 2 3 3 4 4 5 5", 19, "M 0 0|C 1 1 2 2 3 3");
	fails_at("z", 0, "");
	fails_at("M0 0 L 1 1\xc3\xa9", 10, "M 0 0|L 1 1");
	fails_at("M0 0 z 5 5", 7, "M 0 0|Z");
}

static void read_points(const char *data, bool close, struct writer *writer,
			struct svg_mistake *mistake)
{
	*writer = (struct writer){.length = 0};
	struct svg_sink sink = {write_segment, writer};
	assert_true(svg_points_parse(svg_scan_of(data), close, sink, mistake));
}

static void points_drop_an_odd_coordinate_and_draw_the_rest(void **state)
{
	(void)state;
	/* SVG 2, 10.6 and 10.7: an odd number of coordinates is an error */
	struct writer writer;
	struct svg_mistake mistake;
	read_points("0,0 10,0 10-10", true, &writer, &mistake);
	assert_string_equal(writer.text, "M 0 0|L 10 0|L 10 -10|Z");
	assert_null(mistake.message);
	read_points("0 0 1 1 2", false, &writer, &mistake);
	assert_string_equal(writer.text, "M 0 0|L 1 1");
	assert_int_equal(mistake.offset, 8);
	read_points("0 0 1 1 a", true, &writer, &mistake);
	assert_string_equal(writer.text, "M 0 0|L 1 1|Z");
	assert_int_equal(mistake.offset, 8);
	read_points("", true, &writer, &mistake);
	assert_string_equal(writer.text, "");
	assert_null(mistake.message);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_examples_of_the_specification_read_as_their_figures_show),
		cmocka_unit_test(numbers_end_where_no_longer_one_can_be_read),
		cmocka_unit_test(more_pairs_after_a_moveto_are_linetos),
		cmocka_unit_test(every_command_repeats_its_letter_silently),
		cmocka_unit_test(arc_flags_need_no_separators),
		cmocka_unit_test(a_smooth_command_after_another_kind_starts_at_the_current_point),
		cmocka_unit_test(closing_returns_to_the_start_of_the_subpath),
		cmocka_unit_test(nothing_and_none_draw_nothing),
		cmocka_unit_test(a_path_is_drawn_up_to_its_first_mistake),
		cmocka_unit_test(points_drop_an_odd_coordinate_and_draw_the_rest),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
