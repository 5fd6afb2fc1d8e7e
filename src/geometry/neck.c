#include "geometry/neck.h"

#include <math.h>
#include <stdlib.h>

#include "base/list.h"
#include "geometry/neck-walk.h"

/* A plateau is at least this share of its width long; below it the least width is one place. */
#define PLATEAU 0.1

/* A free end reaches at most this many widths beyond where the width begins to fall. */
#define END 1.5

/* So many half-edges are a group; see by_group. */
#define GROUP 8192

struct finder {
	struct neck_walls walls;
	const struct geo_neck_search *search;
	struct neck_candidates candidates;
	struct neck_walker *walker;
	struct geo_necks *out;
	uint32_t room;
};

static int add(struct finder *finder, const struct geo_neck *neck)
{
	struct geo_necks *out = finder->out;
	return LIST_ADD(out->items, out->count, finder->room, *neck) ? 0 : -1;
}

/*
 * By groups of walls that lie together in memory, and mostly on the sheet, because walks in the
 * order of width alone wait for memory. Within a group, narrow ones first: they save the walks from
 * whatever they pass.
 */
static int by_group(const void *left, const void *right)
{
	const struct neck_candidate *a = left, *b = right;
	uint32_t i = neck_half(a->a) / GROUP, k = neck_half(b->a) / GROUP;
	if (i != k)
		return i < k ? -1 : 1;
	return neck_candidate_compare(a, b);
}

static int by_place(const void *left, const void *right)
{
	const struct geo_neck *a = left, *b = right;
	if (a->face != b->face)
		return a->face < b->face ? -1 : 1;
	for (int i = 0; i < 2; i++) {
		const struct geo_foot *p = &a->feet[i], *q = &b->feet[i];
		if (p->half_edge != q->half_edge)
			return p->half_edge < q->half_edge ? -1 : 1;
		if (p->at.x != q->at.x)
			return p->at.x < q->at.x ? -1 : 1;
		if (p->at.y != q->at.y)
			return p->at.y < q->at.y ? -1 : 1;
	}
	return 0;
}

static struct geo_vector place(const struct geo_arrangement *arrangement, uint32_t node)
{
	return (struct geo_vector){arrangement->nodes[node].x, arrangement->nodes[node].y};
}

struct corner {
	uint32_t node, face, half;
};

static int by_node(const void *left, const void *right)
{
	const struct corner *a = left, *b = right;
	if (a->node != b->node)
		return a->node < b->node ? -1 : 1;
	if (a->face != b->face)
		return a->face < b->face ? -1 : 1;
	return a->half < b->half ? -1 : a->half > b->half;
}

/* How many kept half-edges start at each node. */
static uint8_t *count_starts(const struct neck_walls *walls)
{
	const struct geo_arrangement *arrangement = walls->arrangement;
	uint8_t *starts = calloc((size_t)arrangement->node_count + 1, 1);
	if (!starts)
		return NULL;
	for (uint32_t half = 0; half < 2 * arrangement->edge_count; half++) {
		uint8_t *at = &starts[geo_half_edge_from(arrangement, half)];
		if (walls->kept[arrangement->face[half]] && *at < 2)
			++*at;
	}
	return starts;
}

static int add_contact(struct finder *finder, const struct corner *corner, uint32_t other)
{
	struct geo_vector at = place(finder->walls.arrangement, corner->node);
	struct geo_neck neck = {GEO_CONTACT, corner->face, {{at, corner->half}, {at, other}}, 0,
				0,           {at, at}};
	return add(finder, &neck);
}

/* One contact where two or more corners of a face meet in a node. */
static int add_contacts(struct finder *finder, struct corner *corners, uint32_t count)
{
	qsort(corners, count, sizeof *corners, by_node);
	for (uint32_t i = 1; i < count; i++) {
		const struct corner *a = &corners[i - 1], *b = &corners[i];
		bool first =
			i < 2 || corners[i - 2].node != a->node || corners[i - 2].face != a->face;
		if (first && a->node == b->node && a->face == b->face)
			if (add_contact(finder, a, b->half) < 0)
				return -1;
	}
	return 0;
}

static int find_contacts(struct finder *finder)
{
	const struct geo_arrangement *arrangement = finder->walls.arrangement;
	uint8_t *starts = count_starts(&finder->walls);
	if (!starts)
		return -1;
	uint32_t count = 0, halves = 2 * arrangement->edge_count;
	for (uint32_t half = 0; half < halves; half++)
		count += starts[geo_half_edge_from(arrangement, half)] > 1;
	struct corner *corners = malloc(((size_t)count + 1) * sizeof *corners);
	count = 0;
	for (uint32_t half = 0; corners && half < halves; half++) {
		uint32_t node = geo_half_edge_from(arrangement, half);
		if (starts[node] > 1 && finder->walls.kept[arrangement->face[half]])
			corners[count++] = (struct corner){node, arrangement->face[half], half};
	}
	int result = corners ? add_contacts(finder, corners, count) : -1;
	free(corners);
	free(starts);
	return result;
}

