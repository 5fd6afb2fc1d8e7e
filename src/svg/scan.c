#include "svg/scan.h"

#include <string.h>

#include "base/number.h"

#define MOST_SHOWN 60

struct svg_scan svg_scan_of(const char *text)
{
	return (struct svg_scan){text, text + strlen(text)};
}

void svg_skip_spaces(struct svg_scan *scan)
{
	while (scan->at < scan->end && svg_is_space(*scan->at))
		scan->at++;
}

void svg_skip_comma(struct svg_scan *scan)
{
	svg_skip_spaces(scan);
	if (svg_take(scan, ','))
		svg_skip_spaces(scan);
}

bool svg_take(struct svg_scan *scan, char c)
{
	if (scan->at >= scan->end || *scan->at != c)
		return false;
	scan->at++;
	return true;
}

/* `10.`: in SVG 2 and CSS a digit must follow the dot (SVG 2, 9.3.9; CSS Syntax 3, 4.3.12). */
static bool ends_in_dot(struct svg_scan number)
{
	const char *at = number.at;
	while (at < number.end && *at != '.')
		at++;
	return at < number.end && (at + 1 == number.end || at[1] < '0' || at[1] > '9');
}

bool svg_take_number(struct svg_scan *scan, double *out)
{
	size_t length = number_parse(scan->at, scan->end, out);
	if (ends_in_dot((struct svg_scan){scan->at, scan->at + length}))
		return false;
	scan->at += length;
	return length > 0;
}

static bool is_word_byte(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
	       c == '-' || c == '_' || (unsigned char)c >= 0x80;
}

struct svg_scan svg_take_word(struct svg_scan *scan)
{
	struct svg_scan word = {scan->at, scan->at};
	while (word.end < scan->end && is_word_byte(*word.end))
		word.end++;
	scan->at = word.end;
	return word;
}

struct svg_scan svg_trim(struct svg_scan scan)
{
	svg_skip_spaces(&scan);
	while (scan.end > scan.at && svg_is_space(scan.end[-1]))
		scan.end--;
	return scan;
}

bool svg_is_word(struct svg_scan scan, const char *word)
{
	for (; scan.at < scan.end; scan.at++, word++) {
		char c = *scan.at;
		if (c >= 'A' && c <= 'Z')
			c = (char)(c - 'A' + 'a');
		if (*word == '\0' || c != *word)
			return false;
	}
	return *word == '\0';
}

int svg_shown(struct svg_scan scan)
{
	size_t length = svg_scan_length(scan);
	if (length <= MOST_SHOWN)
		return (int)length;
	length = MOST_SHOWN;
	while (length > 0 && ((unsigned char)scan.at[length] & 0xc0) == 0x80)
		length--;
	return (int)length;
}
