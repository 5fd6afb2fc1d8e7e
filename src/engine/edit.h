/* edit.h - which stretches of a drawing's text an edit may take out. */
#ifndef ENGINE_EDIT_H
#define ENGINE_EDIT_H

#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "cutlint/model.h"

/* What must be known of a drawing first. Start from {0}. */
struct edit_facts {
	struct edit_id {
		const char *text; /* not terminated */
		size_t length;
	} * ids; /* that attributes refer to, sorted */
	uint32_t count, capacity;
	uint32_t *drawn; /* how many shapes each element makes; NULL: nothing is known yet */
};

/*
 * What can be deleted so that an element is gone and nothing else: its text, with its line where it
 * stands alone on it. Length 0 where it has content, stands in an entity, is drawn more than once,
 * or its id is referred to; and where memory ran out, for what can't be told is not edited.
 */
struct cutlint_span edit_element_span(struct edit_facts *facts, struct arena *arena,
				      const struct cutlint_design *design,
				      const struct cutlint_element *element);

#endif
