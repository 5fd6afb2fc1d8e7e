#include "engine/grow.h"

#include <string.h>

void *list_grow(struct arena *arena, void *items, uint32_t count, uint32_t *capacity, size_t size)
{
	if (count < *capacity)
		return items;
	if (*capacity > UINT32_MAX / 2)
		return NULL;
	uint32_t wanted = *capacity ? *capacity * 2 : 8;
	void *grown = arena_take(arena, wanted, size);
	if (!grown)
		return NULL;
	if (count)
		memcpy(grown, items, count * size);
	*capacity = wanted;
	return grown;
}
