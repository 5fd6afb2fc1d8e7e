/* Envelopes: ISO 269 sizes, US announcement sizes, and the cards that they hold. */
#include "job/envelope.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "unit.h"

static struct paper_size envelope_of(const char *text)
{
	struct paper_size size = {0, 0};
	struct value_error error;
	if (envelope_parse(text, &size, &error) < 0)
		fail_msg("'%s': %s", text, error.text);
	return size;
}

static struct paper_size card_of(const char *text)
{
	struct paper_size size = {0, 0};
	struct value_error error;
	if (paper_parse(text, &size, &error) < 0)
		fail_msg("'%s': %s", text, error.text);
	return size;
}

static void assert_refused(const char *text, const char *wanted)
{
	struct paper_size size;
	struct value_error error;
	assert_int_equal(envelope_parse(text, &size, &error), -1);
	if (!strstr(error.text, wanted))
		fail_msg("'%s' does not hold '%s'", error.text, wanted);
}

static void iso_sizes_lie_between_the_series_a_and_b(void **state)
{
	(void)state;
	/* ISO 269: C(n) is the geometric mean of A(n) and B(n) of ISO 216, to a millimetre. */
	for (int number = 3; number <= 7; number++) {
		char c[16], a[16], b[16];
		snprintf(c, sizeof(c), "C%d", number);
		snprintf(a, sizeof(a), "ISO A%d", number);
		snprintf(b, sizeof(b), "ISO B%d", number);
		double width = sqrt(card_of(a).width_mm * card_of(b).width_mm);
		double height = sqrt(card_of(a).height_mm * card_of(b).height_mm);
		assert_true(fabs(envelope_of(c).width_mm - width) < 1);
		assert_true(fabs(envelope_of(c).height_mm - height) < 1);
	}
	/* C7/6 has the width of C7 and the height of C6. */
	assert_true(envelope_of("C7/6").width_mm == envelope_of("C7").width_mm);
	assert_true(envelope_of("C7/6").height_mm == envelope_of("C6").height_mm);
	assert_true(envelope_of("ISO C6").width_mm == 114);
}

static void assert_clearance(const char *envelope, const char *card, double wide, double high)
{
	double width = envelope_of(envelope).width_mm - card_of(card).width_mm;
	double height = envelope_of(envelope).height_mm - card_of(card).height_mm;
	if (fabs(width - wide) > 1e-9 || fabs(height - high) > 1e-9)
		fail_msg("'%s' in '%s' has %g mm and %g mm", card, envelope, width, height);
}

static void iso_cards_have_the_clearance_of_the_standards(void **state)
{
	(void)state;
	/* Differences of the tables of ISO 216 and ISO 269. */
	assert_clearance("C6", "ISO A6", 9, 14);
	assert_clearance("C5", "ISO A5", 14, 19);
	assert_clearance("DL", "DL", 11, 10);
}

static void us_cards_have_an_eighth_or_a_quarter_inch(void **state)
{
	(void)state;
	/*
	 * Two stationers' tables and one list of envelope styles; no standard. Two misprints of
	 * such tables would show here: a folded A8 with its fold at 5 in of 10 1/2, and a card for
	 * the A6 that is 4 3/4 in wide as its envelope is.
	 */
	const double eighth = 25.4 / 8, quarter = 25.4 / 4;
	assert_clearance("US A1", "US A1", eighth, quarter);
	assert_clearance("US 4-bar", "US 4-bar", eighth, quarter);
	assert_clearance("US A2", "US A2", eighth, quarter);
	static const char *const NAMES[] = {"US A6", "US A7", "US A8", "US A9", "US A10"};
	for (size_t i = 0; i < sizeof(NAMES) / sizeof(*NAMES); i++)
		assert_clearance(NAMES[i], NAMES[i], quarter, quarter);
}

static void names_that_are_not_clear_are_refused_with_what_to_write(void **state)
{
	(void)state;
	assert_refused("A7", "write 'US A7' (5 1/4 in x 7 1/4 in), or for a card of ISO A7 the "
			     "envelope 'C7'");
	assert_refused("ISO A6", "'ISO A6' is a card; the envelope for it is 'C6'");
	assert_refused("C66", "did you mean 'C6'?");
	assert_refused("114 mm", "'114 mm' is no envelope; write two lengths");
}

static void an_envelope_may_be_two_lengths(void **state)
{
	(void)state;
	struct paper_size square = envelope_of("6 in x 6 in");
	assert_true(fabs(square.width_mm - 152.4) < 1e-9 && square.width_mm == square.height_mm);
}

static void every_named_card_is_told_to_rules(void **state)
{
	(void)state;
	struct cutlint_paper paper;
	size_t count = 0;
	for (; cutlint_paper(count, &paper); count++) {
		struct paper_size size = card_of(paper.name);
		assert_true(size.width_mm == paper.width_mm && size.height_mm == paper.height_mm);
	}
	assert_true(count > 20);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(iso_sizes_lie_between_the_series_a_and_b),
		cmocka_unit_test(iso_cards_have_the_clearance_of_the_standards),
		cmocka_unit_test(us_cards_have_an_eighth_or_a_quarter_inch),
		cmocka_unit_test(names_that_are_not_clear_are_refused_with_what_to_write),
		cmocka_unit_test(an_envelope_may_be_two_lengths),
		cmocka_unit_test(every_named_card_is_told_to_rules),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
