#include "sheet/way.h"

#include <math.h>

#include "sheet/work.h"

double *way_measure(struct arena *arena, const struct geo_lines *lines)
{
	double *along = ARENA_ARRAY(arena, double, (size_t)lines->point_count + 1);
	for (uint32_t c = 0; along && c < lines->chain_count; c++) {
		const struct geo_chain *chain = &lines->chains[c];
		for (uint32_t v = chain->first + 1; v < chain->first + chain->count; v++)
			along[v] = along[v - 1] +
				   hypot((double)lines->points[v].x - lines->points[v - 1].x,
					 (double)lines->points[v].y - lines->points[v - 1].y);
	}
	return along;
}

double way_length(const struct geo_lines *lines, const double *along, uint32_t number)
{
	const struct geo_chain *chain = &lines->chains[number];
	uint32_t last = chain->first + chain->count - 1;
	struct cutlint_point a = lines->points[last], b = lines->points[chain->first];
	double closing = chain->closed ? hypot((double)b.x - a.x, (double)b.y - a.y) : 0;
	return along[last] + closing;
}

struct way_place way_place(const struct geo_lines *lines, const double *along,
			   const struct geo_stretch *stretch, double way)
{
	const struct geo_chain *chain = &lines->chains[stretch->chain];
	double length = way_length(lines, along, stretch->chain);
	uint32_t segment = stretch->first_segment;
	double start = along[segment];
	while (way < start)
		way += length;
	for (uint32_t left = chain->count; left > 0; left--) {
		uint32_t next = geo_chain_next(chain, segment);
		if (next == GEO_NONE)
			break;
		struct cutlint_point a = lines->points[segment], b = lines->points[next];
		double side = hypot((double)b.x - a.x, (double)b.y - a.y);
		if (way <= start + side && side > 0) {
			double t = (way - start) / side;
			struct cutlint_xy at = {(a.x + t * ((double)b.x - a.x)) / SHEET_NM,
						(a.y + t * ((double)b.y - a.y)) / SHEET_NM};
			return (struct way_place){segment, at};
		}
		start += side;
		segment = next;
	}
	return (struct way_place){segment, cutlint_point_mm(lines->points[segment])};
}
