/* segment.h - what path data and basic shapes draw: absolute segments in user units. */
#ifndef SVG_SEGMENT_H
#define SVG_SEGMENT_H

#include <stdint.h>

#include "svg/arc.h"

enum svg_segment_kind { SVG_MOVE, SVG_LINE, SVG_QUADRATIC, SVG_CUBIC, SVG_ARC, SVG_CLOSE };

struct svg_segment {
	enum svg_segment_kind kind;
	uint32_t offset;        /* in the text: of the command's letter or its first number */
	struct cutlint_xy from; /* the current point; not for a move */
	struct cutlint_xy p[3]; /* control points, then the end; the end of a close: the start */
	struct svg_arc arc;
};

/* Where segments go. `take` returns false to stop. */
struct svg_sink {
	bool (*take)(void *user, const struct svg_segment *segment);
	void *user;
};

/* Where a text is wrong, and how. */
struct svg_mistake {
	uint32_t offset, length;
	const char *message; /* NULL: nothing is wrong */
};

#endif
