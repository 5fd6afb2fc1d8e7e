#include "engine/clue.h"

#include <math.h>
#include <stdlib.h>

#include "engine/grow.h"

/* FNV-1a, 64 bits. */
static const uint64_t OFFSET = UINT64_C(14695981039346656037);
static const uint64_t PRIME = UINT64_C(1099511628211);

uint64_t clue_key(const char *element)
{
	uint64_t key = OFFSET;
	for (; *element; element++)
		key = (key ^ (unsigned char)*element) * PRIME;
	return key;
}

uint64_t clue_cell_key(const struct finding_place *place, double cell_mm, int across, int down)
{
	int64_t column = (int64_t)floor(place->at.x / cell_mm) + across;
	int64_t row = (int64_t)floor(place->at.y / cell_mm) + down;
	uint64_t key = clue_key(place->element);
	key = (key ^ (uint64_t)column) * PRIME;
	return (key ^ (key >> 32) ^ (uint64_t)row) * PRIME;
}

int clues_add(struct arena *arena, struct clues *clues, const struct clue *clue)
{
	struct clue *items =
		list_grow(arena, clues->items, clues->count, &clues->capacity, sizeof(*items));
	if (!items)
		return -1;
	clues->items = items;
	items[clues->count++] = *clue;
	return 0;
}

static int compare(const void *left, const void *right)
{
	const struct clue *a = left, *b = right;
	if (a->key != b->key)
		return a->key < b->key ? -1 : 1;
	return (a->value > b->value) - (a->value < b->value);
}

void clues_sort(struct clues *clues)
{
	if (clues->count)
		qsort(clues->items, clues->count, sizeof(*clues->items), compare);
}

uint32_t clues_first(const struct clues *clues, uint64_t key, double least)
{
	uint32_t low = 0, high = clues->count;
	while (low < high) {
		uint32_t middle = low + (high - low) / 2;
		const struct clue *clue = &clues->items[middle];
		if (clue->key < key || (clue->key == key && clue->value < least))
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}
