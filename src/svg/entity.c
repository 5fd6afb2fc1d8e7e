#include "svg/entity.h"

#include <stdlib.h>
#include <string.h>

#include "base/list.h"
#include "cutlint/model.h"

/* Entities in each other; the XML parser follows no more. */
#define MOST_DEPTH 1024

int svg_entities_declare(struct svg_entities *entities, struct arena *arena, const char *name,
			 const char *text)
{
	struct svg_entry *entry = svg_table_put(&entities->names, arena, name, strlen(name));
	if (!entry)
		return -1;
	if (entry->value != CUTLINT_NONE)
		return 0;
	entry->value = entities->count;
	struct svg_entity entity = {.text = arena_copy(arena, text, strlen(text)),
				    .length = CUTLINT_NONE};
	bool kept = entity.text &&
		    LIST_ADD(entities->items, entities->count, entities->capacity, entity);
	return kept ? 0 : -1;
}

/* Bytes in UTF-8 of the character that a reference such as "#65" or "#x41" names. */
static uint32_t character_length(const char *digits)
{
	bool hexadecimal = digits[1] == 'x';
	unsigned long code = strtoul(digits + (hexadecimal ? 2 : 1), NULL, hexadecimal ? 16 : 10);
	return code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
}

static bool is_predefined(const char *name, size_t length)
{
	static const char *const NAMES[] = {"lt", "gt", "amp", "quot", "apos"};
	for (size_t i = 0; i < sizeof(NAMES) / sizeof(*NAMES); i++) {
		if (strlen(NAMES[i]) == length && memcmp(NAMES[i], name, length) == 0)
			return true;
	}
	return false;
}

static uint32_t find_length(struct svg_entities *entities, const char *name, size_t length,
			    unsigned depth);

/* The sum over the text and what its references make; CUTLINT_NONE where one is not known. */
static uint32_t expanded_length(struct svg_entities *entities, const char *text, unsigned depth)
{
	uint64_t sum = 0;
	for (; *text; text++) {
		const char *close = *text == '&' ? strchr(text, ';') : NULL;
		if (!close) {
			sum++;
			continue;
		}
		uint32_t made =
			find_length(entities, text + 1, (size_t)(close - text) - 1, depth + 1);
		if (made == CUTLINT_NONE)
			return CUTLINT_NONE;
		sum += made;
		text = close;
	}
	return sum < CUTLINT_NONE ? (uint32_t)sum : CUTLINT_NONE;
}

static uint32_t find_length(struct svg_entities *entities, const char *name, size_t length,
			    unsigned depth)
{
	if (length && *name == '#')
		return character_length(name);
	if (is_predefined(name, length))
		return 1;
	const struct svg_entry *entry = svg_table_get(&entities->names, name, length);
	if (!entry || depth > MOST_DEPTH)
		return CUTLINT_NONE;
	struct svg_entity *entity = &entities->items[entry->value];
	if (!entity->asked) {
		entity->asked = true;
		entity->length = expanded_length(entities, entity->text, depth);
	}
	return entity->length;
}

uint32_t svg_entity_length(struct svg_entities *entities, const char *name, size_t length)
{
	return find_length(entities, name, length, 0);
}

void svg_entities_finish(struct svg_entities *entities)
{
	svg_table_finish(&entities->names);
	free(entities->items);
	*entities = (struct svg_entities){0};
}
