/*
 * A closed chain's neighbours are looked up at a few places along it, if any other chain's box lets
 * it be the outer edge: it holds the chain, and goes little beyond it. With each larger one that
 * holds it, the distance is then measured all along. Places near sharp corners are left out as long
 * as others remain: there the distance depends on how the corner was drawn, not on the stroke.
 */
#include <math.h>
#include <stdlib.h>

#include "base/list.h"
#include "geometry/distance.h"
#include "geometry/match-boxes.h"
#include "geometry/match-tracks.h"
#include "geometry/match.h"

#define PROBES 5

/* Larger neighbours with which one chain is measured: the nearest ones. */
#define NEIGHBOURS 8

/* Steps into which one side is divided at most. */
#define STEPS_MOST 64

/* A mitred corner is farther off than the line; SVG's default miter limit is 4. */
#define CORNER_REACH 4

struct neighbour {
	uint32_t chain;
	double distance;
};

struct finder {
	const struct geo_lines *lines;
	const struct geo_tracks *tracks;
	struct geo_boxes boxes;
	double *areas;              /* of each chain, absolute, twice */
	bool *sharp;                /* of each side: it turns by more than 30° at its start */
	struct geo_index **indices; /* of each chain alone, made when it is first asked for */
	double *distances;          /* of each chain from the place looked at; else infinite */
	uint32_t *seen;             /* the chains whose distance is not */
	uint32_t seen_count;
	bool failed;
	double least, most, spread;
	struct geo_pairs found;
	uint32_t capacity;
};

/* A search for the nearest point of one chain. */
struct nearest {
	const struct geo_tracks *tracks;
	struct geo_vector at;
	uint32_t chain, side;
	double along, distance;
};

/* What is measured between two chains. */
struct measure {
	double least, most, sum, weight;
	struct geo_vector at;
};

static void see_side(void *user, uint32_t side, double *reach)
{
	struct nearest *nearest = user;
	side += nearest->tracks->chains[nearest->chain].first;
	double along = geo_side_nearest(nearest->tracks, side, nearest->at);
	double off = geo_distance(nearest->at, geo_side_at(nearest->tracks, side, along));
	if (off > nearest->distance || (off == nearest->distance && side >= nearest->side))
		return;
	nearest->distance = off;
	nearest->side = side;
	nearest->along = along;
	*reach = fmin(*reach, off);
}

/* Its index holds one chain only, so that a crowd of others is no matter. */
static struct nearest find_nearest(struct finder *finder, struct geo_vector at, uint32_t chain)
{
	const struct geo_track *track = &finder->tracks->chains[chain];
	double reach = CORNER_REACH * finder->most;
	struct nearest nearest = {finder->tracks, at, chain, GEO_NONE, 0, reach};
	struct geo_index **index = &finder->indices[chain];
	if (!*index)
		*index = geo_index_create(finder->tracks->segments + track->first, track->count);
	if (*index)
		geo_index_near(*index, at, reach, see_side, &nearest);
	else
		finder->failed = true;
	return nearest;
}

static bool is_near_corner(const struct finder *finder, uint32_t side, double along, double reach)
{
	const struct geo_side *s = &finder->tracks->sides[side];
	const struct geo_track *track = &finder->tracks->chains[s->chain];
	uint32_t next = side + 1 < track->first + track->count ? side + 1 : track->first;
	return (finder->sharp[side] && along < reach) ||
	       (finder->sharp[next] && s->length - along < reach);
}

/* One place of the inner line. False where the pair is none, for certain. */
static bool measure_place(struct finder *finder, uint32_t side, double along, double weight,
			  uint32_t outer, struct measure plain[2])
{
	struct geo_vector at = geo_side_at(finder->tracks, side, along);
	struct nearest nearest = find_nearest(finder, at, outer);
	if (nearest.side == GEO_NONE)
		return false;
	double reach = 2 * nearest.distance;
	bool corner = is_near_corner(finder, side, along, reach) ||
		      is_near_corner(finder, nearest.side, nearest.along, reach);
	struct measure *measure = &plain[corner];
	if (nearest.distance < measure->least)
		measure->at = at;
	measure->least = fmin(measure->least, nearest.distance);
	measure->most = fmax(measure->most, nearest.distance);
	measure->sum += weight * nearest.distance;
	measure->weight += weight;
	return corner || (nearest.distance > finder->least && nearest.distance <= finder->most);
}

static uint32_t steps_of(const struct finder *finder, uint32_t side)
{
	double steps = ceil(finder->tracks->sides[side].length / fmax(1, finder->most));
	return (uint32_t)fmin(STEPS_MOST, fmax(1, steps));
}

