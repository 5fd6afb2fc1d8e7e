/*
 * planar.h - checks an arrangement by definition, pair by pair, sharing no code with src/.
 *
 * Each returns NULL, or what is wrong.
 */
#ifndef TESTS_GEOMETRY_PLANAR_H
#define TESTS_GEOMETRY_PLANAR_H

#include <stdlib.h>

#include "geometry/arrangement.h"

__extension__ typedef __int128 planar_wide;

static inline int planar_side(struct cutlint_point a, struct cutlint_point b,
			      struct cutlint_point c)
{
	planar_wide left = (planar_wide)((int64_t)b.x - a.x) * ((int64_t)c.y - a.y);
	planar_wide right = (planar_wide)((int64_t)b.y - a.y) * ((int64_t)c.x - a.x);
	return (left > right) - (left < right);
}

static inline bool planar_within(int32_t a, int32_t b, int32_t c)
{
	return a < b ? a <= c && c <= b : b <= c && c <= a;
}

/* Whether c lies on the closed segment a-b. */
static inline bool planar_on(struct cutlint_point a, struct cutlint_point b, struct cutlint_point c)
{
	return !planar_side(a, b, c) && planar_within(a.x, b.x, c.x) &&
	       planar_within(a.y, b.y, c.y);
}

/* Edges meet in common nodes only, and no node lies on another edge. */
static inline const char *planar_edges(const struct geo_arrangement *a)
{
	for (uint32_t e = 0; e < a->edge_count; e++) {
		struct cutlint_point p = a->nodes[a->edges[e].from], q = a->nodes[a->edges[e].to];
		if (p.x > q.x || (p.x == q.x && p.y >= q.y))
			return "an edge does not run forward";
		for (uint32_t node = 0; node < a->node_count; node++)
			if (node != a->edges[e].from && node != a->edges[e].to &&
			    planar_on(p, q, a->nodes[node]))
				return "a node lies on an edge";
		for (uint32_t f = 0; f < e; f++) {
			struct cutlint_point r = a->nodes[a->edges[f].from];
			struct cutlint_point s = a->nodes[a->edges[f].to];
			if (a->edges[e].from == a->edges[f].from &&
			    a->edges[e].to == a->edges[f].to)
				return "two edges are the same";
			if (planar_side(p, q, r) * planar_side(p, q, s) < 0 &&
			    planar_side(r, s, p) * planar_side(r, s, q) < 0)
				return "two edges cross";
		}
	}
	return NULL;
}

static inline bool planar_covered(const struct geo_arrangement *a, uint32_t edge, uint32_t segment)
{
	uint32_t count;
	const uint32_t *covers = geo_covers(a, edge, &count);
	for (uint32_t i = 0; i < count; i++)
		if (covers[i] == segment)
			return true;
	return false;
}

/* Whether p lies in the closed box of side 2 round some point of a-b: no farther than 1 in both
 * coordinates. Each corner of that box would else lie on one side of the line. */
static inline bool planar_near(struct cutlint_point a, struct cutlint_point b,
			       struct cutlint_point p)
{
	int least = 1, most = -1;
	for (int corner = 0; corner < 4; corner++) {
		struct cutlint_point q = {p.x + (corner & 1 ? 1 : -1), p.y + (corner & 2 ? 1 : -1)};
		int side = planar_side(a, b, q);
		least = side < least ? side : least;
		most = side > most ? side : most;
	}
	int32_t left = a.x < b.x ? a.x : b.x, right = a.x < b.x ? b.x : a.x;
	int32_t low = a.y < b.y ? a.y : b.y, high = a.y < b.y ? b.y : a.y;
	return least <= 0 && most >= 0 && left - 1 <= p.x && p.x <= right + 1 && low - 1 <= p.y &&
	       p.y <= high + 1;
}

/* The edges of each segment make a path from its start to its end, close to it. */
static inline const char *planar_path(const struct geo_arrangement *a, uint32_t segment,
				      struct cutlint_point from, struct cutlint_point to)
{
	uint32_t *degree = calloc(a->node_count + 1, sizeof(*degree));
	const char *wrong = NULL;
	uint32_t edges = 0, ends = 0;
	for (uint32_t e = 0; e < a->edge_count; e++) {
		if (!planar_covered(a, e, segment))
			continue;
		edges++;
		degree[a->edges[e].from]++;
		degree[a->edges[e].to]++;
		if (!planar_near(from, to, a->nodes[a->edges[e].from]) ||
		    !planar_near(from, to, a->nodes[a->edges[e].to]))
			wrong = "an edge strays from its segment";
	}
	for (uint32_t node = 0; node < a->node_count; node++) {
		bool end =
			planar_on(from, from, a->nodes[node]) || planar_on(to, to, a->nodes[node]);
		ends += end && degree[node] == 1;
		if (!end && degree[node] != 0 && degree[node] != 2)
			wrong = "a segment's path branches or breaks";
	}
	if (!planar_on(from, from, to) ? !edges || ends != 2 : edges != 0)
		wrong = "a segment's path does not join its ends";
	free(degree);
	return wrong;
}

