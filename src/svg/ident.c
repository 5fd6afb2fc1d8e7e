#include "svg/ident.h"

#include <stdint.h>
#include <string.h>

#include "base/number.h"

static size_t put_utf8(char *out, uint32_t code)
{
	if (code == 0 || code > 0x10ffff || (code >= 0xd800 && code <= 0xdfff))
		code = 0xfffd;
	if (code < 0x80) {
		out[0] = (char)code;
		return 1;
	}
	size_t length = code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
	static const unsigned char MARKS[] = {0, 0, 0xc0, 0xe0, 0xf0};
	for (size_t i = length - 1; i > 0; i--, code >>= 6)
		out[i] = (char)(0x80 | (code & 0x3f));
	out[0] = (char)(MARKS[length] | code);
	return length;
}

static bool starts_escape(const struct svg_scan *scan)
{
	return svg_scan_length(*scan) >= 2 && scan->at[0] == '\\' && scan->at[1] != '\n' &&
	       scan->at[1] != '\r' && scan->at[1] != '\f';
}

/* Up to six hexadecimal digits and one white space, or any character as it is. */
static size_t take_escape(struct svg_scan *scan, char *out)
{
	uint32_t code = 0;
	int digits = 0;
	scan->at++;
	for (; digits < 6 && scan->at < scan->end && number_hex_digit(*scan->at) >= 0; digits++)
		code = code * 16 + (uint32_t)number_hex_digit(*scan->at++);
	if (digits == 0) {
		*out = *scan->at++;
		return 1;
	}
	if (scan->at < scan->end && svg_is_space(*scan->at))
		scan->at++;
	return put_utf8(out, code);
}

/* Past the identifier; where `out` is given, with its name in it. Returns the name's length. */
static size_t take_name(struct svg_scan *scan, char *out)
{
	size_t length = 0;
	char escaped[4];
	for (;;) {
		struct svg_scan word = svg_take_word(scan);
		size_t more = svg_scan_length(word);
		if (out)
			memcpy(out + length, word.at, more);
		length += more;
		if (!starts_escape(scan))
			return length;
		more = take_escape(scan, escaped);
		if (out)
			memcpy(out + length, escaped, more);
		length += more;
	}
}

static bool starts_ident(const struct svg_scan *scan)
{
	const char *at = scan->at;
	if (at < scan->end && *at == '-')
		at++;
	return at < scan->end && !(*at >= '0' && *at <= '9');
}

enum svg_ident svg_take_ident(struct svg_scan *scan, struct arena *arena, struct svg_scan *out)
{
	struct svg_scan start = *scan;
	if (!starts_ident(scan) || take_name(scan, NULL) == 0) {
		*scan = start;
		return SVG_IDENT_NONE;
	}
	*out = (struct svg_scan){start.at, scan->at};
	if (!memchr(start.at, '\\', svg_scan_length(*out)))
		return SVG_IDENT_TAKEN;

	/* At worst `\0` stands for the three bytes of U+FFFD. */
	char *name = arena_take(arena, svg_scan_length(*out), 2);
	if (!name)
		return SVG_IDENT_NO_MEMORY;
	struct svg_scan again = start;
	*out = (struct svg_scan){name, name + take_name(&again, name)};
	return SVG_IDENT_TAKEN;
}
