/* permute.h - puts the items of an array in another order without a second array. */
#ifndef BASE_PERMUTE_H
#define BASE_PERMUTE_H

#include <stddef.h>
#include <stdint.h>

/*
 * Makes items[from[i]] the item i, for all i at once. `from` holds each number below `count` once;
 * it is used up.
 */
void permute(void *items, size_t size, uint32_t *from, uint32_t count);

#endif
