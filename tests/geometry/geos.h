/* geos.h - the GEOS library (libgeos, C interface 3.11) as outside judge; coordinates in nm. */
#ifndef TESTS_GEOMETRY_GEOS_H
#define TESTS_GEOMETRY_GEOS_H

#define GEOS_USE_ONLY_R_API
#include <geos_c.h>

#include "geometry/lines.h"

static inline GEOSCoordSequence *geos_sequence(GEOSContextHandle_t geos,
					       const struct geo_lines *lines, uint32_t chain)
{
	const struct geo_chain *c = &lines->chains[chain];
	uint32_t count = c->count + (c->closed ? 1 : 0);
	GEOSCoordSequence *sequence = GEOSCoordSeq_create_r(geos, count, 2);
	for (uint32_t i = 0; i < count; i++) {
		struct cutlint_point p = lines->points[c->first + i % c->count];
		GEOSCoordSeq_setXY_r(geos, sequence, i, p.x, p.y);
	}
	return sequence;
}

/* A chain as a line; closed ones return to their start. */
static inline GEOSGeometry *geos_line(GEOSContextHandle_t geos, const struct geo_lines *lines,
				      uint32_t chain)
{
	return GEOSGeom_createLineString_r(geos, geos_sequence(geos, lines, chain));
}

/* A closed chain as a polygon. */
static inline GEOSGeometry *geos_polygon(GEOSContextHandle_t geos, const struct geo_lines *lines,
					 uint32_t chain)
{
	GEOSGeometry *ring = GEOSGeom_createLinearRing_r(geos, geos_sequence(geos, lines, chain));
	return GEOSGeom_createPolygon_r(geos, ring, NULL, 0);
}

/* All chains as one set of lines. */
static inline GEOSGeometry *geos_lines(GEOSContextHandle_t geos, const struct geo_lines *lines)
{
	GEOSGeometry *parts[256];
	for (uint32_t i = 0; i < lines->chain_count; i++)
		parts[i] = geos_line(geos, lines, i);
	return GEOSGeom_createCollection_r(geos, GEOS_MULTILINESTRING, parts, lines->chain_count);
}

#endif
