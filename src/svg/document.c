#include "svg/document.h"

#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "base/text.h"

void svg_document_finish(struct svg_document *document)
{
	free(document->elements);
	free(document->nodes);
	free(document->remarks);
	svg_table_finish(&document->ids);
	svg_entities_finish(&document->entities);
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

uint32_t svg_find_target(const struct svg_document *document, struct svg_scan fragment)
{
	uint32_t found = svg_find_id(document, fragment.at, svg_scan_length(fragment));
	struct text id = {0};
	if (found != CUTLINT_NONE || !memchr(fragment.at, '%', svg_scan_length(fragment)))
		return found;
	for (const char *at = fragment.at; at < fragment.end; at++) {
		int high = fragment.end - at > 2 ? number_hex_digit(at[1]) : -1;
		int low = high >= 0 ? number_hex_digit(at[2]) : -1;
		char byte = *at == '%' && low >= 0 ? (char)(high * 16 + low) : *at;
		text_add(&id, &byte, 1);
		at += *at == '%' && low >= 0 ? 2 : 0;
	}
	if (!id.failed)
		found = svg_find_id(document, id.bytes, id.length);
	text_finish(&id);
	return found;
}

struct cutlint_span svg_value_span(const struct cutlint_attribute *attribute)
{
	return attribute->value_span.length ? attribute->value_span : attribute->name_span;
}
