#include "geometry/lines.h"

/*
 * Gallops from where the chain would be if all were equally long, then bisects: on most drawings a
 * few steps.
 */
uint32_t geo_lines_chain(const struct geo_lines *lines, uint32_t vertex)
{
	const struct geo_chain *chains = lines->chains;
	uint32_t count = lines->chain_count;
	if (count == 0 || chains[0].first > vertex)
		return GEO_NONE;
	uint64_t guess = (uint64_t)vertex * count / ((uint64_t)lines->point_count + 1);
	uint32_t low = guess < count ? (uint32_t)guess : count - 1, high = low + 1, step = 1;
	while (chains[low].first > vertex) {
		high = low;
		low -= step < low ? step : low;
		step *= 2;
	}
	for (step = 1; high < count && chains[high].first <= vertex; step *= 2) {
		low = high;
		high += step < count - high ? step : count - high;
	}
	while (high - low > 1) {
		uint32_t middle = low + (high - low) / 2;
		if (chains[middle].first <= vertex)
			low = middle;
		else
			high = middle;
	}
	return vertex - chains[low].first < chains[low].count ? low : GEO_NONE;
}

uint32_t geo_chain_next(const struct geo_chain *chain, uint32_t vertex)
{
	if (vertex < chain->first || vertex - chain->first >= chain->count)
		return GEO_NONE;
	if (vertex - chain->first + 1 < chain->count)
		return vertex + 1;
	return chain->closed ? chain->first : GEO_NONE;
}
