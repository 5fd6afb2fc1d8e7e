/*
 * Reference: strtod of the C library in the C locale, which glibc documents as correctly rounded;
 * the grammar is that of SVG 2, section 9.3.9, and CSS Syntax Level 3, section 4.3.12.
 */
#include "base/number.h"

#include <ctype.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "unit.h"

static uint64_t next_random(uint64_t *seed)
{
	/* Marsaglia 2003, xorshift64. */
	*seed ^= *seed << 13;
	*seed ^= *seed >> 7;
	*seed ^= *seed << 17;
	return *seed;
}

static unsigned below(uint64_t *seed, unsigned most)
{
	return (unsigned)(next_random(seed) % most);
}

static void assert_same_bits(double a, double b, const char *text)
{
	if (memcmp(&a, &b, sizeof(a)) != 0)
		fail_msg("'%s' was read as %a, the reference has %a", text, a, b);
}

static void assert_reads_like_strtod(const char *text)
{
	double own, reference;
	char *end;
	reference = strtod(text, &end);
	size_t length = number_parse(text, text + strlen(text), &own);
	assert_int_equal(length, end - text);
	if (length > 0)
		assert_same_bits(own, reference, text);
}

static void random_numbers_read_as_strtod_reads_them(void **state)
{
	(void)state;
	uint64_t seed = 20070901;
	for (int i = 0; i < 20000; i++) {
		char text[80];
		size_t length = 0;
		const char *signs[] = {"", "-", "+"};
		length += (size_t)sprintf(text, "%s", signs[below(&seed, 3)]);
		for (unsigned digits = 1 + below(&seed, 24); digits > 0; digits--)
			text[length++] = (char)('0' + below(&seed, 10));
		if (below(&seed, 2)) {
			text[length++] = '.';
			for (unsigned digits = below(&seed, 24); digits > 0; digits--)
				text[length++] = (char)('0' + below(&seed, 10));
		}
		text[length] = '\0';
		if (below(&seed, 2))
			sprintf(text + length, "e%d", (int)below(&seed, 700) - 350);
		assert_reads_like_strtod(text);
	}
}

static void short_numbers_read_as_strtod_reads_them(void **state)
{
	(void)state;
	uint64_t seed = 1990;
	for (int i = 0; i < 20000; i++) {
		char text[40];
		sprintf(text, "%u.%0*u", below(&seed, 2000), (int)below(&seed, 7),
			below(&seed, 1000));
		assert_reads_like_strtod(text);
	}
}

static void numbers_at_the_edges_of_the_fast_way_are_rounded_correctly(void **state)
{
	(void)state;
	/*
	 * The fast way of Clinger, "How to Read Floating Point Numbers Accurately" (1990), holds up
	 * to 2^53 and 10^22; the halfway cases and the smallest numbers are where others fail.
	 */
	static const char *const TEXTS[] = {
		"9007199254740991",
		"9007199254740992",
		"9007199254740993",
		"9007199254740993.0000000000000000000000001",
		"9007199254740992e22",
		"9007199254740993e22",
		"1e22",
		"1e23",
		"1e-22",
		"1e-23",
		"123456789012345678901234567890",
		"0.000000000000000000000000000000000001",
		"1.7976931348623157e308",
		"1.7976931348623159e308",
		"4.9406564584124654e-324",
		"2.4703282292062327e-324",
		"2.4703282292062328e-324",
		"2.2250738585072011e-308",
		"2.2250738585072014e-308",
		"0.500000000000000166533453693773481063544750213623046875",
		"3.518437208883201171875e13",
		"6.02214076e23",
		"8.5e99999999999",
		"8.5e-99999999999",
		"-0",
		"-0.0e5",
		"00000000000000000000000000001",
		"0.00000000000000000000000000000000000000000000000000000000000000000000000001e80",
		"10000000000000000000",
		"99999999999999999999.99999e-20",
	};
	for (size_t i = 0; i < sizeof(TEXTS) / sizeof(*TEXTS); i++)
		assert_reads_like_strtod(TEXTS[i]);
}

static void only_the_number_is_read(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		size_t length;
		double value;
	} CASES[] = {
		{"1e", 1, 1},      {"1e+", 1, 1},   {"1em", 1, 1},     {"2ex", 1, 2},
		{"1.5.5", 3, 1.5}, {"0x10", 1, 0},  {"1-2", 1, 1},     {"-.5", 3, -0.5},
		{"+.5e1x", 5, 5},  {"23.", 3, 23},  {"0,15 mm", 1, 0}, {"", 0, 0},
		{".", 0, 0},       {"-", 0, 0},     {"+-1", 0, 0},     {"e5", 0, 0},
		{"inf", 0, 0},     {"nan", 0, 0},   {" 1", 0, 0},      {"-.", 0, 0},
		{"1.e3", 4, 1000}, {"1E2", 3, 100}, {"105mm", 3, 105}, {".e1", 0, 0},
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		double value = 0;
		const char *text = CASES[i].text;
		assert_int_equal(number_parse(text, text + strlen(text), &value), CASES[i].length);
		assert_same_bits(value, CASES[i].value, text);
	}
}

