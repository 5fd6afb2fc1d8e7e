#include "geometry/match-boxes.h"

#include <math.h>
#include <stdlib.h>

static struct geo_box box_of(const struct geo_tracks *tracks, uint32_t chain)
{
	const struct geo_track *track = &tracks->chains[chain];
	struct geo_box box = {INT32_MAX, INT32_MAX, INT32_MIN, INT32_MIN};
	for (uint32_t i = 0; i < track->count; i++) {
		struct cutlint_point at = tracks->segments[track->first + i].from;
		geo_box_join(&box, geo_box_of(at, at));
	}
	return box;
}

/* Points lie within 2^31 nm of 0, so that cells of 4 nm and more have numbers that fit. */
static uint32_t cell_of(const struct geo_boxes *boxes, double at)
{
	return (uint32_t)fmax(0, floor((at + 0x1p32) / fmax(boxes->reach, 4)));
}

static uint64_t cell_at(uint32_t column, uint32_t row)
{
	return (uint64_t)row << 32 | column;
}

static int by_cell(const void *left, const void *right)
{
	const struct geo_box_place *a = left, *b = right;
	if (a->cell != b->cell)
		return a->cell < b->cell ? -1 : 1;
	return (a->chain > b->chain) - (a->chain < b->chain);
}

int geo_boxes_init(struct geo_boxes *boxes, const struct geo_tracks *tracks, double reach)
{
	size_t chains = (size_t)tracks->chain_count + 1;
	*boxes = (struct geo_boxes){.tracks = tracks, .reach = reach};
	boxes->of = malloc(chains * sizeof *boxes->of);
	boxes->places = malloc(chains * sizeof *boxes->places);
	if (!boxes->of || !boxes->places)
		return -1;
	for (uint32_t chain = 0; chain < tracks->chain_count; chain++) {
		boxes->of[chain] = box_of(tracks, chain);
		if (!tracks->chains[chain].closed || tracks->chains[chain].count == 0)
			continue;
		uint32_t column = cell_of(boxes, boxes->of[chain].left);
		uint32_t row = cell_of(boxes, boxes->of[chain].low);
		boxes->places[boxes->count++] = (struct geo_box_place){cell_at(column, row), chain};
	}
	if (boxes->count)
		qsort(boxes->places, boxes->count, sizeof *boxes->places, by_cell);
	return 0;
}

void geo_boxes_finish(struct geo_boxes *boxes)
{
	free(boxes->of);
	free(boxes->places);
}

bool geo_boxes_fit(const struct geo_boxes *boxes, uint32_t outer, uint32_t inner)
{
	struct geo_box a = boxes->of[outer], b = boxes->of[inner];
	struct cutlint_point start =
		boxes->tracks->segments[boxes->tracks->chains[inner].first].from;
	double reach = boxes->reach;
	return geo_box_holds(a, start) && a.left >= b.left - reach && a.right <= b.right + reach &&
	       a.low >= b.low - reach && a.high <= b.high + reach;
}

/* The first box in a cell or beyond it. */
static uint32_t first_place(const struct geo_boxes *boxes, uint64_t cell)
{
	uint32_t low = 0, high = boxes->count;
	while (low < high) {
		uint32_t middle = low + (high - low) / 2;
		if (boxes->places[middle].cell < cell)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

bool geo_boxes_any_fits(const struct geo_boxes *boxes, uint32_t inner)
{
	struct geo_box box = boxes->of[inner];
	struct cutlint_point start =
		boxes->tracks->segments[boxes->tracks->chains[inner].first].from;
	uint32_t left = cell_of(boxes, box.left - boxes->reach), right = cell_of(boxes, start.x);
	uint32_t top = cell_of(boxes, box.low - boxes->reach), bottom = cell_of(boxes, start.y);
	for (uint32_t row = top; row <= bottom; row++) {
		uint32_t i = first_place(boxes, cell_at(left, row));
		for (; i < boxes->count && boxes->places[i].cell <= cell_at(right, row); i++) {
			uint32_t outer = boxes->places[i].chain;
			if (outer != inner && geo_boxes_fit(boxes, outer, inner))
				return true;
		}
	}
	return false;
}
