/* scan.h - walks over the text of a value. */
#ifndef SVG_SCAN_H
#define SVG_SCAN_H

#include <stdbool.h>
#include <stddef.h>

/* What is left of a text: `at` up to, not including, `end`. */
struct svg_scan {
	const char *at, *end;
};

struct svg_scan svg_scan_of(const char *text);

/* White space of SVG and CSS: space, tab, LF, FF, CR. */
static inline bool svg_is_space(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f';
}

void svg_skip_spaces(struct svg_scan *scan);

/* White space with at most one comma in it. */
void svg_skip_comma(struct svg_scan *scan);

/* Takes a character if it stands next. */
bool svg_take(struct svg_scan *scan, char c);

/* Takes a number if one stands next. */
bool svg_take_number(struct svg_scan *scan, double *out);

/* Takes a CSS identifier: letters, digits, `-`, `_`, and all that is not ASCII. */
struct svg_scan svg_take_word(struct svg_scan *scan);

/* Without white space at both ends. */
struct svg_scan svg_trim(struct svg_scan scan);

/* Compares without regard to ASCII case. `word` is lower case. */
bool svg_is_word(struct svg_scan scan, const char *word);

static inline size_t svg_scan_length(struct svg_scan scan)
{
	return (size_t)(scan.end - scan.at);
}

/* The length for "%.*s": at most 60 bytes, cut between characters. */
int svg_shown(struct svg_scan scan);

#endif
