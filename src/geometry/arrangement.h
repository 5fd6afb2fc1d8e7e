/*
 * arrangement.h - lines noded by snap rounding, and the faces between them.
 *
 * J. D. Hobby, "Practical segment intersection with finite precision output", Computational
 * Geometry 13 (1999): every vertex and every crossing, rounded to the grid, is a hot pixel; each
 * segment is drawn through the centres of the hot pixels that it passes. No two edges of the result
 * cross; each lies within 1 nm of the line that it came from.
 */
#ifndef GEOMETRY_ARRANGEMENT_H
#define GEOMETRY_ARRANGEMENT_H

#include <stdbool.h>
#include <stdint.h>

#include "geometry/lines.h"

/*
 * An edge between two nodes, with no two edges the same. Half-edge 2e runs from `from` to `to`,
 * half-edge 2e+1 back. `from` < `to` in the order of x, then y.
 */
struct geo_edge {
	uint32_t from, to;
	uint32_t segment; /* the lowest-numbered segment that it lies on */
	uint32_t cover;   /* first of the segments on it, an index into covers; see geo_covers */
};

/*
 * A face lies left of its half-edges. Face 0 is the unbounded one. Area in nm², holes taken off;
 * that of face 0 is the negative sum of all others.
 */
struct geo_face {
	uint32_t outer;       /* a half-edge of its outer boundary; GEO_NONE for face 0 */
	uint32_t first_inner; /* of its inner boundaries, into inners; count below */
	uint32_t inner_count;
	double area;
	uint32_t depth; /* edges to cross from face 0, at least */
};

struct geo_index;
struct geo_locator;
struct geo_segment;

struct geo_arrangement {
	struct cutlint_point *nodes;
	struct geo_edge *edges;
	uint32_t *next; /* of each half-edge: the next one round the face on its left */
	uint32_t *face; /* of each half-edge: the face on its left */
	/*
	 * Half-edges, one for each inner boundary, grouped by face; each starts at its boundary's
	 * first node in the order of x, then y.
	 */
	uint32_t *inners;
	/* Of each inner boundary: the half-edge of its face straight below that node (towards less
	 * y), or GEO_NONE, which only happens in face 0. */
	uint32_t *unders;
	struct geo_face *faces;
	uint32_t *covers; /* segments that lie on an edge, grouped by edge, ascending */
	/*
	 * Of all edges, where the noding changed nothing of the index that it was done with; else
	 * NULL. To be used again for what looks at all edges.
	 */
	struct geo_index *index;
	struct geo_segment *segments;
	struct geo_locator *locator; /* for geo_face_at; NULL before geo_arrangement_locate */
	uint32_t node_count, edge_count, face_count, inner_count, cover_count;
};

/*
 * A bound for the nodes where lines cross inside both, which may be as many as the square of the
 * lines, and with them the time and memory of all that comes after.
 */
struct geo_crowding {
	uint32_t most;
	bool exceeded;
	uint32_t segments[2]; /* where it was: two that cross */
};

/*
 * Builds the arrangement of all segments of `lines`. Topologically valid for every input; segments
 * of length zero are dropped. NULL where memory ran out, or where `crowding` (NULL: no bound) is
 * exceeded, which it says. Free with geo_arrangement_destroy.
 */
struct geo_arrangement *geo_arrangement_create(const struct geo_lines *lines,
					       struct geo_crowding *crowding);
void geo_arrangement_destroy(struct geo_arrangement *arrangement);

static inline uint32_t geo_half_edge_from(const struct geo_arrangement *arrangement, uint32_t half)
{
	const struct geo_edge *edge = &arrangement->edges[half / 2];
	return half & 1 ? edge->to : edge->from;
}

static inline uint32_t geo_half_edge_to(const struct geo_arrangement *arrangement, uint32_t half)
{
	return geo_half_edge_from(arrangement, half ^ 1);
}

/* The segments on an edge: *count of them, more than one where lines coincide. */
static inline const uint32_t *geo_covers(const struct geo_arrangement *arrangement, uint32_t edge,
					 uint32_t *count)
{
	uint32_t first = arrangement->edges[edge].cover;
	uint32_t behind = edge + 1 < arrangement->edge_count ? arrangement->edges[edge + 1].cover
							     : arrangement->cover_count;
	*count = behind - first;
	return arrangement->covers + first;
}

/* Frees the index of the edges, once all that it may serve is done. */
void geo_arrangement_drop_index(struct geo_arrangement *arrangement);

/* Prepares geo_face_at, which few ask. 0, or -1 where memory ran out. */
int geo_arrangement_locate(struct geo_arrangement *arrangement);

/* The face that holds a point; of a point on a line, one of those that touch it. */
uint32_t geo_face_at(const struct geo_arrangement *arrangement, struct geo_vector at);

#endif
