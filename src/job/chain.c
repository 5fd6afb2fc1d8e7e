#include "job/chain.h"

#include <stdlib.h>
#include <string.h>

static int add(struct chain *chain, const struct cutlint_element *element)
{
	if (chain->count == chain->capacity) {
		size_t capacity = chain->capacity ? chain->capacity * 2 : 32;
		const struct cutlint_element **elements =
			realloc(chain->elements, capacity * sizeof(const struct cutlint_element *));
		if (!elements)
			return -1;
		chain->elements = elements;
		chain->capacity = capacity;
	}
	chain->elements[chain->count++] = element;
	return 0;
}

static const char *after_colon(const char *name)
{
	const char *colon = strchr(name, ':');
	return colon ? colon + 1 : name;
}

/* What a `use` names: `href`, else one with a prefix (SVG 2, section 16.1.6: xlink:href). */
static const char *find_href(const struct cutlint_element *use)
{
	const char *found = NULL;
	for (uint32_t i = 0; i < use->attribute_count; i++) {
		const struct cutlint_attribute *attribute = &use->attributes[i];
		if (strcmp(attribute->name, "href") == 0)
			return attribute->value;
		if (strcmp(after_colon(attribute->name), "href") == 0)
			found = attribute->value;
	}
	return found;
}

/* The element that a `use` names, above or at `element`; NULL where it can't be told. */
static const struct cutlint_element *find_template(const struct cutlint_element *element,
						   const struct cutlint_element *use)
{
	const char *href = find_href(use);
	const struct cutlint_element *found = NULL;
	if (!href)
		return NULL;
	href += strspn(href, " \t\r\n");
	size_t length = strcspn(href, " \t\r\n");
	for (; *href == '#' && element; element = element->parent) {
		if (element->id && strlen(element->id) == length - 1 &&
		    memcmp(element->id, href + 1, length - 1) == 0)
			found = element;
	}
	return found;
}

/* Adds an element and those above it, up to `last`, or to the root for NULL. */
static int add_upwards(struct chain *chain, const struct cutlint_element *element,
		       const struct cutlint_element *last)
{
	for (; element; element = element == last ? NULL : element->parent) {
		if (add(chain, element) < 0)
			return -1;
	}
	return 0;
}

static void reverse(struct chain *chain)
{
	for (size_t i = 0; i < chain->count / 2; i++) {
		const struct cutlint_element *kept = chain->elements[i];
		chain->elements[i] = chain->elements[chain->count - 1 - i];
		chain->elements[chain->count - 1 - i] = kept;
	}
}

int chain_set(struct chain *chain, const struct cutlint_shape *shape)
{
	chain->count = 0;
	const struct cutlint_element *element = shape->element;
	const struct cutlint_placement *placement = shape->placement;
	for (; placement; placement = placement->outer) {
		const struct cutlint_element *template = find_template(element, placement->use);
		if (add_upwards(chain, element, template) < 0)
			return -1;
		element = placement->use;
	}
	if (add_upwards(chain, element, NULL) < 0)
		return -1;
	reverse(chain);
	return 0;
}

static void add_name(struct text *path, const char *name, size_t length)
{
	if (length == 0)
		return;
	if (path->length > 0)
		text_add(path, "/", 1);
	text_add(path, name, length);
}

void chain_add_names(struct text *path, const struct cutlint_element *element)
{
	if (element->id)
		add_name(path, element->id, strlen(element->id));
	for (const char *at = element->classes; at && *at;) {
		at += strspn(at, " \t\r\n\f");
		size_t length = strcspn(at, " \t\r\n\f");
		add_name(path, at, length);
		at += length;
	}
	if (element->label)
		add_name(path, element->label, strlen(element->label));
}
