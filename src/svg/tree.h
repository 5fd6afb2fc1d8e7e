/* tree.h - adds elements to a drawing in the order of their start tags. */
#ifndef SVG_TREE_H
#define SVG_TREE_H

#include "svg/document.h"

/* Start from {.document = ...}. */
struct svg_tree {
	struct svg_document *document;
	struct svg_table names; /* names that were seen, for one copy of each, numbered */
};

/* A start tag as the XML parser gives it. */
struct svg_start {
	const char *tag;  /* local name */
	uint32_t parent;  /* CUTLINT_NONE for the root */
	bool from_entity; /* stands in an entity's text; the span is that of the reference */
	struct cutlint_span span;
	const char *const *attributes; /* five each: local name, prefix, URI, value, its end */
	uint32_t attribute_count;
	uint32_t default_count; /* of them, the last ones, which the DOCTYPE gave */
};

/* NULL where memory ran out. */
struct cutlint_element *svg_tree_add(struct svg_tree *tree, const struct svg_start *start);

/* A name's one copy, which lives as long as the drawing. NULL where memory ran out. */
const char *svg_tree_name(struct svg_tree *tree, const char *name);

/* Once all stand: says of each element which child of its tag it is. 0, or -1 without memory. */
int svg_tree_number(struct svg_tree *tree);

void svg_tree_finish(struct svg_tree *tree);

#endif
