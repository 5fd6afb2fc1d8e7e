#include "geometry/match-cover.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* The first item that ends at or after a place. */
static size_t first_after(const struct geo_cover *cover, double at)
{
	size_t low = 0, high = cover->count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (cover->items[middle].to < at)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

int geo_cover_add(struct geo_cover *cover, double from, double to)
{
	if (cover->count == cover->capacity) {
		size_t capacity = 2 * cover->capacity + 8;
		struct geo_interval *items = realloc(cover->items, capacity * sizeof *items);
		if (!items)
			return -1;
		cover->items = items;
		cover->capacity = capacity;
	}
	size_t first = first_after(cover, from), last = first;
	for (; last < cover->count && cover->items[last].from <= to; last++) {
		from = fmin(from, cover->items[last].from);
		to = fmax(to, cover->items[last].to);
	}
	memmove(cover->items + first + 1, cover->items + last,
		(cover->count - last) * sizeof *cover->items);
	cover->items[first] = (struct geo_interval){from, to};
	cover->count += 1 - (last - first);
	return 0;
}

struct geo_interval geo_cover_gap(const struct geo_cover *cover, double from, double to)
{
	struct geo_interval best = {from, from};
	for (size_t i = first_after(cover, from); from < to; i++) {
		bool last = i == cover->count || cover->items[i].from >= to;
		double end = last ? to : cover->items[i].from;
		if (end - from > best.to - best.from)
			best = (struct geo_interval){from, end};
		if (last)
			break;
		from = cover->items[i].to;
	}
	return best;
}
