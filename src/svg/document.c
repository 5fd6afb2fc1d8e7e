#include "svg/document.h"

#include <stdlib.h>
#include <string.h>

void svg_document_finish(struct svg_document *document)
{
	free(document->elements);
	free(document->nodes);
	svg_table_finish(&document->ids);
	svg_css_finish(&document->css);
}

const struct cutlint_attribute *svg_attribute(const struct cutlint_element *element,
					      const char *name)
{
	for (uint32_t i = 0; i < element->attribute_count; i++) {
		if (strcmp(element->attributes[i].name, name) == 0)
			return &element->attributes[i];
	}
	return NULL;
}

const struct cutlint_attribute *svg_href(const struct cutlint_element *element)
{
	const struct cutlint_attribute *href = svg_attribute(element, "href");
	for (uint32_t i = 0; !href && i < element->attribute_count; i++) {
		const char *colon = strchr(element->attributes[i].name, ':');
		if (colon && strcmp(colon, ":href") == 0)
			href = &element->attributes[i];
	}
	return href;
}

uint32_t svg_find_id(const struct svg_document *document, const char *id, size_t length)
{
	const struct svg_entry *entry = svg_table_get(&document->ids, id, length);
	return entry ? entry->value : CUTLINT_NONE;
}

struct cutlint_span svg_value_span(const struct cutlint_attribute *attribute)
{
	return attribute->value_span.length ? attribute->value_span : attribute->name_span;
}
