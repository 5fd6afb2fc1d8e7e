/* entity.h - the entities that a drawing declares, and how much text each one makes. */
#ifndef SVG_ENTITY_H
#define SVG_ENTITY_H

#include <stdbool.h>

#include "svg/table.h"

struct svg_entity {
	const char *text; /* what it stands for; references in it are not followed */
	uint32_t length;  /* bytes of it with all references followed; CUTLINT_NONE: not known */
	bool asked;       /* the length was looked for, or is being looked for */
};

/* Start from {0}. */
struct svg_entities {
	struct svg_table names; /* to places in `items` */
	struct svg_entity *items;
	uint32_t count, capacity;
};

/*
 * Keeps an internal entity. The first of a name counts (XML 1.0, 4.2). 0, or -1 where memory ran
 * out.
 */
int svg_entities_declare(struct svg_entities *entities, struct arena *arena, const char *name,
			 const char *text);

/*
 * Bytes that a reference to the entity makes of an attribute's value (XML 1.0, 3.3.3 and 4.4.5).
 * CUTLINT_NONE where nothing declares it, or where it holds itself.
 */
uint32_t svg_entity_length(struct svg_entities *entities, const char *name, size_t length);

void svg_entities_finish(struct svg_entities *entities);

#endif
