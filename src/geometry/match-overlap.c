/*
 * Side by side, in the order of the chains, each side is compared with those of lower number that
 * come near it where a long enough stretch must show; from the first place where two are together,
 * both lines are walked as far as they stay so. What has been found to lie on an earlier line is
 * not looked at again, which keeps a thousand copies of an outline at the cost of a thousand walks.
 */
#include <math.h>
#include <stdlib.h>

#include "base/list.h"
#include "geometry/distance.h"
#include "geometry/match-cover.h"
#include "geometry/match-part.h"
#include "geometry/match-search.h"
#include "geometry/match-walk.h"
#include "geometry/match.h"

/*
 * Of the sides near the one at work, so many are gathered and tried from the nearest on, which
 * leaves the fewest stretches: of the many lines that leave one hub, the next one lies along the
 * side for longest. What is found does not hang on the order in which an index is searched.
 */
#define NEARBY 64

/* Two lines may lie on each other more than once along a side, but hardly more often. */
#define TRIES 4

struct nearby {
	int level; /* of the distance, by NEAR */
	uint32_t side;
};

/* Distances in the same eighth of the largest one are alike, as between copies drawn with other
 * nodes: of those, the line that comes first is named. */
#define NEAR 8

/* Walks that came to nothing and are remembered, so that short sides do not repeat them. */
#define FAILURES 16

struct pairing {
	uint32_t a, b; /* chains */
	bool reversed;
	struct geo_interval on_a, on_b; /* may start below 0 or pass the length on closed chains */
	double apart;
};

struct finder {
	const struct geo_tracks *tracks;
	double apart, least;
	struct geo_cover cover; /* of the chain at work */
	uint32_t side;          /* at work: the later one of each pair */
	uint32_t *seen;         /* of each distinct segment: the look that met it last */
	uint32_t look;          /* counts sides at work */
	bool covered;           /* nothing of the side at work is left to be looked at */
	struct nearby nearby[NEARBY];
	uint32_t nearby_count;
	struct pairing failures[FAILURES];
	uint32_t failure_count;
	struct geo_overlaps found;
	uint32_t capacity;
	bool failed;
};

static const struct geo_side *side_of(const struct finder *finder, uint32_t side)
{
	return &finder->tracks->sides[side];
}

static const struct geo_track *track_of(const struct finder *finder, uint32_t side)
{
	return &finder->tracks->chains[side_of(finder, side)->chain];
}

/*
 * The longest part of the side at work between two places on it that no earlier line covers; empty
 * if `to` is not above `from`. What a walk left over at its ends is no reason for another one.
 */
static struct geo_interval open_part(const struct finder *finder, double from, double to)
{
	const struct geo_side *side = side_of(finder, finder->side);
	double slack = fmin(finder->apart / 8, side->length / 2);
	struct geo_interval gap = geo_cover_gap(&finder->cover, side->at + from, side->at + to);
	double start = gap.from - side->at, end = gap.to - side->at;
	return (struct geo_interval){gap.from > side->at + from ? start + slack : start,
				     gap.to < side->at + to ? end - slack : end};
}

static bool touches_cover(const struct finder *finder, double at)
{
	double slack = finder->apart / 8;
	struct geo_interval gap = geo_cover_gap(&finder->cover, at - slack, at + slack);
	return gap.from > at - slack || gap.to < at + slack;
}

/* Whether a place on the side at work lies on an earlier line for all we know, or next to a stretch
 * that does: a walk from there would only find that one again. */
static bool is_known(const struct finder *finder, double along)
{
	const struct geo_track *track = track_of(finder, finder->side);
	double at = side_of(finder, finder->side)->at + along;
	return touches_cover(finder, at) ||
	       (track->closed && (touches_cover(finder, at - track->length) ||
				  touches_cover(finder, at + track->length)));
}

static bool is_open(const struct finder *finder)
{
	if (!finder->cover.count)
		return true;
	struct geo_interval part = open_part(finder, 0, side_of(finder, finder->side)->length);
	return part.to > part.from;
}

/* How far both may go, from where they stand at the start. */
static void set_limits(const struct finder *finder, struct geo_walk *walk)
{
	const struct geo_side *a = side_of(finder, walk->a.side),
			      *b = side_of(finder, walk->b.side);
	const struct geo_track *on_a = &finder->tracks->chains[a->chain];
	const struct geo_track *on_b = &finder->tracks->chains[b->chain];
	walk->a.left = on_a->closed ? on_a->length : INFINITY;
	walk->b.left = on_b->closed ? on_b->length : INFINITY;
	walk->together = INFINITY;
	if (a->chain != b->chain)
		return;
	double gap = b->at + walk->b.along - a->at - walk->a.along;
	if (walk->b.way < 0)
		walk->together = gap;
	else
		walk->a.left = walk->b.left = on_a->closed ? fmin(gap, on_a->length - gap) : gap;
}

