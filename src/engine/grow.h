/* grow.h - lists in an arena that grow by doubling. */
#ifndef ENGINE_GROW_H
#define ENGINE_GROW_H

#include <stdint.h>

#include "base/arena.h"

/*
 * Room for one more item of `size` bytes behind `count` of them: the items where there is room,
 * else the items made longer, maybe elsewhere. What is new is not set. NULL where memory ran out.
 */
void *list_grow(struct arena *arena, void *items, uint32_t count, uint32_t *capacity, size_t size);

#endif
