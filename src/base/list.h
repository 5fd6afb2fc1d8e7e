/* list.h - arrays that grow by half. */
#ifndef BASE_LIST_H
#define BASE_LIST_H

#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/*
 * Makes room for one more item of `size` bytes. `array` points to the pointer to the items, which
 * is from malloc or NULL. Where memory ran out returns false and the items stay.
 */
static inline bool list_room(void *array, uint32_t count, uint32_t *capacity, size_t size)
{
	if (count < *capacity)
		return true;
	uint64_t wanted = *capacity ? (uint64_t)*capacity + *capacity / 2 : 64;
	if (wanted > UINT32_MAX || wanted > SIZE_MAX / size)
		return false;
	void *items;
	memcpy(&items, array, sizeof(items));
	items = realloc(items, (size_t)wanted * size);
	if (!items)
		return false;
	memcpy(array, &items, sizeof(items));
	*capacity = (uint32_t)wanted;
	return true;
}

/* Puts an item behind the last one; false where memory ran out. */
#define LIST_ADD(items, count, capacity, ...)                                                      \
	(list_room(&(items), (count), &(capacity), sizeof(*(items)))                               \
		 ? ((items)[(count)++] = __VA_ARGS__, true)                                        \
		 : false)

#endif
