#include "geometry/neck-pairs.h"

#include <stdlib.h>
#include <string.h>

/* The bits of a cache line of marks, and the wall features that share one. */
#define LINE     UINT32_C(512)
#define FEATURES 64

static uint64_t hash_of(neck_feature a, neck_feature b)
{
	uint64_t key = a < b ? (uint64_t)a << 32 | b : (uint64_t)b << 32 | a;
	key *= 0x9E3779B97F4A7C15U;
	return key ^ key >> 29;
}

static bool is_of(const struct neck_candidate *candidate, neck_feature a, neck_feature b)
{
	return (candidate->a == a && candidate->b == b) || (candidate->a == b && candidate->b == a);
}

/* The place of a pair's bit in marks: pairs of the same stretch of wall lie in one cache line, for
 * a walk asks for one after the other. */
static uint32_t mark_at(const struct neck_pairs *pairs, uint64_t hash, neck_feature a,
			neck_feature b)
{
	uint32_t line = (a < b ? a : b) / FEATURES * UINT32_C(0x9E3779B1);
	return ((line & ~(LINE - 1)) | ((uint32_t)(hash >> 20) & (LINE - 1))) &
	       (pairs->mask * 8 + 7);
}

/* The place of a pair in the table: its own, or an empty one. */
static uint32_t place_of(const struct neck_pairs *pairs, uint64_t hash, neck_feature a,
			 neck_feature b)
{
	uint32_t at = (uint32_t)hash & pairs->mask;
	while (pairs->table[at] != GEO_NONE &&
	       !is_of(&pairs->candidates->items[pairs->table[at]], a, b))
		at = (at + 1) & pairs->mask;
	return at;
}

/* Of two strips between the same edges, seen from either, the first stands for both. */
static void enter(struct neck_pairs *pairs, uint32_t number)
{
	struct neck_candidate *candidate = &pairs->candidates->items[number];
	uint64_t hash = hash_of(candidate->a, candidate->b);
	uint32_t mark = mark_at(pairs, hash, candidate->a, candidate->b);
	uint32_t at = place_of(pairs, hash, candidate->a, candidate->b);
	if (pairs->table[at] != GEO_NONE) {
		struct neck_candidate *other = &pairs->candidates->items[pairs->table[at]];
		bool first = neck_candidate_compare(candidate, other) < 0;
		*(first ? &other->dead : &candidate->dead) = true;
		if (!first)
			return;
	}
	pairs->table[at] = number;
	pairs->marks[mark / 8] |= (uint8_t)(1U << mark % 8);
}

int neck_pairs_init(struct neck_pairs *pairs, struct neck_candidates *candidates)
{
	uint32_t size = 16;
	while (size / 2 < candidates->count)
		size *= 2;
	pairs->candidates = candidates;
	pairs->mask = size - 1;
	pairs->table = malloc((size_t)size * sizeof *pairs->table);
	pairs->marks = calloc(size, 1);
	if (!pairs->table || !pairs->marks)
		return -1;
	memset(pairs->table, 0xff, (size_t)size * sizeof *pairs->table);
	for (uint32_t i = 0; i < candidates->count; i++)
		enter(pairs, i);
	return 0;
}

void neck_pairs_finish(struct neck_pairs *pairs)
{
	free(pairs->table);
	free(pairs->marks);
}

uint32_t neck_pairs_find(const struct neck_pairs *pairs, neck_feature a, neck_feature b)
{
	uint64_t hash = hash_of(a, b);
	uint32_t mark = mark_at(pairs, hash, a, b);
	if (!(pairs->marks[mark / 8] >> mark % 8 & 1))
		return GEO_NONE;
	return pairs->table[place_of(pairs, hash, a, b)];
}
