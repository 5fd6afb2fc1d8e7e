#include "engine/grow.h"

void *list_grow(struct arena *arena, void *items, uint32_t count, uint32_t *capacity, size_t size)
{
	if (count < *capacity)
		return items;
	if (*capacity > UINT32_MAX / 2)
		return NULL;
	uint32_t wanted = *capacity ? *capacity * 2 : 2;
	if (wanted > (SIZE_MAX / 2) / size)
		return NULL;
	void *grown = arena_lengthen(arena, items, *capacity * size, wanted * size);
	*capacity = grown ? wanted : *capacity;
	return grown;
}
