#include "svg/table.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "cutlint/point.h"

#define FIRST_CAPACITY 64u

/* FNV-1a, 32 bits, with a last mix so that the low bits serve as an index. */
static uint32_t hash_of(const char *key, size_t length)
{
	uint32_t hash = 2166136261u;
	for (size_t i = 0; i < length; i++)
		hash = (hash ^ (unsigned char)key[i]) * 16777619u;
	hash ^= hash >> 15;
	return hash * 2246822519u;
}

static struct svg_entry *place_of(struct svg_entry *entries, uint32_t capacity, const char *key,
				  size_t length, uint32_t hash)
{
	for (uint32_t at = hash;; at++) {
		struct svg_entry *entry = &entries[at & (capacity - 1)];
		if (!entry->key)
			return entry;
		if (entry->hash == hash && entry->length == length &&
		    memcmp(entry->key, key, length) == 0)
			return entry;
	}
}

static bool grow(struct svg_table *table)
{
	if (table->count < table->capacity / 2)
		return true;
	uint32_t capacity = table->capacity ? table->capacity * 2 : FIRST_CAPACITY;
	struct svg_entry *entries = capacity ? calloc(capacity, sizeof(*entries)) : NULL;
	if (!entries)
		return false;
	for (uint32_t i = 0; i < table->capacity; i++) {
		const struct svg_entry *old = &table->entries[i];
		if (old->key)
			*place_of(entries, capacity, old->key, old->length, old->hash) = *old;
	}
	free(table->entries);
	table->entries = entries;
	table->capacity = capacity;
	return true;
}

static struct svg_entry *put(struct svg_table *table, struct arena *arena, const char *key,
			     size_t length)
{
	if (!grow(table))
		return NULL;
	uint32_t hash = hash_of(key, length);
	struct svg_entry *entry = place_of(table->entries, table->capacity, key, length, hash);
	if (entry->key)
		return entry;

	const char *kept = arena ? arena_copy(arena, key, length) : key;
	if (!kept)
		return NULL;
	*entry = (struct svg_entry){
		.key = kept, .length = (uint32_t)length, .hash = hash, .value = CUTLINT_NONE};
	table->count++;
	return entry;
}

struct svg_entry *svg_table_put(struct svg_table *table, struct arena *arena, const char *key,
				size_t length)
{
	return put(table, arena, key, length);
}

struct svg_entry *svg_table_put_kept(struct svg_table *table, const char *key, size_t length)
{
	return put(table, NULL, key, length);
}

const struct svg_entry *svg_table_get(const struct svg_table *table, const char *key, size_t length)
{
	if (table->count == 0)
		return NULL;
	const struct svg_entry *entry =
		place_of(table->entries, table->capacity, key, length, hash_of(key, length));
	return entry->key ? entry : NULL;
}

void svg_table_finish(struct svg_table *table)
{
	free(table->entries);
	*table = (struct svg_table){0};
}
