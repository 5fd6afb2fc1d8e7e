/* sets.h - disjoint sets over numbers, each named by its lowest member. */
#ifndef SHEET_SETS_H
#define SHEET_SETS_H

#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"

/* `count` sets of one. NULL where memory ran out. */
static inline uint32_t *sets_create(struct arena *arena, uint32_t count)
{
	uint32_t *sets = ARENA_ARRAY(arena, uint32_t, (size_t)count + 1);
	for (uint32_t i = 0; sets && i < count; i++)
		sets[i] = i;
	return sets;
}

static inline uint32_t sets_find(uint32_t *sets, uint32_t member)
{
	while (sets[member] != member) {
		sets[member] = sets[sets[member]];
		member = sets[member];
	}
	return member;
}

static inline void sets_join(uint32_t *sets, uint32_t a, uint32_t b)
{
	a = sets_find(sets, a);
	b = sets_find(sets, b);
	if (a < b)
		sets[b] = a;
	else
		sets[a] = b;
}

#endif
