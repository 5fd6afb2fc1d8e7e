#include "geometry/match-tracks.h"

#include <math.h>
#include <stdlib.h>

static size_t most_sides(const struct geo_lines *lines)
{
	size_t count = 0;
	for (uint32_t c = 0; c < lines->chain_count; c++)
		count += lines->chains[c].count;
	return count;
}

static void measure_chain(struct geo_tracks *tracks, const struct geo_lines *lines, uint32_t chain)
{
	const struct geo_chain *c = &lines->chains[chain];
	struct geo_track *track = &tracks->chains[chain];
	*track = (struct geo_track){.first = tracks->side_count, .closed = c->closed};
	for (uint32_t i = 0; i < c->count; i++) {
		uint32_t vertex = c->first + i, next = geo_chain_next(c, vertex);
		if (next == GEO_NONE)
			continue;
		struct cutlint_point from = lines->points[vertex], to = lines->points[next];
		double length = geo_distance(geo_vector_of(from), geo_vector_of(to));
		if (length == 0)
			continue;
		tracks->segments[tracks->side_count] = (struct geo_segment){from, to};
		tracks->sides[tracks->side_count++] =
			(struct geo_side){vertex, chain, track->length, length};
		track->length += length;
		track->count++;
	}
}

int geo_tracks_init(struct geo_tracks *tracks, const struct geo_lines *lines)
{
	size_t sides = most_sides(lines) + 1;
	*tracks = (struct geo_tracks){.chain_count = lines->chain_count};
	tracks->chains = malloc(((size_t)lines->chain_count + 1) * sizeof *tracks->chains);
	tracks->sides = malloc(sides * sizeof *tracks->sides);
	tracks->segments = malloc(sides * sizeof *tracks->segments);
	if (!tracks->chains || !tracks->sides || !tracks->segments)
		return -1;
	for (uint32_t c = 0; c < lines->chain_count; c++)
		measure_chain(tracks, lines, c);
	tracks->index = geo_index_create(tracks->segments, tracks->side_count);
	return tracks->index ? 0 : -1;
}

void geo_tracks_finish(struct geo_tracks *tracks)
{
	geo_index_destroy(tracks->index);
	free(tracks->segments);
	free(tracks->sides);
	free(tracks->chains);
	*tracks = (struct geo_tracks){0};
}

struct geo_vector geo_side_at(const struct geo_tracks *tracks, uint32_t side, double along)
{
	struct geo_vector from = geo_vector_of(tracks->segments[side].from);
	struct geo_vector to = geo_vector_of(tracks->segments[side].to);
	double share = along / tracks->sides[side].length;
	return (struct geo_vector){from.x + share * (to.x - from.x),
				   from.y + share * (to.y - from.y)};
}

double geo_side_nearest(const struct geo_tracks *tracks, uint32_t side, struct geo_vector place)
{
	struct geo_vector from = geo_vector_of(tracks->segments[side].from);
	struct geo_vector to = geo_vector_of(tracks->segments[side].to);
	double length = tracks->sides[side].length;
	double along =
		((place.x - from.x) * (to.x - from.x) + (place.y - from.y) * (to.y - from.y)) /
		length;
	return fmin(length, fmax(0, along));
}

double geo_distance(struct geo_vector a, struct geo_vector b)
{
	return sqrt((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y));
}
