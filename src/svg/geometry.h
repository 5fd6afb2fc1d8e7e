/* geometry.h - the lengths, view boxes and transforms that an element is placed by. */
#ifndef SVG_GEOMETRY_H
#define SVG_GEOMETRY_H

#include "svg/style.h"
#include "svg/viewport.h"

/* The element whose values are read. */
struct svg_subject {
	struct svg_document *document;
	const struct cutlint_element *element;
	const struct svg_specified *specified;
	struct svg_viewport viewport; /* what percentages are of */
};

enum svg_found {
	SVG_FOUND_NOT, /* nothing gives it, or `auto` */
	SVG_FOUND_BAD, /* not valid: as if nothing gave it; said */
	SVG_FOUND
};

/* A geometry property, from CSS, else from the attribute of its name. */
enum svg_found svg_find_length(const struct svg_subject *subject, enum svg_property property,
			       struct svg_length *out);

/* In user units; `fallback` where nothing valid gives it. */
double svg_property_number(const struct svg_subject *subject, enum svg_property property,
			   enum svg_direction direction, double fallback);

/* The same for what is an attribute only: x1. */
double svg_attribute_number(const struct svg_subject *subject, const char *name,
			    enum svg_direction direction, double fallback);

/*
 * The view box, if the element has a valid one. `*empty`: it is valid and has no size, so nothing
 * is rendered.
 */
bool svg_find_view_box(const struct svg_subject *subject, struct svg_rectangle *out, bool *empty);

struct svg_align svg_find_align(const struct svg_subject *subject);

/* The element's own transform, the identity where there is none or a bad one, which is said. */
struct svg_matrix svg_find_transform(const struct svg_subject *subject);

/*
 * Where in the source a place of a value stands: in the attribute that holds it, else at the start
 * tag.
 */
struct cutlint_span svg_text_span(const struct svg_subject *subject, const char *at);

#endif
