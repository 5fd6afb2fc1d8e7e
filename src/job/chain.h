/* chain.h - the elements, from the root down, that lead to a shape. */
#ifndef JOB_CHAIN_H
#define JOB_CHAIN_H

#include "base/text.h"
#include "cutlint/model.h"

/* Start from {0}; free `elements` with free(). */
struct chain {
	const struct cutlint_element **elements;
	size_t count, capacity;
};

/*
 * Sets the chain to the shape's own. For an instance: from the root down to the outermost `use`,
 * then for each further `use` and at last for the drawn element, from the element that the `use`
 * before it names down to itself. Returns 0, or -1 where memory ran out.
 */
int chain_set(struct chain *chain, const struct cutlint_shape *shape);

/*
 * Adds an element's own names to a path of names: its id, each of its classes, its label, with `/`
 * before each but the path's first. Empty ones add nothing.
 */
void chain_add_names(struct text *path, const struct cutlint_element *element);

#endif