static void nothing_is_read_behind_the_end(void **state)
{
	(void)state;
	const char *text = "12.75e3";
	const size_t lengths[] = {0, 1, 2, 3, 4, 5, 5, 7};
	const double values[] = {0, 1, 12, 12, 12.7, 12.75, 12.75, 12750};
	for (size_t cut = 0; cut <= 7; cut++) {
		/* A copy of its own size, so that a sanitizer sees a byte too many. */
		char *exact = malloc(cut ? cut : 1);
		memcpy(exact, text, cut);
		double value = 0;
		assert_int_equal(number_parse(exact, exact + cut, &value), lengths[cut]);
		assert_same_bits(value, values[cut], text);
		free(exact);
	}
}

static void written_numbers_read_back_exactly(void **state)
{
	(void)state;
	uint64_t seed = 754;
	for (int i = 0; i < 20000; i++) {
		uint64_t bits = next_random(&seed);
		double value, back;
		memcpy(&value, &bits, sizeof(value));
		if (!isfinite(value))
			continue;
		char text[32];
		number_format(value, text);
		assert_int_equal(number_parse(text, text + strlen(text), &back), strlen(text));
		assert_same_bits(back, value, text);
		/* Nothing shorter does: one digit fewer no longer reads back. */
		char shorter[40];
		int digits = 0;
		for (const char *at = text; *at && *at != 'e'; at++)
			digits += *at >= '0' && *at <= '9' && (digits > 0 || *at != '0');
		if (digits > 1 && strchr(text, 'e')) {
			sprintf(shorter, "%.*e", digits - 2, value);
			assert_true(strtod(shorter, NULL) != value);
		}
	}
}

static void written_numbers_are_those_that_people_write(void **state)
{
	(void)state;
	static const struct {
		double value;
		const char *text;
	} CASES[] = {
		{0, "0"},
		{100, "100"},
		{0.1, "0.1"},
		{0.35, "0.35"},
		{-2.5, "-2.5"},
		{1e15, "1000000000000000"},
		{1e16, "1e+16"},
		{1e300, "1e+300"},
		{0.00001, "0.00001"},
		{0.000001, "1e-06"},
		{297.01, "297.01"},
		{1.0 / 3, "0.3333333333333333"},
		{123456.75, "123456.75"},
		{0.1 + 0.2, "0.30000000000000004"},
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		char text[32];
		number_format(CASES[i].value, text);
		assert_string_equal(text, CASES[i].text);
	}
}

static void the_locale_changes_nothing(void **state)
{
	(void)state;
	static const char *const LOCALES[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8"};
	static const char LONG[] = "12345678901234567890.5";
	const char *set = NULL;
	for (size_t i = 0; i < 3 && !set; i++)
		set = setlocale(LC_ALL, LOCALES[i]);
	if (!set)
		skip();
	double value;
	char text[32], own[32];
	number_format(0.15, text);
	size_t length = number_parse(LONG, LONG + strlen(LONG), &value);
	snprintf(own, sizeof(own), "%.1f", 0.5);
	setlocale(LC_ALL, "C");
	assert_string_equal(own, "0,5");
	assert_string_equal(text, "0.15");
	assert_int_equal(length, 22);
	assert_same_bits(value, 12345678901234567890.5, LONG);
}

/* isxdigit of the C standard (7.4.1.12) and strtol as the judges. */
static void hexadecimal_digits_have_their_values_and_nothing_else_has_one(void **state)
{
	(void)state;
	for (int c = 1; c < 256; c++) {
		char text[] = {(char)c, '\0'};
		int expected = isxdigit(c) ? (int)strtol(text, NULL, 16) : -1;
		assert_int_equal(number_hex_digit((char)c), expected);
	}
	assert_int_equal(number_hex_digit('\0'), -1);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(hexadecimal_digits_have_their_values_and_nothing_else_has_one),
		cmocka_unit_test(random_numbers_read_as_strtod_reads_them),
		cmocka_unit_test(short_numbers_read_as_strtod_reads_them),
		cmocka_unit_test(numbers_at_the_edges_of_the_fast_way_are_rounded_correctly),
		cmocka_unit_test(only_the_number_is_read),
		cmocka_unit_test(nothing_is_read_behind_the_end),
		cmocka_unit_test(written_numbers_read_back_exactly),
		cmocka_unit_test(written_numbers_are_those_that_people_write),
		cmocka_unit_test(the_locale_changes_nothing),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
