#include <stdio.h>

#include "base/text.h"
#include "cutlint/model.h"

static void add_path(struct text *text, const struct cutlint_element *element)
{
	if (element->parent)
		add_path(text, element->parent);
	text_add_string(text, "/");
	text_add_escaped(text, element->tag);
	if (element->parent)
		text_format(text, "[%u]", element->nth);
}

int cutlint_element_name(const struct cutlint_element *element, char *out, size_t size)
{
	struct text text = {0};
	if (element->id && *element->id) {
		text_add_escaped(&text, element->tag);
		text_add_string(&text, "#");
		text_add_escaped(&text, element->id);
	} else {
		add_path(&text, element);
	}
	int length = snprintf(out, size, "%s", text.failed ? "?" : text.bytes);
	text_finish(&text);
	return length;
}
