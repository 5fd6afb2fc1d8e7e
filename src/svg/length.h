/* length.h - CSS lengths and percentages. */
#ifndef SVG_LENGTH_H
#define SVG_LENGTH_H

#include "svg/scan.h"

/* CSS px to the inch, and mm to the px (CSS Values and Units, absolute lengths: 1in = 96px). */
#define SVG_PX_PER_INCH 96.0
#define SVG_MM_PER_PX   (25.4 / SVG_PX_PER_INCH)

enum svg_unit { SVG_UNIT_NUMBER, SVG_UNIT_ABSOLUTE, SVG_UNIT_PERCENT, SVG_UNIT_FONT };

struct svg_length {
	double value;       /* px, or percent */
	enum svg_unit unit; /* how it was written; FONT: em or ex, from a guessed font size */
};

/* Takes a finite length, number or percentage if one stands next; else takes nothing. */
bool svg_take_length(struct svg_scan *scan, struct svg_length *out);

/* The same for a whole value. */
bool svg_length_parse(struct svg_scan text, struct svg_length *out);

/* What a percentage is a share of, in user units (SVG 2, 8.9). */
struct svg_viewport {
	double width, height;
};

enum svg_direction { SVG_ACROSS, SVG_DOWN, SVG_OTHER };

/* In user units. */
double svg_length_resolve(struct svg_length length, struct svg_viewport viewport,
			  enum svg_direction direction);

#endif
