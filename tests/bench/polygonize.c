/*
 * polygonize FILE - CPU seconds of GEOS to node and polygonize a polygon-form workload.
 */
#include <geos_c.h>

#include "segments.h"

static void quiet(const char *format, ...)
{
	(void)format;
}

static GEOSGeometry *ring_line(const struct bench_rings *rings, const struct bench_ring *ring)
{
	GEOSCoordSequence *points = GEOSCoordSeq_create((unsigned)ring->count + 1, 2);
	for (unsigned i = 0; i <= ring->count; i++) {
		size_t at = ring->first + i % ring->count;
		GEOSCoordSeq_setXY(points, i, rings->x[at], rings->y[at]);
	}
	return GEOSGeom_createLineString(points);
}

static GEOSGeometry *all_lines(const struct bench_rings *rings)
{
	GEOSGeometry **lines = malloc(rings->ring_count * sizeof(GEOSGeometry *));
	if (!lines)
		return NULL;
	for (size_t i = 0; i < rings->ring_count; i++)
		lines[i] = ring_line(rings, &rings->rings[i]);
	GEOSGeometry *all =
		GEOSGeom_createCollection(GEOS_MULTILINESTRING, lines, (unsigned)rings->ring_count);
	free(lines);
	return all;
}

int main(int argc, char **argv)
{
	struct bench_rings rings;
	if (argc < 2 || bench_load(argv[1], &rings) < 0)
		return 2;
	initGEOS(quiet, quiet);
	GEOSGeometry *lines = all_lines(&rings);

	double before = bench_cpu();
	GEOSGeometry *noded = GEOSNode(lines);
	const GEOSGeometry *parts[] = {noded};
	GEOSGeometry *faces = GEOSPolygonize(parts, 1);
	printf("%.6f\n", bench_cpu() - before);

	int found = faces ? GEOSGetNumGeometries(faces) : 0;
	GEOSGeom_destroy(faces);
	GEOSGeom_destroy(noded);
	GEOSGeom_destroy(lines);
	finishGEOS();
	return found > 0 ? 0 : 1;
}
