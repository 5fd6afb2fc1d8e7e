#define _GNU_SOURCE /* strtod_l, newlocale */
#include "base/number.h"

#include <locale.h>
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Powers of ten that a double holds exactly. */
static const double POWERS[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
				1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
				1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

struct decimal {
	uint64_t digits; /* the first 19 significant ones: far over 2^53 where any were dropped */
	int exponent;
};

static bool is_digit(const char *at, const char *end)
{
	return at < end && *at >= '0' && *at <= '9';
}

static const char *read_digits(const char *at, const char *end, struct decimal *decimal, int shift)
{
	for (; is_digit(at, end); at++) {
		if (decimal->digits < UINT64_C(1000000000000000000)) {
			decimal->digits = decimal->digits * 10 + (uint64_t)(*at - '0');
			decimal->exponent += shift;
		} else {
			decimal->exponent += shift + 1;
		}
	}
	return at;
}

static const char *read_exponent(const char *at, const char *end, int *exponent)
{
	const char *digits = at + 1;
	bool negative = digits < end && *digits == '-';
	if (digits < end && (*digits == '-' || *digits == '+'))
		digits++;
	if (!is_digit(digits, end))
		return at;

	int value = 0;
	for (; is_digit(digits, end); digits++) {
		if (value < 100000)
			value = value * 10 + (*digits - '0');
	}
	*exponent += negative ? -value : value;
	return digits;
}

/* The slow way, for what the fast one can't round exactly. */
static double convert(const char *at, size_t length)
{
	char small[64];
	char *copy = length < sizeof(small) ? small : malloc(length + 1);
	if (!copy)
		return NAN;
	memcpy(copy, at, length);
	copy[length] = '\0';

	locale_t c = newlocale(LC_ALL_MASK, "C", (locale_t)0);
	double value = c ? strtod_l(copy, NULL, c) : NAN;
	if (c)
		freelocale(c);
	if (copy != small)
		free(copy);
	return value;
}

size_t number_parse(const char *at, const char *end, double *out)
{
	const char *start = at;
	bool negative = at < end && *at == '-';
	if (at < end && (*at == '-' || *at == '+'))
		at++;

	struct decimal decimal = {0};
	const char *whole = at;
	at = read_digits(at, end, &decimal, 0);
	bool any = at > whole;
	if (at < end && *at == '.') {
		const char *fraction = read_digits(at + 1, end, &decimal, -1);
		any = any || fraction > at + 1;
		at = fraction;
	}
	if (!any)
		return 0;
	if (at < end && (*at == 'e' || *at == 'E'))
		at = read_exponent(at, end, &decimal.exponent);

	/* Both factors are exact, so the one operation rounds correctly (Clinger 1990). */
	int exponent = decimal.exponent;
	if (decimal.digits <= (UINT64_C(1) << 53) && abs(exponent) <= 22) {
		double value = (double)decimal.digits;
		value = exponent < 0 ? value / POWERS[-exponent] : value * POWERS[exponent];
		*out = negative ? -value : value;
	} else {
		*out = convert(start, (size_t)(at - start));
	}
	return (size_t)(at - start);
}

/* The fewest significant digits that read back as the value; its decimal exponent. */
static int count_digits(double value, int *exponent)
{
	char text[64];
	int digits = 0;
	double back;
	do {
		int length = snprintf(text, sizeof(text), "%.*e", digits++, value);
		if (!number_parse(text, text + length, &back))
			back = value;
	} while (back != value && digits < 17);
	const char *e = strchr(text, 'e');
	*exponent = e ? atoi(e + 1) : 0;
	return digits;
}

void number_format(double value, char out[32])
{
	locale_t c = newlocale(LC_ALL_MASK, "C", (locale_t)0);
	locale_t before = c ? uselocale(c) : (locale_t)0;
	int exponent;
	int digits = count_digits(value, &exponent);
	/* People write 100, not 1e+02. */
	if (exponent >= -5 && exponent <= 15)
		snprintf(out, 32, "%.*f", digits - 1 > exponent ? digits - 1 - exponent : 0, value);
	else
		snprintf(out, 32, "%.*g", digits, value);
	if (c) {
		uselocale(before);
		freelocale(c);
	}
}

int number_hex_digit(char c)
{
	if (c >= '0' && c <= '9')
		return c - '0';
	if (c >= 'a' && c <= 'f')
		return c - 'a' + 10;
	return c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
}
