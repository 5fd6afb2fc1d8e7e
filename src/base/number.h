/* number.h - decimal numbers, read and written the same in every locale. */
#ifndef BASE_NUMBER_H
#define BASE_NUMBER_H

#include <stddef.h>

/*
 * Reads the longest number at `at` (before `end`) of the form that SVG 2, section 9.3.9, and CSS
 * share: an optional sign, digits with an optional point, an optional exponent. "1e" is the number
 * 1 followed by an e. A point without digits behind it is read too (SVG 2 forbids "23.", files have
 * it). Correctly rounded. Returns the bytes read, 0 where there is no number. May give an infinity.
 */
size_t number_parse(const char *at, const char *end, double *out);

/* Writes the shortest decimal that reads back as the same double, without an exponent from 0.00001
 * up to 1e16. `out` holds 32 bytes. */
void number_format(double value, char out[32]);

/* The value of a hexadecimal digit in either case; -1 for any other character. */
int number_hex_digit(char c);

#endif
