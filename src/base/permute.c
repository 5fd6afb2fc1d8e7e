#include "base/permute.h"

#include <string.h>

static void swap(unsigned char *a, unsigned char *b, size_t size)
{
	unsigned char held[64];
	for (size_t done = 0; done < size; done += sizeof(held)) {
		size_t step = size - done < sizeof(held) ? size - done : sizeof(held);
		memcpy(held, a + done, step);
		memcpy(a + done, b + done, step);
		memcpy(b + done, held, step);
	}
}

void permute(void *items, size_t size, uint32_t *from, uint32_t count)
{
	unsigned char *bytes = items;
	for (uint32_t i = 0; i < count; i++) {
		for (uint32_t at = i; from[at] != at;) {
			uint32_t next = from[at];
			from[at] = at;
			if (next == i)
				break;
			swap(bytes + at * size, bytes + next * size, size);
			at = next;
		}
	}
}
