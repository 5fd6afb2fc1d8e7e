/*
 * Lengths: CSS Values and Units Level 4, section 6.2: 1 in = 2.54 cm = 96 px, 1 pt = 1/72 in. The
 * inch is 25.4 mm exactly by the international agreement of 1959, the minute and the degree as the
 * SI brochure (9th edition, table 8) has them.
 */
#include "job/value.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "unit.h"

static double value_of(const char *text, enum value_kind kind)
{
	double value = NAN;
	struct value_error error;
	if (value_parse(text, kind, &value, &error) < 0)
		fail_msg("'%s': %s", text, error.text);
	return value;
}

static void assert_value(const char *text, enum value_kind kind, double expected)
{
	double value = value_of(text, kind);
	if (fabs(value - expected) > 4e-16 * fabs(expected))
		fail_msg("'%s' is %.17g, not %.17g", text, value, expected);
}

static void lengths_are_taken_to_millimetres(void **state)
{
	(void)state;
	assert_value("0.15 mm", VALUE_LENGTH, 0.15);
	assert_value("0.15mm", VALUE_LENGTH, 0.15);
	assert_value(" \t0.15 \t mm ", VALUE_LENGTH, 0.15);
	assert_value("10.5 cm", VALUE_LENGTH, 105);
	assert_value("0.006 in", VALUE_LENGTH, 0.1524);
	assert_value("72 pt", VALUE_LENGTH, 25.4);
	assert_value("96 px", VALUE_LENGTH, 25.4);
	assert_value("1 px", VALUE_LENGTH, 25.4 / 96);
	assert_value("340 um", VALUE_LENGTH, 0.34);
	assert_value("1e2 mm", VALUE_LENGTH, 100);
	assert_value("-1 mm", VALUE_LENGTH, -1);
}

static void inches_may_be_written_as_fractions(void **state)
{
	(void)state;
	assert_value("1/8 in", VALUE_LENGTH, 3.175);
	assert_value("3 5/8 in", VALUE_LENGTH, 92.075);
	assert_value("4 1/4in", VALUE_LENGTH, 107.95);
	assert_value("-3 1/2 in", VALUE_LENGTH, -88.9);
	assert_value("7/16 in", VALUE_LENGTH, 11.1125);
}

static void other_kinds_have_their_units(void **state)
{
	(void)state;
	const double pi = acos(-1);
	assert_value("1 mm2", VALUE_AREA, 1);
	assert_value("1 cm2", VALUE_AREA, 100);
	assert_value("1 in2", VALUE_AREA, 25.4 * 25.4);
	assert_value("2 deg", VALUE_ANGLE, pi / 90);
	assert_value("0.5 rad", VALUE_ANGLE, 0.5);
	assert_value("20 %", VALUE_SHARE, 0.2);
	assert_value("20%", VALUE_SHARE, 0.2);
	assert_value("0.2", VALUE_SHARE, 0.2);
	assert_value("1", VALUE_SHARE, 1);
	assert_value("300 mm/min", VALUE_SPEED, 5);
	assert_value("5 mm/s", VALUE_SPEED, 5);
	assert_value("60 in/min", VALUE_SPEED, 25.4);
	assert_value("2 in/s", VALUE_SPEED, 50.8);
	assert_value("10 W", VALUE_POWER, 10);
	assert_value("5500 mW", VALUE_POWER, 5.5);
	assert_value("250 g/m2", VALUE_GRAMMAGE, 250);
	assert_value("250 gsm", VALUE_GRAMMAGE, 250);
	assert_value("10", VALUE_NUMBER, 10);
	assert_value("-0.5", VALUE_NUMBER, -0.5);
	assert_value("3", VALUE_COUNT, 3);
	assert_value("yes", VALUE_FLAG, 1);
	assert_value("no", VALUE_FLAG, 0);
}

struct refusal {
	const char *text;
	enum value_kind kind;
	unsigned offset, length;
	const char *why;
};

static void a_refusal_says_what_and_where(void **state)
{
	(void)state;
	static const struct refusal CASES[] = {
		{"", VALUE_LENGTH, 0, 0, "'' is not a length"},
		{"mm", VALUE_LENGTH, 0, 2, "'mm' is not a length"},
		{"  2 m m", VALUE_LENGTH, 4, 3,
		 "unknown unit 'm m' of a length; did you mean 'mm'?"},
		{" 2.5 ", VALUE_COUNT, 1, 3, "'2.5' is not a whole number"},
		{"-1", VALUE_COUNT, 0, 2, "'-1' is not a whole number"},
		{"2 mm", VALUE_AREA, 2, 2, "unknown unit 'mm' of an area; did you mean 'mm2'?"},
		{"2 dgr", VALUE_ANGLE, 2, 3, "unknown unit 'dgr' of an angle; write deg or rad"},
		{"2", VALUE_ANGLE, 0, 1, "missing unit behind '2'; write deg or rad"},
		{"-0.1", VALUE_SHARE, 0, 4,
		 "'-0.1' without unit is not from 0 to 1; write '-0.1 %'"},
		{"5 mm", VALUE_NUMBER, 2, 2, "unexpected 'mm' behind the number"},
		{"Yes", VALUE_FLAG, 0, 3, "'Yes' is neither yes nor no"},
		{"nan", VALUE_NUMBER, 0, 3, "'nan' is not a number"},
		{"8/8 in", VALUE_LENGTH, 0, 3, "the fraction '8/8' is not below 1"},
		{"3 / 8 in", VALUE_LENGTH, 2, 6,
		 "unknown unit '/ 8 in' of a length; write mm, cm, in, pt, px or um"},
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		struct value_error error;
		double value = 77;
		assert_int_equal(value_parse(CASES[i].text, CASES[i].kind, &value, &error), -1);
		assert_string_equal(error.text, CASES[i].why);
		assert_int_equal(error.offset, CASES[i].offset);
		assert_int_equal(error.length, CASES[i].length);
		assert_true(value == 77);
	}
}

