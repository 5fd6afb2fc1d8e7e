/* faces.h - walks round the faces of an arrangement. */
#ifndef SHEET_FACES_H
#define SHEET_FACES_H

#include <stdbool.h>
#include <stdint.h>

#include "geometry/arrangement.h"

/* A walk over all half-edges that bound a face: its outer boundary, then the inner ones. */
struct face_walk {
	uint32_t face;
	uint32_t start, half; /* of the boundary being walked; GEO_NONE between two */
	uint32_t inner;       /* the next inner boundary, counted within the face */
};

static inline struct face_walk face_walk_start(const struct geo_arrangement *arrangement,
					       uint32_t face)
{
	uint32_t outer = arrangement->faces[face].outer;
	return (struct face_walk){face, outer, outer, 0};
}

/* The next half-edge; false at the end. */
static inline bool face_walk_next(const struct geo_arrangement *arrangement, struct face_walk *walk,
				  uint32_t *half)
{
	const struct geo_face *face = &arrangement->faces[walk->face];
	if (walk->half == GEO_NONE) {
		if (walk->inner == face->inner_count)
			return false;
		walk->start = walk->half = arrangement->inners[face->first_inner + walk->inner++];
	}
	*half = walk->half;
	walk->half = arrangement->next[walk->half];
	if (walk->half == walk->start)
		walk->half = GEO_NONE;
	return true;
}

#endif
