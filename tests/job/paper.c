#include "job/paper.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "unit.h"

static struct paper_size size_of(const char *text)
{
	struct paper_size size = {0, 0};
	struct value_error error;
	if (paper_parse(text, &size, &error) < 0)
		fail_msg("'%s': %s", text, error.text);
	return size;
}

static void assert_size(const char *text, double width, double height)
{
	struct paper_size size = size_of(text);
	if (fabs(size.width_mm - width) > 1e-9 || fabs(size.height_mm - height) > 1e-9)
		fail_msg("'%s' is %g x %g", text, size.width_mm, size.height_mm);
}

static void iso_sizes_halve_as_the_standard_has_it(void **state)
{
	(void)state;
	/*
	 * ISO 216:2007: each size is the one before, its long side halved and rounded down to a
	 * whole millimetre; A0 is 841 x 1189 mm (1 m², sides as 1 to the root of 2), B0 1000 x
	 * 1414.
	 */
	for (int series = 0; series < 2; series++) {
		double width = series ? 1000 : 841, height = series ? 1414 : 1189;
		for (int number = 0; number <= 10; number++) {
			char name[16];
			snprintf(name, sizeof(name), "ISO %c%d", "AB"[series], number);
			assert_size(name, width, height);
			double half = floor(height / 2);
			height = width;
			width = half;
		}
	}
}

static void iso_sizes_agree_with_the_exact_series(void **state)
{
	(void)state;
	/* A(n) has the short side 2^(-1/4 - n/2) m, B(n) 2^(-n/2) m; B(n) is the geometric mean of
	 * A(n) and A(n-1). Rounding down eats at most a millimetre and a bit. */
	for (int number = 0; number <= 10; number++) {
		char name[16];
		snprintf(name, sizeof(name), "ISO A%d", number);
		assert_true(fabs(size_of(name).width_mm - 1000 * pow(2, -0.25 - number / 2.0)) < 1);
		snprintf(name, sizeof(name), "ISO B%d", number);
		assert_true(fabs(size_of(name).width_mm - 1000 * pow(2, -number / 2.0)) < 1);
	}
}

static void the_card_of_a_long_envelope_is_a_third_of_a4(void **state)
{
	(void)state;
	struct paper_size a4 = size_of("ISO A4"), card = size_of("DL");
	assert_true(fabs(card.width_mm - a4.height_mm / 3) < 1e-9);
	assert_true(card.height_mm == a4.width_mm);
	/* ISO 269: the envelope DL is 110 x 220 mm. */
	assert_true(card.width_mm < 110 && card.height_mm < 220);
}

static void envelopes_are_refused_with_the_card_that_fits(void **state)
{
	(void)state;
	/* ISO 269: C(n) is the geometric mean of A(n) and B(n); trimmed sizes in whole millimetres.
	 */
	for (int number = 3; number <= 7; number++) {
		char name[16], a[16], b[16], expected[32];
		struct paper_size size;
		struct value_error error;
		snprintf(name, sizeof(name), "C%d", number);
		snprintf(a, sizeof(a), "ISO A%d", number);
		snprintf(b, sizeof(b), "ISO B%d", number);
		assert_int_equal(paper_parse(name, &size, &error), -1);
		int width, height;
		const char *bracket = strchr(error.text, '(');
		assert_int_equal(sscanf(bracket, "(%d mm x %d mm)", &width, &height), 2);
		assert_true(fabs(width - sqrt(size_of(a).width_mm * size_of(b).width_mm)) < 1);
		assert_true(fabs(height - sqrt(size_of(a).height_mm * size_of(b).height_mm)) < 1);
		snprintf(expected, sizeof(expected), "'%s'", a);
		assert_non_null(strstr(bracket, expected));
	}
}

static void us_announcement_cards_are_inches(void **state)
{
	(void)state;
	/* Stationers' tables; common practice, no standard. 1 in = 25.4 mm. */
	assert_size("US A2", 4.25 * 25.4, 5.5 * 25.4);
	assert_size("US A6", 114.3, 158.75);
	assert_size("US A7", 127, 177.8);
	assert_size("US A8", 5.25 * 25.4, 7.875 * 25.4);
	assert_size("US A9", 5.5 * 25.4, 8.5 * 25.4);
	assert_size("US A10", 5.75 * 25.4, 9.25 * 25.4);
	assert_size("US 4-bar", 3.5 * 25.4, 4.875 * 25.4);
	assert_size("US A1", 3.5 * 25.4, 4.875 * 25.4);
	assert_size("4-bar", 3.5 * 25.4, 4.875 * 25.4);
}

static void plain_names_that_only_one_system_has_are_fine(void **state)
{
	(void)state;
	assert_size("A3", 297, 420);
	assert_size("A4", 210, 297);
	assert_size("A5", 148, 210);
	assert_size("B6", 125, 176);
}

static void plain_names_of_both_systems_are_refused_with_both(void **state)
{
	(void)state;
	static const char *const NAMES[] = {"A1", "A2", "A6", "A7", "A8", "A9", "A10"};
	for (size_t i = 0; i < sizeof(NAMES) / sizeof(*NAMES); i++) {
		struct paper_size size;
		struct value_error error;
		char iso[16], us[16];
		snprintf(iso, sizeof(iso), "'ISO %s' (", NAMES[i]);
		snprintf(us, sizeof(us), "'US %s' (", NAMES[i]);
		assert_int_equal(paper_parse(NAMES[i], &size, &error), -1);
		assert_non_null(strstr(error.text, iso));
		assert_non_null(strstr(error.text, us));
	}
}

static void a_size_may_be_two_lengths(void **state)
{
	(void)state;
	assert_size("105 mm x 148 mm", 105, 148);
	assert_size("148mm x 105mm", 148, 105);
	assert_size("105mmx14.8cm", 105, 148);
	assert_size("105 mm \xc3\x97 148 mm", 105, 148);
	assert_size("4 1/4 in x 5 1/2 in", 107.95, 139.7);
	assert_size("96 px x 192 px", 25.4, 50.8);
	assert_size("96pxx192px", 25.4, 50.8);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(iso_sizes_halve_as_the_standard_has_it),
		cmocka_unit_test(iso_sizes_agree_with_the_exact_series),
		cmocka_unit_test(the_card_of_a_long_envelope_is_a_third_of_a4),
		cmocka_unit_test(envelopes_are_refused_with_the_card_that_fits),
		cmocka_unit_test(us_announcement_cards_are_inches),
		cmocka_unit_test(plain_names_that_only_one_system_has_are_fine),
		cmocka_unit_test(plain_names_of_both_systems_are_refused_with_both),
		cmocka_unit_test(a_size_may_be_two_lengths),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
