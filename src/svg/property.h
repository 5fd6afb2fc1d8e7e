/* property.h - the CSS properties that the loader reads, and their values. */
#ifndef SVG_PROPERTY_H
#define SVG_PROPERTY_H

#include "svg/colour.h"
#include "svg/length.h"

enum svg_property {
	SVG_COLOR,
	SVG_FILL,
	SVG_STROKE,
	SVG_OPACITY,
	SVG_FILL_OPACITY,
	SVG_STROKE_OPACITY,
	SVG_STROKE_WIDTH,
	SVG_STROKE_DASHARRAY,
	SVG_FILL_RULE,
	SVG_DISPLAY,
	SVG_VISIBILITY,
	SVG_CLIP_PATH,
	SVG_MASK,
	SVG_FILTER,
	SVG_MARKER_START,
	SVG_MARKER_MID,
	SVG_MARKER_END,
	SVG_OVERFLOW,
	SVG_VECTOR_EFFECT,
	SVG_TRANSFORM,
	SVG_TRANSFORM_ORIGIN,
	SVG_LAST_PRESENTATION = SVG_TRANSFORM_ORIGIN,
	SVG_MARKER, /* for all three; no attribute */
	/* geometry: an attribute of the same name counts only on the elements that have it */
	SVG_X,
	SVG_Y,
	SVG_WIDTH,
	SVG_HEIGHT,
	SVG_CX,
	SVG_CY,
	SVG_R,
	SVG_RX,
	SVG_RY,
	SVG_D,
	SVG_PROPERTY_COUNT
};

enum svg_given { SVG_UNSET, SVG_GIVEN, SVG_INHERIT, SVG_INITIAL };

/* What a declaration sets. Which of the fields holds it depends on the property. */
struct svg_value {
	enum svg_given given;
	bool flag; /* fill-rule evenodd, display none, not visible, dashed, ... */
	union {
		double number;            /* opacities */
		struct svg_length length; /* stroke-width and geometry */
		struct svg_paint paint;
	};
	struct svg_scan text; /* as written */
};

/* SVG_PROPERTY_COUNT for a name that is not read. Names are compared without regard to case. */
enum svg_property svg_property_find(struct svg_scan name);

/* The property that a presentation attribute sets. */
enum svg_property svg_property_of_attribute(const char *name);

/* Reads a whole value. False where it is not valid, so that the declaration doesn't count. */
bool svg_value_parse(enum svg_property property, struct svg_scan text, struct svg_value *out);

/* Whether a child takes it from its parent where nothing sets it. */
bool svg_property_inherits(enum svg_property property);

const char *svg_property_name(enum svg_property property);

#endif
