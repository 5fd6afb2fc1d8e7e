/* element.h - what the elements of SVG are to the loader. */
#ifndef SVG_ELEMENT_H
#define SVG_ELEMENT_H

#include <stdbool.h>
#include <stdint.h>

enum svg_kind {
	SVG_KIND_UNKNOWN, /* draws nothing, nor does what is in it (SVG 2, unknown elements) */
	SVG_KIND_SVG,
	SVG_KIND_GROUP, /* g, a */
	SVG_KIND_SWITCH,
	SVG_KIND_USE,
	SVG_KIND_SYMBOL,
	SVG_KIND_DEFS,
	SVG_KIND_TEMPLATE, /* clipPath, mask, marker, pattern */
	SVG_KIND_PATH,
	SVG_KIND_RECT,
	SVG_KIND_CIRCLE,
	SVG_KIND_ELLIPSE,
	SVG_KIND_LINE,
	SVG_KIND_POLYLINE,
	SVG_KIND_POLYGON,
	SVG_KIND_TEXT,
	SVG_KIND_IMAGE,
	SVG_KIND_FOREIGN, /* foreignObject, and what else shows but has no outline */
	SVG_KIND_STYLE,
	SVG_KIND_SCRIPT,
	SVG_KIND_ANIMATION
};

/* By local name; the caller knows that the element is in SVG's namespace. */
enum svg_kind svg_kind_of(const char *tag);

/* Whether it draws on its own: a shape, text, an image. */
bool svg_kind_is_graphic(enum svg_kind kind);

/* Whether it has an outline. */
bool svg_kind_is_shape(enum svg_kind kind);

/* Whether it is rendered where it stands, it or what is in it. */
bool svg_kind_renders(enum svg_kind kind);

#endif
