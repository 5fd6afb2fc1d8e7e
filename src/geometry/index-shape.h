/* index-shape.h - which grid fits a run of segments; for the index's own files only. */
#ifndef GEOMETRY_INDEX_SHAPE_H
#define GEOMETRY_INDEX_SHAPE_H

#include "geometry/index-passes.h"

/* The entries of a cell that is to be divided, as a run of refs; or all segments. */
struct index_run {
	uint32_t first, count;
	bool all;
	struct geo_vector along; /* of the grid whose cell it is */
	double left, top, right, bottom;
};

static inline uint32_t index_run_segment(const struct geo_index *index, const struct index_run *run,
					 uint32_t i)
{
	return run->all ? i : index->refs[run->first + i];
}

/* What of a segment comes near to a run's box, in the frame of `along`; false where nothing does.
 */
bool index_run_piece(const struct index_run *run, const struct geo_segment *segment,
		     struct geo_vector along, struct index_piece *piece);

/* The grid for all segments, straight; without cells yet. */
struct index_grid index_shape_root(const struct geo_index *index, const struct index_run *run);

/*
 * The grid that best divides a run, in line with the run's box or turned along its segments;
 * without cells yet. False where none saves more than it costs.
 */
bool index_shape_best(const struct geo_index *index, const struct index_run *run,
		      struct index_grid *grid);

#endif