static void long_words_fit_the_message(void **state)
{
	(void)state;
	char text[3000] = "1 ";
	for (size_t i = 2; i < 2998; i += 2)
		memcpy(text + i, "\xc3\xa9", 3);
	struct value_error error;
	double value;
	assert_int_equal(value_parse(text, VALUE_SPEED, &value, &error), -1);
	assert_true(strlen(error.text) < sizeof(error.text));
	assert_non_null(strstr(error.text, "...' of a speed; write mm/s, mm/min, in/min or in/s"));
}

static void values_are_written_as_a_job_file_has_them(void **state)
{
	(void)state;
	static const struct {
		double value;
		enum value_kind kind;
		const char *text;
	} CASES[] = {
		{0.35, VALUE_LENGTH, "0.35 mm"}, {100, VALUE_LENGTH, "100 mm"},
		{1, VALUE_AREA, "1 mm2"},        {0.2, VALUE_SHARE, "20 %"},
		{0.07, VALUE_SHARE, "7 %"},      {5, VALUE_SPEED, "5 mm/s"},
		{10, VALUE_POWER, "10 W"},       {250, VALUE_GRAMMAGE, "250 g/m2"},
		{1.5, VALUE_NUMBER, "1.5"},      {3, VALUE_COUNT, "3"},
		{1, VALUE_FLAG, "yes"},          {0, VALUE_FLAG, "no"},
		{0, VALUE_LENGTH, "0 mm"},
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		char text[48];
		value_format(CASES[i].value, CASES[i].kind, text);
		assert_string_equal(text, CASES[i].text);
	}
	char text[48];
	for (int degrees = 0; degrees <= 360; degrees++) {
		char expected[48];
		snprintf(expected, sizeof(expected), "%d deg", degrees);
		value_format(value_of(expected, VALUE_ANGLE), VALUE_ANGLE, text);
		assert_string_equal(text, expected);
	}
}

static void what_is_written_reads_back_the_same(void **state)
{
	(void)state;
	static const double MOST[] = {
		[VALUE_LENGTH] = 2000,  [VALUE_AREA] = 1e6,   [VALUE_ANGLE] = 7,
		[VALUE_SHARE] = 1,      [VALUE_SPEED] = 1000, [VALUE_POWER] = 100,
		[VALUE_GRAMMAGE] = 500, [VALUE_NUMBER] = 1e9,
	};
	srand(216);
	for (int i = 0; i < 20000; i++) {
		enum value_kind kind = (enum value_kind)(i % (VALUE_NUMBER + 1));
		double value = MOST[kind] * rand() / RAND_MAX, back = NAN;
		char text[48];
		value_format(value, kind, text);
		back = value_of(text, kind);
		if (back != value)
			fail_msg("%.17g is written '%s' and read %.17g", value, text, back);
	}
}

static void options_have_the_kinds_of_job_values(void **state)
{
	(void)state;
	assert_int_equal(value_kind_of_option(CUTLINT_OPTION_LENGTH), VALUE_LENGTH);
	assert_int_equal(value_kind_of_option(CUTLINT_OPTION_AREA), VALUE_AREA);
	assert_int_equal(value_kind_of_option(CUTLINT_OPTION_ANGLE), VALUE_ANGLE);
	assert_int_equal(value_kind_of_option(CUTLINT_OPTION_SHARE), VALUE_SHARE);
	assert_int_equal(value_kind_of_option(CUTLINT_OPTION_NUMBER), VALUE_NUMBER);
	assert_int_equal(value_kind_of_option(CUTLINT_OPTION_FLAG), VALUE_FLAG);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(lengths_are_taken_to_millimetres),
		cmocka_unit_test(inches_may_be_written_as_fractions),
		cmocka_unit_test(other_kinds_have_their_units),
		cmocka_unit_test(a_refusal_says_what_and_where),
		cmocka_unit_test(long_words_fit_the_message),
		cmocka_unit_test(values_are_written_as_a_job_file_has_them),
		cmocka_unit_test(what_is_written_reads_back_the_same),
		cmocka_unit_test(options_have_the_kinds_of_job_values),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
