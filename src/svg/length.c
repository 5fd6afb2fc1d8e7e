#include "svg/length.h"

#include <math.h>

/* The font size that em is taken from, as no font is looked at: CSS's customary medium. */
#define GUESSED_EM_PX 16.0

struct unit {
	const char *name;
	double px;
	enum svg_unit kind;
};

/* CSS Values and Units, absolute lengths: 1in = 2.54cm = 25.4mm = 101.6Q = 72pt = 6pc = 96px. */
static const struct unit UNITS[] = {
	{"px", 1.0, SVG_UNIT_ABSOLUTE},
	{"mm", SVG_PX_PER_INCH / 25.4, SVG_UNIT_ABSOLUTE},
	{"cm", SVG_PX_PER_INCH / 2.54, SVG_UNIT_ABSOLUTE},
	{"in", SVG_PX_PER_INCH, SVG_UNIT_ABSOLUTE},
	{"pt", SVG_PX_PER_INCH / 72.0, SVG_UNIT_ABSOLUTE},
	{"pc", SVG_PX_PER_INCH / 6.0, SVG_UNIT_ABSOLUTE},
	{"q", SVG_PX_PER_INCH / 101.6, SVG_UNIT_ABSOLUTE},
	{"em", GUESSED_EM_PX, SVG_UNIT_FONT},
	{"rem", GUESSED_EM_PX, SVG_UNIT_FONT},
	{"ex", GUESSED_EM_PX / 2, SVG_UNIT_FONT},
	{"ch", GUESSED_EM_PX / 2, SVG_UNIT_FONT},
};

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool take_unit(struct svg_scan *scan, struct svg_length *length)
{
	if (svg_take(scan, '%')) {
		length->unit = SVG_UNIT_PERCENT;
		return true;
	}
	struct svg_scan word = {scan->at, scan->at};
	while (word.end < scan->end && is_letter(*word.end))
		word.end++;
	scan->at = word.end;
	if (word.at == word.end) {
		length->unit = SVG_UNIT_NUMBER;
		return true;
	}
	for (size_t i = 0; i < sizeof(UNITS) / sizeof(*UNITS); i++) {
		if (svg_is_word(word, UNITS[i].name)) {
			length->value *= UNITS[i].px;
			length->unit = UNITS[i].kind;
			return true;
		}
	}
	return false;
}

bool svg_take_length(struct svg_scan *scan, struct svg_length *out)
{
	struct svg_scan ahead = *scan;
	if (!svg_take_number(&ahead, &out->value) || !take_unit(&ahead, out) ||
	    !isfinite(out->value))
		return false;
	*scan = ahead;
	return true;
}

bool svg_length_parse(struct svg_scan text, struct svg_length *out)
{
	text = svg_trim(text);
	return svg_take_length(&text, out) && text.at == text.end;
}

double svg_length_resolve(struct svg_length length, struct svg_viewport viewport,
			  enum svg_direction direction)
{
	if (length.unit != SVG_UNIT_PERCENT)
		return length.value;
	double whole = direction == SVG_ACROSS ? viewport.width
		       : direction == SVG_DOWN ? viewport.height
					       : hypot(viewport.width, viewport.height) / sqrt(2);
	return length.value / 100 * whole;
}
