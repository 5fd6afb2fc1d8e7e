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

static void free_blocks(struct block *block)
{
	while (block) {
		struct block *before = block->before;
		free(block);
		block = before;
	}
}

void arena_destroy(struct arena *arena)
{
	if (!arena)
		return;
	free_blocks(arena->last);
	free(arena);
}

void arena_empty(struct arena *arena)
{
	struct block *kept = arena->last;
	if (!kept)
		return;
	free_blocks(kept->before);
	kept->before = NULL;
	memset(kept->bytes, 0, kept->used);
	kept->used = 0;
	arena->total = sizeof(*kept) + kept->size;
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

static void *take(struct arena *arena, size_t bytes, size_t align)
{
	struct block *block = arena->last;
	size_t start = block ? (block->used + align - 1) & ~(align - 1) : 0;
	if (!block || start > block->size || block->size - start < bytes) {
		block = add_block(arena, bytes > BLOCK_SIZE ? bytes : BLOCK_SIZE);
		start = 0;
	}
	if (!block)
		return NULL;
	block->used = start + bytes;
	return block->bytes + start;
}

void *arena_take(struct arena *arena, size_t count, size_t size)
{
	if (size && count > (SIZE_MAX / 2) / size)
		return NULL;
	return take(arena, count * size, alignof(max_align_t));
}

/* A large array has a block of its own, which the system can make longer where it is. */
static struct block **own_block(struct arena *arena, const void *taken, size_t bytes)
{
	struct block **link = &arena->last;
	if (bytes <= BLOCK_SIZE)
		return NULL;
	while (*link && (*link)->bytes != taken)
		link = &(*link)->before;
	return *link ? link : NULL;
}

void *arena_lengthen(struct arena *arena, void *taken, size_t before, size_t after)
{
	struct block **link = own_block(arena, taken, before);
	if (link) {
		struct block *block = realloc(*link, sizeof(*block) + after);
		if (!block)
			return NULL;
		arena->total += after - block->size;
		block->used = block->size = after;
		*link = block;
		return block->bytes;
	}
	void *longer = arena_take(arena, after, 1);
	if (longer && before)
		memcpy(longer, taken, before);
	return longer;
}

/* Texts stand one behind the other: most are short, and there are many. */
char *arena_copy(struct arena *arena, const char *text, size_t length)
{
	char *copy = length < SIZE_MAX / 2 ? take(arena, length + 1, 1) : NULL;
	if (copy && length)
		memcpy(copy, text, length);
	return copy;
}

size_t arena_size(const struct arena *arena)
{
	return arena->total;
}
