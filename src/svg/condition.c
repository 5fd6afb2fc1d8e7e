#include <string.h>

#include "svg/walk.h"

/* One of a list of language tags that is "en" or starts with "en-" (SVG 2, 5.8.5). */
static bool speaks_english(const char *list)
{
	struct svg_scan scan = svg_scan_of(list);
	while (scan.at < scan.end) {
		svg_skip_comma(&scan);
		struct svg_scan tag = svg_take_word(&scan);
		if (tag.at == tag.end)
			return false;
		const char *dash = memchr(tag.at, '-', svg_scan_length(tag));
		if (dash)
			tag.end = dash;
		if (svg_is_word(tag, "en"))
			return true;
	}
	return false;
}

bool svg_conditions_hold(const struct cutlint_element *element)
{
	const struct cutlint_attribute *language = svg_attribute(element, "systemLanguage");
	const struct cutlint_attribute *extensions = svg_attribute(element, "requiredExtensions");
	return !extensions && (!language || speaks_english(language->value));
}
