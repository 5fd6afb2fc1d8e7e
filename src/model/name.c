#include <stdio.h>

#include "base/text.h"
#include "model/private.h"

static bool has_id(const struct cutlint_element *element)
{
	return element->id && *element->id;
}

static void add_step(struct text *text, const struct cutlint_element *element)
{
	text_add_escaped(text, element->tag);
	if (element->parent)
		text_format(text, "[%u]", element->nth);
}

void element_add_path(struct text *text, const struct cutlint_element *element)
{
	if (element->parent)
		element_add_path(text, element->parent);
	text_add_string(text, "/");
	add_step(text, element);
}

static void add_tag_and_id(struct text *text, const struct cutlint_element *element)
{
	text_add_escaped(text, element->tag);
	text_add_string(text, "#");
	text_add_escaped(text, element->id);
}

void element_add_name(struct text *text, const struct cutlint_element *element)
{
	if (has_id(element))
		add_tag_and_id(text, element);
	else
		add_step(text, element);
}

int cutlint_element_name(const struct cutlint_element *element, char *out, size_t size)
{
	struct text text = {0};
	if (has_id(element))
		add_tag_and_id(&text, element);
	else
		element_add_path(&text, element);
	int length = snprintf(out, size, "%s", text.failed ? "?" : text.bytes);
	text_finish(&text);
	return length;
}
