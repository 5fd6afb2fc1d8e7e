/* arena.h - memory that is freed all at once: what lives as long as a design, a job or a run. */
#ifndef BASE_ARENA_H
#define BASE_ARENA_H

#include <stddef.h>

struct arena;

/* NULL where memory ran out. */
struct arena *arena_create(void);

/* Frees the arena and all that was taken from it. Takes NULL. */
void arena_destroy(struct arena *arena);

/*
 * Gives back all that was taken, so that a loop needs no more memory than its largest step. What is
 * taken next may lie in the same place.
 */
void arena_empty(struct arena *arena);

/* Zeroed, aligned for any type. NULL where memory ran out or count * size overflows. */
void *arena_take(struct arena *arena, size_t count, size_t size);

/*
 * Makes an array that was taken longer, from `before` to `after` bytes, where it is or moved; what
 * is new is not set. NULL where memory ran out; then the array stays as it is.
 */
void *arena_lengthen(struct arena *arena, void *taken, size_t before, size_t after);

/* A copy of `length` bytes with a NUL behind them. NULL where memory ran out. */
char *arena_copy(struct arena *arena, const char *text, size_t length);

/* Bytes taken from the system so far. */
size_t arena_size(const struct arena *arena);

#define ARENA_NEW(arena, type)          ((type *)arena_take((arena), 1, sizeof(type)))
#define ARENA_ARRAY(arena, type, count) ((type *)arena_take((arena), (count), sizeof(type)))

#endif