static bool measure_inner(struct finder *finder, uint32_t inner, uint32_t outer,
			  struct measure measures[2])
{
	const struct geo_track *track = &finder->tracks->chains[inner];
	for (uint32_t side = track->first; side < track->first + track->count; side++) {
		uint32_t steps = steps_of(finder, side);
		double step = finder->tracks->sides[side].length / steps;
		for (uint32_t i = 0; i < steps; i++)
			if (!measure_place(finder, side, (i + 0.5) * step, step, outer, measures))
				return false;
	}
	return true;
}

/* Whether no part of the outer line is far from the inner one. */
static bool outer_keeps_near(struct finder *finder, uint32_t outer, uint32_t inner)
{
	const struct geo_track *track = &finder->tracks->chains[outer];
	for (uint32_t side = track->first; side < track->first + track->count; side++) {
		uint32_t steps = steps_of(finder, side);
		double step = finder->tracks->sides[side].length / steps;
		for (uint32_t i = 0; i <= steps; i++) {
			struct geo_vector at =
				geo_side_at(finder->tracks, side, fmin(i * step, steps * step));
			if (find_nearest(finder, at, inner).side == GEO_NONE)
				return false;
		}
	}
	return true;
}

static int keep(struct finder *finder, struct geo_pair pair)
{
	return LIST_ADD(finder->found.items, finder->found.count, finder->capacity, pair) ? 0 : -1;
}

static int try_pair(struct finder *finder, uint32_t outer, uint32_t inner)
{
	const struct geo_track *track = &finder->tracks->chains[inner];
	struct geo_vector start = geo_side_at(finder->tracks, track->first, 0);
	if (!geo_chain_contains(finder->lines, outer, start))
		return 0;
	struct measure measures[2] = {{.least = INFINITY}, {.least = INFINITY}};
	if (!measure_inner(finder, inner, outer, measures))
		return 0;
	const struct measure *measure = &measures[measures[0].weight > 0 ? 0 : 1];
	double mean = fmin(measure->most, fmax(measure->least, measure->sum / measure->weight));
	if (measure->least <= finder->least || measure->most > finder->most ||
	    measure->most - measure->least > finder->spread * mean ||
	    !outer_keeps_near(finder, outer, inner))
		return 0;
	return keep(finder, (struct geo_pair){outer, inner, measure->least, measure->most, mean,
					      measure->at});
}

/* A look round one place of a chain. */
struct round_look {
	struct finder *finder;
	struct geo_vector at;
	uint32_t inner;
};

static bool can_hold(const struct finder *finder, uint32_t outer, uint32_t inner)
{
	double more = finder->areas[outer] - finder->areas[inner];
	return outer != inner && finder->tracks->chains[outer].closed && more > 0 &&
	       geo_boxes_fit(&finder->boxes, outer, inner);
}

static void see_neighbour(void *user, uint32_t distinct, double *reach)
{
	const struct round_look *look = user;
	struct finder *finder = look->finder;
	uint32_t side = finder->tracks->side_of[distinct];
	uint32_t chain = finder->tracks->sides[side].chain;
	if (!can_hold(finder, chain, look->inner))
		return;
	double along = geo_side_nearest(finder->tracks, side, look->at);
	double distance = geo_distance(look->at, geo_side_at(finder->tracks, side, along));
	if (distance > *reach)
		return;
	if (isinf(finder->distances[chain]))
		finder->seen[finder->seen_count++] = chain;
	finder->distances[chain] = fmin(finder->distances[chain], distance);
}

static bool is_listed(const struct neighbour *neighbours, uint32_t count, uint32_t chain)
{
	for (uint32_t i = 0; i < count; i++)
		if (neighbours[i].chain == chain)
			return true;
	return false;
}

/* Adds what was seen to the neighbours, which stay in order of distance, and forgets it. */
static uint32_t take_seen(struct finder *finder, struct neighbour *neighbours, uint32_t count)
{
	for (uint32_t i = 0; i < finder->seen_count; i++) {
		struct neighbour neighbour = {finder->seen[i], finder->distances[finder->seen[i]]};
		finder->distances[neighbour.chain] = INFINITY;
		if (neighbour.distance <= finder->least ||
		    is_listed(neighbours, count, neighbour.chain))
			continue;
		uint32_t place = count;
		while (place > 0 && neighbours[place - 1].distance > neighbour.distance)
			place--;
		if (place == NEIGHBOURS)
			continue;
		count = count < NEIGHBOURS ? count + 1 : count;
		for (uint32_t k = count - 1; k > place; k--)
			neighbours[k] = neighbours[k - 1];
		neighbours[place] = neighbour;
	}
	finder->seen_count = 0;
	return count;
}

