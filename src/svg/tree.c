#include "svg/tree.h"

#include <stdlib.h>
#include <string.h>

#include "base/list.h"
#include "base/text.h"
#include "svg/lexer.h"

static const char LABEL[] = "label";

static const char *intern(struct svg_tree *tree, const char *name, size_t length)
{
	struct svg_entry *entry = svg_table_put(&tree->names, tree->document->arena, name, length);
	if (entry && entry->value == CUTLINT_NONE)
		entry->value = tree->names.count - 1;
	return entry ? entry->key : NULL;
}

const char *svg_tree_name(struct svg_tree *tree, const char *name)
{
	return intern(tree, name, strlen(name));
}

static const char *intern_qualified(struct svg_tree *tree, const char *prefix, const char *name)
{
	if (!prefix)
		return intern(tree, name, strlen(name));
	struct text text = {0};
	text_format(&text, "%s:%s", prefix, name);
	const char *kept = text.failed ? NULL : intern(tree, text.bytes, text.length);
	text_finish(&text);
	return kept;
}

/* Finds where an attribute stands: those of the parser and of the tag are in the same order. */
static void find_spans(struct svg_lexer *lexer, const char *name, struct cutlint_attribute *out)
{
	struct cutlint_span name_span, value_span;
	size_t length = strlen(name);
	struct svg_lexer ahead = *lexer;
	while (svg_lexer_next(&ahead, &name_span, &value_span)) {
		if (name_span.length == length &&
		    memcmp(ahead.bytes + name_span.byte, name, length) == 0) {
			out->name_span = name_span;
			out->value_span = value_span;
			*lexer = ahead;
			return;
		}
	}
}

static void note_attribute(struct cutlint_element *element, const char *local, const char *prefix,
			   const char *value)
{
	if (strcmp(local, LABEL) == 0 && (!element->label || !prefix))
		element->label = value;
	if (!prefix && strcmp(local, "class") == 0)
		element->classes = value;
	if (!prefix && strcmp(local, "id") == 0)
		element->id = value;
}

static bool is_remark(const char *namespace)
{
	return namespace && strcmp(namespace, REMARK_NAMESPACE) == 0;
}

static bool keep_remark(struct svg_document *document, const struct cutlint_element *element,
			const struct cutlint_attribute *attribute)
{
	struct remark remark = {element, attribute};
	return LIST_ADD(document->remarks, document->remark_count, document->remark_capacity,
			remark);
}

static bool read_attributes(struct svg_tree *tree, struct cutlint_element *element,
			    const struct svg_start *start)
{
	struct arena *arena = tree->document->arena;
	uint32_t count = start->attribute_count;
	struct cutlint_attribute *items = ARENA_ARRAY(arena, struct cutlint_attribute, count);
	if (!items)
		return false;
	struct svg_lexer lexer = svg_lexer_start(tree->document->source.bytes, start->span);
	for (uint32_t i = 0; i < count; i++) {
		const char *const *parts = start->attributes + 5 * (size_t)i;
		size_t length = (size_t)(parts[4] - parts[3]);
		items[i].name = intern_qualified(tree, parts[1], parts[0]);
		items[i].value = arena_copy(arena, parts[3], length);
		if (!items[i].name || !items[i].value)
			return false;
		if (start->from_entity || i >= count - start->default_count)
			items[i].name_span = items[i].value_span = start->span;
		else
			find_spans(&lexer, items[i].name, &items[i]);
		if (is_remark(parts[2]) && !keep_remark(tree->document, element, &items[i]))
			return false;
		note_attribute(element, parts[0], parts[1], items[i].value);
	}
	element->attributes = items;
	element->attribute_count = count;
	return true;
}

static bool keep_id(struct svg_document *document, const struct cutlint_element *element)
{
	if (!element->id || !*element->id)
		return true;
	struct svg_entry *entry =
		svg_table_put_kept(&document->ids, element->id, strlen(element->id));
	if (entry && entry->value == CUTLINT_NONE)
		entry->value = element->index;
	return entry != NULL;
}

/* Puts it last. */
static bool append(struct svg_document *document, struct cutlint_element *element)
{
	uint32_t node_count = document->count;
	struct svg_node node = {0};
	element->index = document->count;
	return LIST_ADD(document->nodes, node_count, document->node_capacity, node) &&
	       LIST_ADD(document->elements, document->count, document->element_capacity, element);
}

struct cutlint_element *svg_tree_add(struct svg_tree *tree, const struct svg_start *start)
{
	struct svg_document *document = tree->document;
	struct cutlint_element *element = ARENA_NEW(document->arena, struct cutlint_element);
	if (!element)
		return NULL;
	bool root = start->parent == CUTLINT_NONE;
	element->parent = root ? NULL : document->elements[start->parent];
	element->tag = intern(tree, start->tag, strlen(start->tag));
	element->from_entity = start->from_entity;
	element->start_tag = start->span;
	bool whole = element->tag && append(document, element) &&
		     read_attributes(tree, element, start) && keep_id(document, element);
	return whole ? element : NULL;
}

/* How many children of each tag the parent has so far; a count holds for the parent it names. */
struct tag_count {
	uint32_t parent, count;
};

static void number_children(struct svg_tree *tree, uint32_t parent, struct tag_count *counts)
{
	struct svg_document *document = tree->document;
	uint32_t after = document->nodes[parent].after;
	for (uint32_t i = parent + 1; i < after; i = svg_next_sibling(document, i)) {
		struct cutlint_element *element = document->elements[i];
		const struct svg_entry *name =
			svg_table_get(&tree->names, element->tag, strlen(element->tag));
		struct tag_count *count = &counts[name->value];
		if (count->parent != parent)
			*count = (struct tag_count){parent, 0};
		element->nth = ++count->count;
	}
}

int svg_tree_number(struct svg_tree *tree)
{
	struct svg_document *document = tree->document;
	struct tag_count *counts = calloc((size_t)tree->names.count + 1, sizeof(*counts));
	if (!counts)
		return -1;
	for (uint32_t i = 0; i < document->count; i++)
		number_children(tree, i, counts);
	if (document->count)
		document->elements[0]->nth = 1;
	free(counts);
	return 0;
}

void svg_tree_finish(struct svg_tree *tree)
{
	svg_table_finish(&tree->names);
}