/* Turns both round, to walk from the start the other way. */
static void turn_round(const struct finder *finder, struct geo_walk *walk,
		       const struct geo_walk *start)
{
	const struct geo_track *track = track_of(finder, start->a.side);
	bool folded = isfinite(walk->together);
	struct geo_walker a = start->a, b = start->b;
	a.left = walk->a.left;
	b.left = walk->b.left;
	a.way = -a.way;
	b.way = -b.way;
	walk->a = a;
	walk->b = b;
	if (folded)
		walk->together = track->closed ? track->length - start->together : INFINITY;
}

/* Both stretches that stay together round a place, walked both ways from it. */
static struct pairing walk_from(const struct finder *finder, struct geo_walk *walk)
{
	const struct geo_side *a = side_of(finder, walk->a.side),
			      *b = side_of(finder, walk->b.side);
	double at_a = a->at + walk->a.along, at_b = b->at + walk->b.along;
	bool reversed = walk->b.way < 0;
	set_limits(finder, walk);
	struct geo_walk start = *walk;
	geo_walk_on(walk);
	double ahead_a = walk->a.travelled, ahead_b = walk->b.travelled;
	turn_round(finder, walk, &start);
	geo_walk_on(walk);
	geo_walk_round(walk);
	double back_a = walk->a.travelled, back_b = walk->b.travelled;
	return (struct pairing){.a = a->chain,
				.b = b->chain,
				.reversed = reversed,
				.on_a = {at_a - back_a, at_a + ahead_a},
				.on_b = {at_b - (reversed ? ahead_b : back_b),
					 at_b + (reversed ? back_b : ahead_b)},
				.apart = walk->most};
}

static uint32_t segment_at(const struct finder *finder, const struct geo_track *track, double at)
{
	uint32_t low = track->first, high = track->first + track->count;
	while (high - low > 1) {
		uint32_t middle = low + (high - low) / 2;
		if (finder->tracks->sides[middle].at <= at)
			low = middle;
		else
			high = middle;
	}
	return finder->tracks->sides[low].vertex;
}

static struct geo_stretch stretch_of(const struct finder *finder, uint32_t chain,
				     struct geo_interval on)
{
	const struct geo_track *track = &finder->tracks->chains[chain];
	struct geo_stretch stretch = {.chain = chain, .from = on.from, .to = on.to};
	if (track->closed) {
		double turns = floor(on.from / track->length) * track->length;
		stretch.from = fmin(fmax(0, on.from - turns), track->length);
		stretch.to = stretch.from + fmin(on.to - on.from, track->length);
	} else {
		stretch.from = fmax(0, on.from);
		stretch.to = fmin(track->length, on.to);
	}
	stretch.first_segment = segment_at(finder, track, stretch.from);
	return stretch;
}

static int cover_stretch(struct finder *finder, const struct geo_stretch *stretch)
{
	double length = finder->tracks->chains[stretch->chain].length;
	if (stretch->to > length && geo_cover_add(&finder->cover, 0, stretch->to - length))
		return -1;
	return geo_cover_add(&finder->cover, stretch->from, fmin(stretch->to, length));
}

static int keep(struct finder *finder, const struct pairing *pairing)
{
	struct geo_overlap overlap = {.a = stretch_of(finder, pairing->a, pairing->on_a),
				      .b = stretch_of(finder, pairing->b, pairing->on_b),
				      .apart = pairing->apart,
				      .reversed = pairing->reversed};
	if (cover_stretch(finder, &overlap.b))
		return -1;
	if (pairing->a == pairing->b && overlap.b.from < overlap.a.from) {
		struct geo_stretch first = overlap.b;
		overlap.b = overlap.a;
		overlap.a = first;
	}
	if (!LIST_ADD(finder->found.items, finder->found.count, finder->capacity, overlap))
		return -1;
	return 0;
}

static bool lies_in(struct geo_interval interval, double at)
{
	return at >= interval.from && at <= interval.to;
}