static inline const char *planar_paths(const struct geo_arrangement *a,
				       const struct geo_lines *lines)
{
	for (uint32_t c = 0; c < lines->chain_count; c++) {
		const struct geo_chain *chain = &lines->chains[c];
		for (uint32_t i = 0; i + !chain->closed < chain->count; i++) {
			uint32_t at = chain->first + i;
			uint32_t next = chain->first + (i + 1) % chain->count;
			const char *wrong =
				planar_path(a, at, lines->points[at], lines->points[next]);
			if (wrong)
				return wrong;
		}
	}
	return NULL;
}

static inline uint32_t planar_root(const uint32_t *parent, uint32_t node)
{
	while (parent[node] != node)
		node = parent[node];
	return node;
}

/* Euler: nodes - edges + faces = 1 + connected parts. */
static inline const char *planar_euler(const struct geo_arrangement *a)
{
	uint32_t *parent = calloc(a->node_count + 1, sizeof(*parent)), parts = 0;
	for (uint32_t node = 0; node < a->node_count; node++)
		parent[node] = node;
	for (uint32_t e = 0; e < a->edge_count; e++)
		parent[planar_root(parent, a->edges[e].from)] = planar_root(parent, a->edges[e].to);
	for (uint32_t node = 0; node < a->node_count; node++)
		parts += parent[node] == node;
	free(parent);
	return a->node_count + a->face_count == a->edge_count + 1 + parts ? NULL
									  : "not Euler's sum";
}

/* Walks a boundary, marking it; whether all of it has the face. */
static inline bool planar_walk(const struct geo_arrangement *a, uint32_t start, uint32_t face,
			       char *seen)
{
	uint32_t half = start;
	do {
		if (seen[half] || a->face[half] != face ||
		    geo_half_edge_to(a, half) != geo_half_edge_from(a, a->next[half]))
			return false;
		seen[half] = 1;
		half = a->next[half];
	} while (half != start);
	return true;
}

/* Every half-edge is on exactly one boundary of the face that it names. */
static inline const char *planar_boundaries(const struct geo_arrangement *a)
{
	char *seen = calloc(2 * (size_t)a->edge_count + 1, 1);
	const char *wrong = NULL;
	for (uint32_t f = 0; f < a->face_count && !wrong; f++) {
		const struct geo_face *face = &a->faces[f];
		if ((face->outer == GEO_NONE) != (f == 0))
			wrong = "face 0 alone has no outer boundary";
		else if (f && !planar_walk(a, face->outer, f, seen))
			wrong = "an outer boundary is broken";
		for (uint32_t i = 0; i < face->inner_count && !wrong; i++)
			if (!planar_walk(a, a->inners[face->first_inner + i], f, seen))
				wrong = "an inner boundary is broken";
	}
	for (uint32_t half = 0; half < 2 * a->edge_count && !wrong; half++)
		if (!seen[half])
			wrong = "a half-edge is on no boundary";
	free(seen);
	return wrong;
}

/*
 * The face at a place that lies on no edge, by counting crossings of the ray to the right with the
 * edges that have the face on one side only. GEO_NONE for a place on an edge.
 */
static inline uint32_t planar_face_at(const struct geo_arrangement *a, struct geo_vector at)
{
	uint32_t found = 0;
	for (uint32_t f = 1; f < a->face_count; f++) {
		bool inside = false;
		for (uint32_t e = 0; e < a->edge_count; e++) {
			struct cutlint_point p = a->nodes[a->edges[e].from];
			struct cutlint_point q = a->nodes[a->edges[e].to];
			double side = ((double)q.x - p.x) * (at.y - p.y) -
				      ((double)q.y - p.y) * (at.x - p.x);
			bool spans = (p.y > at.y) != (q.y > at.y);
			if (spans && side == 0)
				return GEO_NONE;
			if ((a->face[2 * e] == f) != (a->face[2 * e + 1] == f) && spans &&
			    (side > 0) == (q.y > p.y))
				inside = !inside;
		}
		if (inside)
			found = f;
	}
	return found;
}

/* The depths are those that no step over an edge can lower, starting from 0. */
static inline const char *planar_depths(const struct geo_arrangement *a)
{
	if (a->faces[0].depth)
		return "face 0 is not at depth 0";
	char *reached = calloc(a->face_count, 1);
	for (uint32_t half = 0; half < 2 * a->edge_count; half++) {
		uint32_t here = a->faces[a->face[half]].depth;
		uint32_t there = a->faces[a->face[half ^ 1]].depth;
		if (there + 1 < here)
			here = GEO_NONE;
		if (here == GEO_NONE || there + 1 == here)
			reached[a->face[half]] = here == GEO_NONE ? 2 : 1;
		if (reached[a->face[half]] == 2)
			break;
	}
	const char *wrong = NULL;
	for (uint32_t f = 1; f < a->face_count; f++)
		if (reached[f] != 1)
			wrong = "a face's depth is not the least";
	free(reached);
	return wrong;
}

static inline const char *planar_all(const struct geo_arrangement *a, const struct geo_lines *lines)
{
	const char *wrong = planar_edges(a);
	wrong = wrong ? wrong : planar_paths(a, lines);
	wrong = wrong ? wrong : planar_euler(a);
	wrong = wrong ? wrong : planar_boundaries(a);
	return wrong ? wrong : planar_depths(a);
}

#endif
