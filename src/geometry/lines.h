/*
 * lines.h - the geometry's input: chains of straight segments between integer nanometre vertices.
 *
 * Segments are numbered as the vertices at which they start: segment v runs from points[v] to the
 * next vertex of its chain, for a closed chain's last vertex back to the first. An open chain's
 * last vertex starts no segment. Axes are plain: "left" and "counter-clockwise" are those of x to
 * the right and y up; on a sheet, where y runs down, they look mirrored.
 */
#ifndef GEOMETRY_LINES_H
#define GEOMETRY_LINES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "cutlint/point.h"

#define GEO_NONE UINT32_MAX

/* A place or direction in nanometres, where a result is no integer. */
struct geo_vector {
	double x, y;
};

struct geo_chain {
	uint32_t first, count; /* into points */
	bool closed;
};

/* Borrowed from the caller, who keeps it as long as anything that was made from it. */
struct geo_lines {
	const struct cutlint_point *points;
	const struct geo_chain *chains; /* ascending in first; may leave vertices out */
	uint32_t point_count, chain_count;
};

/* The chain that owns a vertex, by search; GEO_NONE for a vertex that no chain has. */
uint32_t geo_lines_chain(const struct geo_lines *lines, uint32_t vertex);

/* The vertex that a segment runs to; GEO_NONE if no segment starts at this vertex. */
uint32_t geo_chain_next(const struct geo_chain *chain, uint32_t vertex);

#endif
