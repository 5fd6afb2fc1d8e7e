#include "base/arena.h"

#include <stdalign.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define BLOCK_SIZE ((size_t)64 * 1024)

struct block {
	struct block *before;
	size_t used, size;
	alignas(max_align_t) unsigned char bytes[];
};

struct arena {
	struct block *last;
	size_t total;
};

struct arena *arena_create(void)
{
	return calloc(1, sizeof(struct arena));
}

void arena_destroy(struct arena *arena)
{
	if (!arena)
		return;
	for (struct block *block = arena->last; block;) {
		struct block *before = block->before;
		free(block);
		block = before;
	}
	free(arena);
}

static struct block *add_block(struct arena *arena, size_t size)
{
	struct block *block = calloc(1, sizeof(*block) + size);
	if (!block)
		return NULL;
	block->size = size;
	arena->total += sizeof(*block) + size;

	/* A large block goes behind the last, whose free room stays in use. */
	if (arena->last && size > BLOCK_SIZE) {
		block->before = arena->last->before;
		arena->last->before = block;
	} else {
		block->before = arena->last;
		arena->last = block;
	}
	return block;
}

void *arena_take(struct arena *arena, size_t count, size_t size)
{
	const size_t align = alignof(max_align_t);
	if (size && count > (SIZE_MAX / 2) / size)
		return NULL;
	size_t bytes = (count * size + align - 1) & ~(align - 1);

	struct block *block = arena->last;
	if (!block || block->size - block->used < bytes) {
		block = add_block(arena, bytes > BLOCK_SIZE ? bytes : BLOCK_SIZE);
		if (!block)
			return NULL;
	}
	void *taken = block->bytes + block->used;
	block->used += bytes;
	return taken;
}

char *arena_copy(struct arena *arena, const char *text, size_t length)
{
	char *copy = length < SIZE_MAX ? arena_take(arena, length + 1, 1) : NULL;
	if (copy && length)
		memcpy(copy, text, length);
	return copy;
}

size_t arena_size(const struct arena *arena)
{
	return arena->total;
}
