/* match-list.h - lists of results that grow. */
#ifndef GEOMETRY_MATCH_LIST_H
#define GEOMETRY_MATCH_LIST_H

#include <stdint.h>
#include <stdlib.h>

/* Makes room for one more item. The array, moved or not; NULL where memory ran out, and then the
 * old one stays. */
static inline void *geo_list_grow(void *items, uint32_t count, uint32_t *capacity, size_t size)
{
	if (count < *capacity)
		return items;
	uint32_t wanted = 2 * *capacity + 16;
	void *grown = wanted > count ? realloc(items, wanted * size) : NULL;
	if (grown)
		*capacity = wanted;
	return grown;
}

#endif
