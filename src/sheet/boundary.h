/* boundary.h - the outer line and the holes of a set of faces. */
#ifndef SHEET_BOUNDARY_H
#define SHEET_BOUNDARY_H

#include <stdbool.h>
#include <stdint.h>

#include "geometry/arrangement.h"

/* Sets of faces: members[first[s]] to members[first[s + 1]] are those of set s. */
struct face_sets {
	uint32_t *of;      /* of each face: its set, or GEO_NONE */
	uint32_t *members; /* ascending within a set */
	uint32_t *first;
	uint32_t count;
};

/* A half-edge on the boundary, looked up to tell whether it was traced. */
struct boundary_side {
	uint32_t half;
	bool traced;
};

/* Closed chains round a set, with the set on the left; lines that end inside it are left out. */
struct boundary {
	struct geo_lines lines;
	uint32_t *halves; /* of each point: the half-edge that starts there */
	/* Used again for each set that is traced. */
	struct cutlint_point *points;
	struct geo_chain *chains;
	struct boundary_side *sides;
	uint32_t room;
};

/*
 * Traces one set's boundary; what was traced before is gone. Start from {0}, finish in the end. 0,
 * or -1 where memory ran out.
 */
int boundary_trace(struct boundary *boundary, const struct geo_arrangement *arrangement,
		   const struct face_sets *sets, uint32_t set);
void boundary_finish(struct boundary *boundary);

#endif