static int try_chain(struct finder *finder, uint32_t inner)
{
	const struct geo_track *track = &finder->tracks->chains[inner];
	struct neighbour neighbours[NEIGHBOURS];
	uint32_t count = 0;
	for (uint32_t i = 0; i < PROBES; i++) {
		uint32_t side = track->first + (uint32_t)((uint64_t)track->count * i / PROBES);
		double half = finder->tracks->sides[side].length / 2;
		struct round_look look = {finder, geo_side_at(finder->tracks, side, half), inner};
		geo_index_near(finder->tracks->index, look.at, finder->most, see_neighbour, &look);
		count = take_seen(finder, neighbours, count);
	}
	for (uint32_t i = 0; i < count; i++)
		if (try_pair(finder, neighbours[i].chain, inner) || finder->failed)
			return -1;
	return 0;
}

/* cos 30° */
#define STRAIGHT 0.8660254037844386

static void mark_corners(struct finder *finder, const struct geo_track *track)
{
	for (uint32_t i = 0; i < track->count; i++) {
		uint32_t side = track->first + i;
		uint32_t before = track->first + (i + track->count - 1) % track->count;
		struct geo_segment a = finder->tracks->segments[before];
		struct geo_segment b = finder->tracks->segments[side];
		double dot = ((double)a.to.x - a.from.x) * ((double)b.to.x - b.from.x) +
			     ((double)a.to.y - a.from.y) * ((double)b.to.y - b.from.y);
		finder->sharp[side] = dot < STRAIGHT * finder->tracks->sides[before].length *
						    finder->tracks->sides[side].length;
	}
}

static int init(struct finder *finder)
{
	size_t chains = (size_t)finder->tracks->chain_count + 1;
	finder->areas = calloc(chains, sizeof *finder->areas);
	finder->indices = calloc(chains, sizeof *finder->indices);
	finder->distances = malloc(chains * sizeof *finder->distances);
	finder->seen = malloc(chains * sizeof *finder->seen);
	finder->sharp = calloc((size_t)finder->tracks->side_count + 1, sizeof *finder->sharp);
	if (geo_boxes_init(&finder->boxes, finder->tracks, CORNER_REACH * finder->most) ||
	    !finder->areas || !finder->indices || !finder->distances || !finder->seen ||
	    !finder->sharp)
		return -1;
	for (uint32_t chain = 0; chain < finder->tracks->chain_count; chain++) {
		finder->distances[chain] = INFINITY;
		if (finder->tracks->chains[chain].closed)
			finder->areas[chain] = fabs(geo_chain_area2(finder->lines, chain));
		mark_corners(finder, &finder->tracks->chains[chain]);
	}
	return 0;
}

static void finish(struct finder *finder)
{
	for (uint32_t chain = 0; finder->indices && chain < finder->tracks->chain_count; chain++)
		geo_index_destroy(finder->indices[chain]);
	free(finder->indices);
	geo_boxes_finish(&finder->boxes);
	free(finder->areas);
	free(finder->distances);
	free(finder->seen);
	free(finder->sharp);
}

static int find(struct finder *finder)
{
	const struct geo_tracks *tracks = finder->tracks;
	for (uint32_t chain = 0; chain < tracks->chain_count; chain++)
		if (tracks->chains[chain].closed && tracks->chains[chain].count > 0 &&
		    geo_boxes_any_fits(&finder->boxes, chain) && try_chain(finder, chain))
			return -1;
	return 0;
}

static int by_chains(const void *left, const void *right)
{
	const struct geo_pair *a = left, *b = right;
	if (a->outer != b->outer)
		return a->outer < b->outer ? -1 : 1;
	return (a->inner > b->inner) - (a->inner < b->inner);
}

int geo_pairs_find_in(const struct geo_lines *lines, const struct geo_tracks *tracks, double least,
		      double most, double spread, struct geo_pairs *out)
{
	struct finder finder = {
		.lines = lines, .tracks = tracks, .least = least, .most = most, .spread = spread};
	*out = (struct geo_pairs){0};
	int status = init(&finder);
	if (status == 0)
		status = find(&finder);
	if (status == 0 && finder.found.count > 0)
		qsort(finder.found.items, finder.found.count, sizeof *finder.found.items,
		      by_chains);
	if (status == 0)
		*out = finder.found;
	else
		free(finder.found.items);
	finish(&finder);
	return status;
}

int geo_pairs_find(const struct geo_lines *lines, double least, double most, double spread,
		   struct geo_pairs *out)
{
	struct geo_tracks tracks;
	*out = (struct geo_pairs){0};
	int status = geo_tracks_init(&tracks, lines);
	if (status == 0)
		status = geo_pairs_find_in(lines, &tracks, least, most, spread, out);
	geo_tracks_finish(&tracks);
	return status;
}

void geo_pairs_finish(struct geo_pairs *pairs)
{
	free(pairs->items);
	*pairs = (struct geo_pairs){0};
}
