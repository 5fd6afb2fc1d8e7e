/* viewport.h - viewBox and preserveAspectRatio (SVG 2, 8.2, 8.6, 8.7). */
#ifndef SVG_VIEWPORT_H
#define SVG_VIEWPORT_H

#include "svg/matrix.h"
#include "svg/scan.h"

struct svg_rectangle {
	double x, y, width, height;
};

enum svg_view_box_state {
	SVG_VIEW_BOX_BAD,   /* not four numbers, or a negative size: as if it was absent */
	SVG_VIEW_BOX_EMPTY, /* a size of 0: nothing is rendered */
	SVG_VIEW_BOX_GOOD
};

enum svg_view_box_state svg_view_box_parse(struct svg_scan text, struct svg_rectangle *out);

struct svg_align {
	bool stretch; /* none */
	bool slice;   /* else meet */
	double x, y;  /* 0 for min, 1/2 for mid, 1 for max */
};

/* xMidYMid meet */
struct svg_align svg_align_default(void);

bool svg_align_parse(struct svg_scan text, struct svg_align *out);

/* The equivalent transform of SVG 2, 8.2: from the view box to the viewport. */
struct svg_matrix svg_view_transform(struct svg_rectangle box, struct svg_align align,
				     struct svg_rectangle viewport);

#endif
