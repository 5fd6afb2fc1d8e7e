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

static bool is_before(struct cutlint_point a, struct cutlint_point b)
{
	return a.x != b.x ? a.x < b.x : a.y < b.y;
}

/* The same for both directions. */
static struct geo_segment undirected(struct geo_segment segment)
{
	return is_before(segment.to, segment.from) ? (struct geo_segment){segment.to, segment.from}
						   : segment;
}

static bool is_same(struct geo_segment a, struct geo_segment b)
{
	return a.from.x == b.from.x && a.from.y == b.from.y && a.to.x == b.to.x && a.to.y == b.to.y;
}

/* Fowler-Noll-Vo steps over the four coordinates, then the upper bits folded in. */
static uint64_t hash(struct geo_segment segment)
{
	int32_t values[4] = {segment.from.x, segment.from.y, segment.to.x, segment.to.y};
	uint64_t hash = 0xcbf29ce484222325u;
	for (int i = 0; i < 4; i++)
		hash = (hash ^ (uint32_t)values[i]) * 0x100000001b3u;
	return hash ^ hash >> 29;
}

/* Enters a side in an open table of numbers of distinct segments, unless its like is there. */
static void enter_distinct(struct geo_tracks *tracks, uint32_t *table, uint64_t mask, uint32_t side)
{
	struct geo_segment segment = undirected(tracks->segments[side]);
	uint64_t place = hash(segment) & mask;
	while (table[place] != GEO_NONE) {
		if (is_same(undirected(tracks->distinct[table[place]]), segment))
			return;
		place = (place + 1) & mask;
	}
	table[place] = tracks->distinct_count;
	tracks->side_of[tracks->distinct_count] = side;
	tracks->distinct[tracks->distinct_count++] = tracks->segments[side];
}

/* So many sides before it is entered, a side's place in the table is fetched from memory. */
#define AHEAD 8

static int find_distinct(struct geo_tracks *tracks)
{
	uint64_t size = 16;
	while (size < 2 * (uint64_t)tracks->side_count)
		size *= 2;
	uint32_t *table = malloc(size * sizeof *table);
	if (!table)
		return -1;
	for (uint64_t i = 0; i < size; i++)
		table[i] = GEO_NONE;
	for (uint32_t side = 0; side < tracks->side_count; side++) {
		if (side + AHEAD < tracks->side_count)
			__builtin_prefetch(&table[hash(undirected(tracks->segments[side + AHEAD])) &
						  (size - 1)]);
		enter_distinct(tracks, table, size - 1, side);
	}
	free(table);
	return 0;
}

int geo_tracks_init(struct geo_tracks *tracks, const struct geo_lines *lines)
{
	size_t sides = most_sides(lines) + 1;
	*tracks = (struct geo_tracks){.chain_count = lines->chain_count};
	tracks->chains = malloc(((size_t)lines->chain_count + 1) * sizeof *tracks->chains);
	tracks->sides = malloc(sides * sizeof *tracks->sides);
	tracks->segments = malloc(sides * sizeof *tracks->segments);
	tracks->distinct = malloc(sides * sizeof *tracks->distinct);
	tracks->side_of = malloc(sides * sizeof *tracks->side_of);
	if (!tracks->chains || !tracks->sides || !tracks->segments || !tracks->distinct ||
	    !tracks->side_of)
		return -1;
	for (uint32_t c = 0; c < lines->chain_count; c++)
		measure_chain(tracks, lines, c);
	if (find_distinct(tracks))
		return -1;
	tracks->index = geo_index_create(tracks->distinct, tracks->distinct_count);
	return tracks->index ? 0 : -1;
}

void geo_tracks_finish(struct geo_tracks *tracks)
{
	geo_index_destroy(tracks->index);
	free(tracks->segments);
	free(tracks->distinct);
	free(tracks->side_of);
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
