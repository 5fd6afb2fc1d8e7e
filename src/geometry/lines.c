#include "geometry/lines.h"

uint32_t geo_lines_chain(const struct geo_lines *lines, uint32_t vertex)
{
	uint32_t low = 0, high = lines->chain_count;
	while (low < high) {
		uint32_t middle = low + (high - low) / 2;
		if (lines->chains[middle].first <= vertex)
			low = middle + 1;
		else
			high = middle;
	}
	if (!low)
		return GEO_NONE;
	const struct geo_chain *chain = &lines->chains[low - 1];
	return vertex - chain->first < chain->count ? low - 1 : GEO_NONE;
}

uint32_t geo_chain_next(const struct geo_chain *chain, uint32_t vertex)
{
	if (vertex < chain->first || vertex - chain->first >= chain->count)
		return GEO_NONE;
	if (vertex - chain->first + 1 < chain->count)
		return vertex + 1;
	return chain->closed ? chain->first : GEO_NONE;
}
