/*
 * voronoi FILE - CPU seconds to build Boost.Polygon's segment Voronoi diagram of a polygon-form
 * workload, in integer nanometres (the diagram takes 32-bit integers).
 */
#include <boost/polygon/polygon.hpp>
#include <boost/polygon/voronoi.hpp>

#include <cmath>
#include <cstdio>
#include <vector>

#include "segments.h"

int main(int argc, char **argv)
{
	bench_rings rings;
	if (argc < 2 || bench_load(argv[1], &rings) < 0)
		return 2;

	std::vector<boost::polygon::segment_data<int>> segments;
	for (size_t r = 0; r < rings.ring_count; r++) {
		const bench_ring &ring = rings.rings[r];
		for (size_t i = 0; i < ring.count; i++) {
			size_t a = ring.first + i, b = ring.first + (i + 1) % ring.count;
			segments.emplace_back(
				boost::polygon::point_data<int>((int)std::lround(rings.x[a] * 1e6),
								(int)std::lround(rings.y[a] * 1e6)),
				boost::polygon::point_data<int>(
					(int)std::lround(rings.x[b] * 1e6),
					(int)std::lround(rings.y[b] * 1e6)));
		}
	}

	double before = bench_cpu();
	boost::polygon::voronoi_diagram<double> diagram;
	boost::polygon::construct_voronoi(segments.begin(), segments.end(), &diagram);
	std::printf("%.6f\n", bench_cpu() - before);
	return diagram.num_cells() ? 0 : 1;
}
