/* selector-text.h - reads the text of a selector (Selectors 4). */
#ifndef SVG_SELECTOR_TEXT_H
#define SVG_SELECTOR_TEXT_H

#include "svg/css.h"

enum svg_selector_state {
	SVG_SELECTOR_GOOD,
	SVG_SELECTOR_NOT_FOLLOWED, /* valid, as far as is known; what it asks for is not looked at
				    */
	SVG_SELECTOR_INVALID,      /* a viewer drops the whole rule */
	SVG_SELECTOR_NO_MEMORY
};

/* Adds the compounds of one selector to `css`, and what it is made of to `out`. */
enum svg_selector_state svg_selector_read(struct svg_css *css, struct arena *arena,
					  struct svg_scan text, struct svg_selector *out);

#endif