static bool has_failed_before(const struct finder *finder, const struct geo_walk *walk)
{
	const struct geo_side *a = side_of(finder, walk->a.side),
			      *b = side_of(finder, walk->b.side);
	uint32_t count = finder->failure_count < FAILURES ? finder->failure_count : FAILURES;
	for (uint32_t i = 0; i < count; i++) {
		const struct pairing *failure = &finder->failures[i];
		if (failure->a == a->chain && failure->b == b->chain &&
		    failure->reversed == (walk->b.way < 0) &&
		    lies_in(failure->on_a, a->at + walk->a.along) &&
		    lies_in(failure->on_b, b->at + walk->b.along))
			return true;
	}
	return false;
}

/* Whether both stretches are long enough; the shorter one decides. */
static bool is_long_enough(const struct finder *finder, const struct pairing *pairing)
{
	double a = pairing->on_a.to - pairing->on_a.from, b = pairing->on_b.to - pairing->on_b.from;
	return fmin(a, b) >= finder->least;
}

/* Of one chain, places closer along it than the least length are its own course. */
static bool is_own_course(const struct finder *finder, const struct geo_walk *walk)
{
	const struct geo_side *a = side_of(finder, walk->a.side),
			      *b = side_of(finder, walk->b.side);
	if (a->chain != b->chain)
		return false;
	const struct geo_track *track = &finder->tracks->chains[a->chain];
	double gap = b->at + walk->b.along - a->at - walk->a.along;
	return gap < finder->least || (track->closed && track->length - gap < finder->least);
}

/* Whether the walk from this place gives an overlap. */
static bool try_walk(struct finder *finder, const struct geo_walk *place, int way)
{
	struct geo_walk walk = *place;
	walk.b.way = way;
	if (is_own_course(finder, &walk) || has_failed_before(finder, &walk))
		return false;
	struct pairing pairing = walk_from(finder, &walk);
	if (!is_long_enough(finder, &pairing)) {
		finder->failures[finder->failure_count++ % FAILURES] = pairing;
		return false;
	}
	finder->failed = keep(finder, &pairing) != 0;
	return true;
}

/* Walks from the place `along` the side at work, if the other side is near enough there. */
static bool try_place(struct finder *finder, uint32_t other, double along)
{
	const struct geo_tracks *tracks = finder->tracks;
	struct geo_vector at = geo_side_at(tracks, finder->side, along);
	double opposite = geo_side_nearest(tracks, other, at);
	double apart = geo_distance(at, geo_side_at(tracks, other, opposite));
	if (apart > finder->apart)
		return false;
	struct geo_walk walk = {.tracks = tracks,
				.a = {.side = other, .along = opposite, .way = 1},
				.b = {.side = finder->side, .along = along},
				.apart = finder->apart,
				.most = apart};
	struct geo_segment a = tracks->segments[other], b = tracks->segments[finder->side];
	double dot = ((double)a.to.x - a.from.x) * ((double)b.to.x - b.from.x) +
		     ((double)a.to.y - a.from.y) * ((double)b.to.y - b.from.y);
	int way = dot < 0 ? -1 : 1;
	if (try_walk(finder, &walk, way))
		return true;
	/* The direction of a side shorter than the distance says little. */
	double shorter =
		fmin(side_of(finder, other)->length, side_of(finder, finder->side)->length);
	return shorter < 2 * finder->apart && try_walk(finder, &walk, -way);
}

/* How far the side at work is from another one, with the closest place on it. */
static double apart_from(const struct finder *finder, uint32_t other, struct geo_vector *on_own)
{
	struct geo_segment own = finder->tracks->segments[finder->side];
	struct geo_segment segment = finder->tracks->segments[other];
	struct geo_vector on_other;
	return geo_segment_distance(geo_vector_of(segment.from), geo_vector_of(segment.to),
				    geo_vector_of(own.from), geo_vector_of(own.to), &on_other,
				    on_own);
}

/* Tries the places of the side at work that are opposite the other side: the middle of what is
 * open there, both its ends, and where the sides come closest. Whether one gave an overlap. */
static bool try_side(struct finder *finder, uint32_t other)
{
	const struct geo_tracks *tracks = finder->tracks;
	uint32_t side = finder->side;
	struct geo_segment segment = tracks->segments[other];
	struct geo_vector on_own;
	(void)apart_from(finder, other, &on_own);
	double start = geo_side_nearest(tracks, side, geo_vector_of(segment.from));
	double end = geo_side_nearest(tracks, side, geo_vector_of(segment.to));
	struct geo_interval open = open_part(finder, fmin(start, end), fmax(start, end));
	double closest = geo_side_nearest(tracks, side, on_own);
	double places[4] = {(open.from + open.to) / 2, open.from, open.to, closest};
	for (int i = open.to > open.from ? 0 : 3; i < 4; i++)
		if (!is_known(finder, places[i]) && try_place(finder, other, places[i]))
			return true;
	return false;
}

