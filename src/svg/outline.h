/* outline.h - gathers segments into outlines on the sheet. */
#ifndef SVG_OUTLINE_H
#define SVG_OUTLINE_H

#include "cutlint/model.h"
#include "geometry/curve.h"
#include "svg/map.h"
#include "svg/matrix.h"
#include "svg/segment.h"

enum svg_refusal {
	SVG_REFUSED_NOT,
	SVG_REFUSED_FAR,  /* a point beyond 2 m, or no finite number */
	SVG_REFUSED_MANY, /* more vertices than a drawing may have */
	SVG_REFUSED_MEMORY
};

/* Counts, to take back what a shape drew. */
struct svg_outline_counts {
	uint32_t vertices, commands, outlines, curves;
};

/* Start from {.flatness = ..., .most_vertices = ...}. The arrays are from malloc. */
struct svg_outliner {
	double flatness; /* mm */
	uint32_t most_vertices;
	struct cutlint_point *vertices;
	struct cutlint_command *commands;
	struct cutlint_outline *outlines;
	struct curve *curves;
	struct svg_outline_counts count, capacity;

	uint32_t shape; /* the shape being drawn */
	struct svg_matrix matrix;
	struct svg_map *map; /* from offsets to bytes; NULL: all at `byte` */
	uint32_t byte;
	struct svg_outline_counts before; /* what stood before the shape */

	bool open;    /* an outline has begun */
	bool moved;   /* the last segment was a move */
	uint32_t dot; /* the byte of the first command, for an outline of length 0 */
	enum svg_refusal refusal;
	uint32_t refused_byte;
	struct cutlint_xy refused_at; /* mm */
};

/* Starts a shape. `map` gives the bytes of segments; NULL: all come from `byte`. */
void svg_outliner_begin(struct svg_outliner *outliner, uint32_t shape, struct svg_matrix matrix,
			struct svg_map *map, uint32_t byte);

/* The sink that the shape's segments go to. It stops at a refusal. */
struct svg_sink svg_outliner_sink(struct svg_outliner *outliner);

/* Ends the shape. After a refusal nothing of it is left. */
void svg_outliner_end(struct svg_outliner *outliner);

void svg_outliner_finish(struct svg_outliner *outliner);

#endif
