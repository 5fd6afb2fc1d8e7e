/* page.h - the page: the physical size of the drawing and the scale of its user units. */
#ifndef SVG_PAGE_H
#define SVG_PAGE_H

#include "svg/geometry.h"

struct svg_page {
	double width_mm, height_mm; /* 0 where there is none */
	bool physical;
	struct svg_matrix matrix; /* from the root's user space to mm */
	struct svg_viewport viewport;
};

/* Of the root element. Says what is missing or odd. */
struct svg_page svg_page_read(const struct svg_subject *root);

#endif