static int by_distance(const void *left, const void *right)
{
	const struct nearby *a = left, *b = right;
	if (a->level != b->level)
		return a->level < b->level ? -1 : 1;
	return (a->side > b->side) - (a->side < b->side);
}

static void try_nearby(struct finder *finder)
{
	qsort(finder->nearby, finder->nearby_count, sizeof *finder->nearby, by_distance);
	for (uint32_t i = 0; i < finder->nearby_count; i++)
		for (int k = 0; k < TRIES && !finder->covered; k++) {
			if (!try_side(finder, finder->nearby[i].side))
				break;
			finder->covered = finder->failed || !is_open(finder);
		}
	finder->nearby_count = 0;
}

static bool is_neighbour(const struct finder *finder, uint32_t other)
{
	const struct geo_side *a = side_of(finder, other), *b = side_of(finder, finder->side);
	const struct geo_track *track = &finder->tracks->chains[b->chain];
	if (a->chain != b->chain)
		return false;
	double farthest = b->at + b->length - a->at, nearest = b->at - a->at - a->length;
	return farthest < finder->least ||
	       (track->closed && track->length - nearest < finder->least);
}

static bool visit(void *user, uint32_t distinct)
{
	struct finder *finder = user;
	uint32_t other = finder->tracks->side_of[distinct];
	if (other >= finder->side || finder->covered || finder->seen[distinct] == finder->look)
		return !finder->covered;
	finder->seen[distinct] = finder->look;
	if (is_neighbour(finder, other) ||
	    geo_sides_part(finder->tracks, other, finder->side, finder->apart, finder->least))
		return true;
	struct geo_vector on_own;
	double apart = apart_from(finder, other, &on_own);
	if (apart > finder->apart)
		return true;
	finder->nearby[finder->nearby_count++] =
		(struct nearby){apart > 0 ? (int)(NEAR * apart / finder->apart) : 0, other};
	if (finder->nearby_count == NEARBY)
		try_nearby(finder);
	return !finder->covered;
}

static int find(struct finder *finder)
{
	const struct geo_tracks *tracks = finder->tracks;
	for (uint32_t side = 0; side < tracks->side_count; side++) {
		finder->side = side;
		finder->look++;
		finder->covered = false;
		if (tracks->chains[tracks->sides[side].chain].first == side)
			finder->cover.count = 0;
		if (geo_side_is_short(tracks, side, finder->least) || !is_open(finder))
			continue;
		geo_side_search(tracks, side, finder->least, finder->apart, visit, finder);
		try_nearby(finder);
		if (finder->failed)
			return -1;
	}
	return 0;
}

static int by_number(double a, double b)
{
	return (a > b) - (a < b);
}

static int by_place(const void *left, const void *right)
{
	const struct geo_overlap *x = left, *y = right;
	int order = by_number(x->a.chain, y->a.chain);
	order = order ? order : by_number(x->a.from, y->a.from);
	order = order ? order : by_number(x->b.chain, y->b.chain);
	order = order ? order : by_number(x->b.from, y->b.from);
	order = order ? order : by_number(x->a.to, y->a.to);
	return order ? order : by_number(x->b.to, y->b.to);
}

int geo_overlaps_find_in(const struct geo_tracks *tracks, double apart, double least_length,
			 struct geo_overlaps *out)
{
	struct finder finder = {.tracks = tracks, .apart = apart, .least = least_length};
	*out = (struct geo_overlaps){0};
	finder.seen = calloc((size_t)tracks->distinct_count + 1, sizeof *finder.seen);
	int status = finder.seen ? find(&finder) : -1;
	if (status == 0 && finder.found.count > 0)
		qsort(finder.found.items, finder.found.count, sizeof *finder.found.items, by_place);
	if (status == 0)
		*out = finder.found;
	else
		free(finder.found.items);
	free(finder.seen);
	free(finder.cover.items);
	return status;
}

int geo_overlaps_find(const struct geo_lines *lines, double apart, double least_length,
		      struct geo_overlaps *out)
{
	struct geo_tracks tracks;
	*out = (struct geo_overlaps){0};
	int status = geo_tracks_init(&tracks, lines);
	if (status == 0)
		status = geo_overlaps_find_in(&tracks, apart, least_length, out);
	geo_tracks_finish(&tracks);
	return status;
}

void geo_overlaps_finish(struct geo_overlaps *overlaps)
{
	free(overlaps->items);
	*overlaps = (struct geo_overlaps){0};
}
