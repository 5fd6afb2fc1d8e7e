/* declaration.h - CSS declarations: `name: value !important;`. */
#ifndef SVG_DECLARATION_H
#define SVG_DECLARATION_H

#include "svg/entity.h"
#include "svg/pieces.h"
#include "svg/property.h"
#include "svg/say.h"

struct svg_declaration {
	enum svg_property property;
	bool important;
	struct svg_value value;
};

/* Where notices about style go: to an element, and to where its text stands in the source. */
struct svg_declaration_place {
	struct svg_say *say;
	const struct cutlint_element *element;
	struct cutlint_span span; /* of all of the text, where no more is known */
	const char *text;         /* of a style element, with its pieces; else NULL */
	const struct svg_pieces *pieces;
	const struct cutlint_attribute *attribute; /* of which it is the value; else NULL */
	const char *bytes;                         /* of the source */
	struct svg_entities *entities;
};

/* The span of a part of the text. */
struct cutlint_span svg_declaration_span(const struct svg_declaration_place *place,
					 struct svg_scan part);

/*
 * The next valid declaration of a property that is read; others are passed by, with a notice where
 * the drawing may look different for it. False at the end.
 */
bool svg_declaration_next(struct svg_scan *scan, const struct svg_declaration_place *place,
			  struct svg_declaration *out);

/* Says that a value is not valid, or can't be read. */
void svg_declaration_complain(const struct svg_declaration_place *place, enum svg_property property,
			      struct svg_scan value);

/*
 * Up to the first of `stops` that stands outside quotes, brackets and comments; to the end without
 * one. `scan` is left there.
 */
struct svg_scan svg_take_until(struct svg_scan *scan, const char *stops);

/* White space and comments. */
void svg_skip_comments(struct svg_scan *scan);

#endif