/* Both feet where the walk over a plateau is half way, or else at the candidate's own place. */
static int set_feet(struct finder *finder, uint32_t number, const struct neck_side sides[2],
		    struct geo_neck *neck)
{
	double off = 0;
	if (sides[0].flat + sides[1].flat > PLATEAU * neck->width && !sides[0].closed)
		off = (sides[1].flat - sides[0].flat) / 2;
	return neck_walk_feet(finder->walker, number, off > 0, fabs(off), neck->feet);
}

/*
 * Whether a side on which the width does not rise is a free end: the axis ends within about a
 * width, as it does in a square or round end, and not in a long taper or a narrower corridor. 1, 0,
 * or -1 where memory ran out.
 */
static int is_free_end(struct finder *finder, uint32_t number, const struct neck_side *walked)
{
	double farthest = walked->length + END * finder->candidates.items[number].width;
	struct neck_side on;
	if (!walked->fell)
		return 1;
	if (neck_walk_on(finder->walker, farthest, &on) < 0)
		return -1;
	return on.outcome == NECK_FALLS && !on.forked && !on.stopped;
}

static int add_neck(struct finder *finder, uint32_t number, const struct neck_side sides[2],
		    bool strip)
{
	const struct neck_candidate *candidate = &finder->candidates.items[number];
	double length = sides[0].closed ? sides[0].length : sides[0].length + sides[1].length;
	struct geo_neck neck = {.kind = strip ? GEO_STRIP : GEO_NECK, .width = candidate->width};
	if (strip && length <= candidate->width)
		return 0;
	neck.face = finder->walls.arrangement->face[neck_half(candidate->a)];
	neck.length = length > candidate->width ? length : 0;
	neck.ends[0] = sides[0].end;
	neck.ends[1] = sides[1].end;
	if (set_feet(finder, number, sides, &neck) < 0)
		return -1;
	return add(finder, &neck);
}

/* Walks to one side. 1 where a neck or strip may end like this, 0, or -1. */
static int take_side(struct finder *finder, uint32_t number, int side, struct neck_side *walked)
{
	if (neck_walk(finder->walker, number, side, walked) < 0)
		return -1;
	switch (walked->outcome) {
	case NECK_RISES:
		return 1;
	case NECK_FALLS:
		return walked->forked ? 0 : is_free_end(finder, number, walked);
	case NECK_MET:
		break;
	}
	return 0;
}

/* A walk that comes round to where it began has seen the other side too. */
static int judge(struct finder *finder, uint32_t number)
{
	struct neck_side sides[2];
	bool round = false;
	for (int i = 0; i < 2; i++) {
		int may_be = round ? 1 : take_side(finder, number, i, &sides[i]);
		if (may_be <= 0)
			return may_be;
		if (round)
			sides[i] = sides[0];
		round = sides[i].closed && sides[i].outcome == NECK_FALLS;
	}
	bool rises = sides[0].outcome == NECK_RISES && sides[1].outcome == NECK_RISES;
	if (rises && !neck_is_corner(finder->candidates.items[number].a))
		return 0;
	return add_neck(finder, number, sides, !rises);
}

static int find_necks(struct finder *finder)
{
	struct neck_candidates *candidates = &finder->candidates;
	if (neck_probe(&finder->walls, finder->search, candidates) < 0)
		return -1;
	if (candidates->count == 0)
		return 0;
	qsort(candidates->items, candidates->count, sizeof *candidates->items, by_group);
	finder->walker = neck_walker_create(&finder->walls, finder->search, candidates);
	if (!finder->walker)
		return -1;
	for (uint32_t i = 0; i < candidates->count; i++)
		if (!candidates->items[i].dead && judge(finder, i) < 0)
			return -1;
	return 0;
}

int geo_necks_find(const struct geo_arrangement *arrangement, const struct geo_neck_search *search,
		   struct geo_necks *out)
{
	struct finder finder = {.search = search, .out = out};
	*out = (struct geo_necks){0};
	int result = neck_walls_init(&finder.walls, arrangement, search->kept);
	if (result == 0)
		result = find_contacts(&finder);
	if (result == 0)
		result = find_necks(&finder);
	if (result == 0 && out->count > 0)
		qsort(out->items, out->count, sizeof *out->items, by_place);
	neck_walker_destroy(finder.walker);
	free(finder.candidates.items);
	neck_walls_finish(&finder.walls);
	if (result < 0)
		geo_necks_finish(out);
	return result;
}

void geo_necks_finish(struct geo_necks *necks)
{
	free(necks->items);
	*necks = (struct geo_necks){0};
}
