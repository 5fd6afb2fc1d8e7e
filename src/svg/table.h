/* table.h - a hash table from byte strings to numbers. */
#ifndef SVG_TABLE_H
#define SVG_TABLE_H

#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"

struct svg_entry {
	const char *key; /* NULL: a free place */
	uint32_t length, hash;
	uint32_t value;
};

/* Start from {0}. */
struct svg_table {
	struct svg_entry *entries;
	uint32_t capacity, count;
};

/*
 * The entry of a key. A new one copies the key into the arena, with a NUL behind it, and has the
 * value CUTLINT_NONE. Valid until the next call. NULL where memory ran out.
 */
struct svg_entry *svg_table_put(struct svg_table *table, struct arena *arena, const char *key,
				size_t length);

/* The same for a key that stays where it is: no copy is made. */
struct svg_entry *svg_table_put_kept(struct svg_table *table, const char *key, size_t length);

/* NULL where there is none. */
const struct svg_entry *svg_table_get(const struct svg_table *table, const char *key,
				      size_t length);

void svg_table_finish(struct svg_table *table);

#endif
