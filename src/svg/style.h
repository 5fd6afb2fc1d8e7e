/* style.h - what the style of an element is: the cascade, then inheritance. */
#ifndef SVG_STYLE_H
#define SVG_STYLE_H

#include "svg/document.h"
#include "svg/property.h"

/* The winning declarations of one element. A value counts only where its rank is not 0. */
struct svg_specified {
	uint64_t ranks[SVG_PROPERTY_COUNT];
	struct svg_value values[SVG_PROPERTY_COUNT];
};

/* Computed style: what a child may inherit, then what concerns the element alone. */
struct svg_style {
	struct svg_paint colour, fill, stroke;
	double fill_opacity, stroke_opacity;
	struct svg_length stroke_width;
	bool evenodd, dashed, hidden;
	struct svg_scan markers[3]; /* at the start, the corners, the end; may be empty */

	bool no_display, no_opacity, clipped, shows_overflow, fixed_stroke;
};

/* The initial values (SVG 2, 13.2 to 13.5). */
struct svg_style svg_style_initial(void);

/*
 * The cascade (CSS Cascade; SVG 2, 6.6): presentation attributes come before all rules of style
 * sheets, then rules by specificity and order, then the style attribute; `!important` above all.
 */
void svg_specify(struct svg_document *document, const struct cutlint_element *element,
		 struct svg_specified *out);

struct svg_style svg_style_compute(const struct svg_specified *specified,
				   const struct svg_style *parent);

/* The value of a property that is not inherited, NULL where nothing gives one. */
const struct svg_value *svg_specified_value(const struct svg_specified *specified,
					    enum svg_property property);

/* As the model has it: none where nothing is to be seen of it. */
struct cutlint_paint svg_paint_shown(struct svg_paint paint, struct svg_paint colour,
				     double opacity);

#endif
