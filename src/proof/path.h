/*
 * path.h - outlines and polygons as path data, in whole numbers of a small unit.
 *
 * Of small drawings every vertex is written, to a micrometre. Of large ones (PATH_MANY vertices)
 * the page must stay about as small as the drawing: then vertices are rounded to 0.01 mm, 0.0071 mm
 * off at most, after those were left out that lie near enough to the line without them; together
 * with the flattening of curves that is under 0.02 mm, unless the job asks for a coarser one (D. H.
 * Douglas and T. K. Peucker, "Algorithms for the reduction of the number of points required to
 * represent a digitized line", Cartographica 10, 1973).
 */
#ifndef PROOF_PATH_H
#define PROOF_PATH_H

#include <stdbool.h>

#include "base/text.h"
#include "cutlint/model.h"
#include "proof/writer.h"

#define PATH_MANY 100000u

/* How finely paths are written. */
struct path_grain {
	double unit_mm;      /* of path data: to be scaled by this */
	double tolerance_nm; /* 0: every vertex */
};

struct path_grain path_grain_for(const struct cutlint_design *design);

/* How far any place of a path may lie from its outline as it was flattened, in mm. */
double path_deviation_mm(const struct path_grain *grain);

/*
 * Paths of many outlines one after the other: a new <path> starts when one holds enough points, so
 * that a browser need not look at all of them for a corner of the picture.
 */
struct path_run {
	struct writer *writer;
	struct path_grain grain;
	struct text data;
	uint32_t points; /* in `data` */
};

struct path_run path_run_start(struct writer *writer, const struct path_grain *grain);
/* Adds a chain of points. */
void path_run_add(struct path_run *run, const struct cutlint_point *points, uint32_t count,
		  bool closed);
/* A good place to start a new <path>: between shapes. */
void path_run_break(struct path_run *run);
void path_run_end(struct path_run *run);

#endif
