#include "engine/wire.h"

#include <math.h>
#include <string.h>

#include "fresh.h"

static const struct finding_place RELATED[] = {
	{.line = 3, .column = 4, .byte = 77, .length = 5, .element = "path#b", .text = "the other"},
	{.line = 1, .column = 1, .in_job = true, .text = "the job"},
};

static const struct finding_measure MEASURES[] = {
	{.what = "width", .unit = "mm", .value = 0.1, .limit = 0.35},
	{.what = "count", .unit = "", .value = 3, .limit = NAN},
};

static const struct cutlint_xy CHAIN[] = {{0, 0}, {5, 0}, {5, -6}};
static const struct finding_figure FIGURES[] = {
	{.kind = FIGURE_SPAN, .from = {1, 2}, .to = {1.25, -2}},
	{.kind = FIGURE_CIRCLE, .from = {3, 4}, .to = {3, 4}, .diameter_mm = 0.4},
	{.kind = FIGURE_OUTLINE, .length_mm = 12.5, .outline = 7},
	{.kind = FIGURE_SHAPE, .points = CHAIN, .point_count = 3, .label = "envelope"},
};

static const struct finding_edit EDITS[] = {{400, 3, ""}, {410, 0, "z"}};

static struct finding full_finding(void)
{
	return (struct finding){
		.severity = CUTLINT_WARNING,
		.message = "bridge of 0.10 mm",
		.suggestion = "widen it",
		.place = {.line = 12,
			  .column = 9,
			  .byte = 400,
			  .length = 3,
			  .element = "path#a",
			  .at = {1.5, -2.25},
			  .on_sheet = true},
		.related = (struct finding_place *)RELATED,
		.measures = (struct finding_measure *)MEASURES,
		.figures = (struct finding_figure *)FIGURES,
		.edits = (struct finding_edit *)EDITS,
		.edit_count = 2,
		.related_count = 2,
		.measure_count = 2,
		.figure_count = 4,
	};
}

static struct wire_frame only_frame(const struct text *text)
{
	struct wire_frame frame;
	ptrdiff_t used = wire_take_frame((const unsigned char *)text->bytes, text->length, &frame);
	assert_int_equal(used, text->length);
	return frame;
}

static void a_finding_comes_out_as_it_went_in(void **state)
{
	struct text text = {0};
	struct finding in = full_finding(), out;
	assert_int_equal(wire_put_finding(&text, &in), 0);
	struct wire_frame frame = only_frame(&text);
	assert_int_equal(frame.kind, WIRE_FINDING);
	assert_int_equal(wire_get_finding(&frame, *state, &out), 0);

	assert_int_equal(out.severity, CUTLINT_WARNING);
	assert_string_equal(out.message, in.message);
	assert_string_equal(out.suggestion, in.suggestion);
	assert_int_equal(out.place.line, 12);
	assert_int_equal(out.place.column, 9);
	assert_int_equal(out.place.byte, 400);
	assert_int_equal(out.place.length, 3);
	assert_string_equal(out.place.element, "path#a");
	assert_true(out.place.on_sheet && out.place.at.x == 1.5 && out.place.at.y == -2.25);
	assert_int_equal(out.related_count, 2);
	assert_string_equal(out.related[0].element, "path#b");
	assert_null(out.related[1].element);
	assert_string_equal(out.related[1].text, "the job");
	assert_true(out.related[1].in_job && !out.related[0].in_job);
	assert_int_equal(out.edit_count, 2);
	assert_int_equal(out.edits[0].byte, 400);
	assert_int_equal(out.edits[0].length, 3);
	assert_string_equal(out.edits[0].text, "");
	assert_string_equal(out.edits[1].text, "z");
	assert_int_equal(out.measure_count, 2);
	assert_true(out.measures[0].value == 0.1 && out.measures[0].limit == 0.35);
	assert_true(isnan(out.measures[1].limit));
	assert_int_equal(out.figure_count, 4);
	assert_int_equal(out.figures[0].kind, FIGURE_SPAN);
	assert_true(out.figures[0].from.y == 2 && out.figures[0].to.x == 1.25);
	assert_int_equal(out.figures[1].kind, FIGURE_CIRCLE);
	assert_true(out.figures[1].to.x == 3 && out.figures[1].diameter_mm == 0.4);
	assert_int_equal(out.figures[2].kind, FIGURE_OUTLINE);
	assert_true(out.figures[2].length_mm == 12.5 && out.figures[2].outline == 7);
	assert_int_equal(out.figures[3].point_count, 3);
	assert_true(out.figures[3].points[2].x == 5 && out.figures[3].points[2].y == -6);
	assert_string_equal(out.figures[3].label, "envelope");
	text_finish(&text);
}

static void what_is_not_said_stays_unsaid(void **state)
{
	struct text text = {0};
	struct finding in = {.message = ""}, out;
	assert_int_equal(wire_put_finding(&text, &in), 0);
	struct wire_frame frame = only_frame(&text);
	assert_int_equal(wire_get_finding(&frame, *state, &out), 0);
	assert_string_equal(out.message, "");
	assert_null(out.suggestion);
	assert_null(out.place.element);
	assert_int_equal(out.related_count, 0);
	text_finish(&text);
}

static void half_a_frame_waits_for_its_rest(void **state)
{
	(void)state;
	struct text text = {0};
	struct wire_frame frame;
	wire_put_number(&text, WIRE_RULE_BEGINS, 7);
	for (size_t length = 0; length < text.length; length++)
		assert_int_equal(wire_take_frame((const unsigned char *)text.bytes, length, &frame),
				 0);
	uint32_t number;
	frame = only_frame(&text);
	assert_int_equal(wire_get_number(&frame, &number), 0);
	assert_int_equal(number, 7);
	text_finish(&text);
}

static void rubbish_is_no_frame(void **state)
{
	(void)state;
	struct wire_frame frame;
	const unsigned char wild_length[] = {0xff, 0xff, 0xff, 0xff, WIRE_FINDING};
	const unsigned char wild_kind[] = {0, 0, 0, 0, 99};
	assert_int_equal(wire_take_frame(wild_length, sizeof(wild_length), &frame), -1);
	assert_int_equal(wire_take_frame(wild_kind, sizeof(wild_kind), &frame), -1);
}

/* Whatever is cut off or changed in a body, the reader stays inside it. */
static void a_damaged_finding_is_refused_or_read_within_its_body(void **state)
{
	struct text text = {0};
	struct finding in = full_finding(), out;
	wire_put_finding(&text, &in);
	struct wire_frame frame = only_frame(&text);
	uint32_t whole = frame.length;
	for (uint32_t length = 0; length < whole; length++) {
		frame.length = length;
		assert_int_equal(wire_get_finding(&frame, *state, &out), -1);
	}

	/* Each byte in turn becomes 0xff, in a copy of just the right size. */
	unsigned char *body = test_malloc(whole);
	for (uint32_t i = 0; i < whole; i++) {
		memcpy(body, frame.body, whole);
		body[i] = 0xff;
		struct wire_frame damaged = {WIRE_FINDING, body, whole};
		wire_get_finding(&damaged, *state, &out);
	}
	test_free(body);
	text_finish(&text);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(a_finding_comes_out_as_it_went_in),
		FRESH(what_is_not_said_stays_unsaid),
		FRESH(half_a_frame_waits_for_its_rest),
		FRESH(rubbish_is_no_frame),
		FRESH(a_damaged_finding_is_refused_or_read_within_its_body),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
