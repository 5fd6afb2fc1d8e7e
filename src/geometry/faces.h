/* faces.h - steps from noded edges to faces; for the arrangement's own files only. */
#ifndef GEOMETRY_FACES_H
#define GEOMETRY_FACES_H

#include "geometry/arrangement.h"
#include "geometry/wide.h"

/* The half-edges that leave each node: those to the right from the lowest up, then those to the
 * left, on round counter-clockwise. A half-edge to the right is even. */
struct geo_rotation {
	uint32_t *first; /* of each node, and one behind the last: an index into half_edges */
	uint32_t *half_edges;
};

/* 0, or -1 where memory ran out. Finish it in either case. */
int geo_rotation_init(struct geo_rotation *rotation, const struct geo_arrangement *arrangement);
void geo_rotation_finish(struct geo_rotation *rotation);

/*
 * A boundary, with its face on the left: the outer one of a face where its area is positive, else
 * the rim of a connected set of edges, seen from the face round it.
 */
struct geo_cycle {
	geo_wide area2;     /* twice the signed area, nm² */
	uint32_t half_edge; /* it starts at the first node of the cycle in the order of x, then y */
	uint32_t face;
	uint32_t under; /* of a rim; see geo_arrangement */
};

struct geo_cycles {
	struct geo_cycle *items;
	uint32_t count, capacity;
};

/* Numbers the cycles in arrangement->face. Start from {0}. 0, or -1 where memory ran out. */
int geo_cycles_trace(struct geo_cycles *cycles, const struct geo_arrangement *arrangement);

/*
 * Finds the face round each rim, given the numbers of cycles in arrangement->face and the face of
 * each outer boundary. 0, or -1 where memory ran out.
 */
int geo_rims_nest(struct geo_cycles *cycles, const struct geo_arrangement *arrangement,
		  const struct geo_rotation *rotation);

/* Sets next, face, faces, inners and unders from nodes and edges. 0, or -1 without memory. */
int geo_faces_find(struct geo_arrangement *arrangement);

#endif
