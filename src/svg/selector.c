#include <string.h>

#include "base/text.h"
#include "svg/css.h"
#include "svg/document.h"

#define LONGEST_KEY 256

static bool equals(struct svg_scan scan, const char *text)
{
	size_t length = svg_scan_length(scan);
	return strncmp(scan.at, text, length) == 0 && text[length] == '\0';
}

static bool has_class(const char *classes, struct svg_scan name)
{
	struct svg_scan scan = svg_scan_of(classes ? classes : "");
	size_t length = svg_scan_length(name);
	while (scan.at < scan.end) {
		svg_skip_spaces(&scan);
		const char *start = scan.at;
		while (scan.at < scan.end && !svg_is_space(*scan.at))
			scan.at++;
		if ((size_t)(scan.at - start) == length && memcmp(start, name.at, length) == 0)
			return true;
	}
	return false;
}

static bool has_attribute(const struct cutlint_element *element, const struct svg_simple *simple)
{
	for (uint32_t i = 0; i < element->attribute_count; i++) {
		const struct cutlint_attribute *attribute = &element->attributes[i];
		if (equals(simple->name, attribute->name))
			return !simple->has_value || equals(simple->value, attribute->value);
	}
	return false;
}

static bool simple_matches(const struct svg_simple *simple, const struct cutlint_element *element)
{
	switch (simple->kind) {
	case SVG_BY_CLASS:
		return has_class(element->classes, simple->name);
	case SVG_BY_ID:
		return element->id && equals(simple->name, element->id);
	case SVG_BY_ATTRIBUTE:
		return has_attribute(element, simple);
	default:
		return equals(simple->name, element->tag);
	}
}

static bool compound_matches(const struct svg_css *css, const struct svg_compound *compound,
			     const struct cutlint_element *element)
{
	for (uint32_t i = 0; i < compound->count; i++) {
		if (!simple_matches(&css->simples[compound->first + i], element))
			return false;
	}
	return true;
}

/*
 * Matches the compounds that hang together by `>`, the last of them on the element. On success
 * moves `*count` and `*element` to what is left of them.
 */
static bool chain_matches(const struct svg_css *css, const struct svg_compound *compounds,
			  uint32_t *count, const struct cutlint_element **element)
{
	const struct cutlint_element *at = *element;
	uint32_t left = *count;
	char combinator = '>';
	for (; left && combinator == '>'; left--, at = at->parent) {
		if (!at || !compound_matches(css, &compounds[left - 1], at))
			return false;
		combinator = compounds[left - 1].combinator;
	}
	*count = left;
	*element = at;
	return true;
}

/*
 * Chains are joined by "descendant of". The nearest ancestor that a chain fits leaves the most
 * ancestors for the rest, so no other need be tried.
 */
static bool selector_matches(const struct svg_css *css, const struct svg_selector *selector,
			     const struct cutlint_element *element)
{
	const struct svg_compound *compounds = css->compounds + selector->first;
	uint32_t left = selector->count;
	if (!chain_matches(css, compounds, &left, &element))
		return false;
	while (left) {
		while (element && !chain_matches(css, compounds, &left, &element))
			element = element->parent;
		if (!element && left)
			return false;
	}
	return true;
}

static void match_bucket(const struct svg_css *css, const struct cutlint_element *element,
			 char mark, struct svg_scan name, svg_css_visit *visit, void *user)
{
	char key[LONGEST_KEY];
	size_t length = svg_scan_length(name);
	if (length + 1 > sizeof(key))
		length = sizeof(key) - 1;
	key[0] = mark;
	if (length)
		memcpy(key + 1, name.at, length);
	const struct svg_entry *entry = svg_table_get(&css->buckets, key, length + 1);
	uint32_t number = entry ? entry->value : CUTLINT_NONE;
	while (number != CUTLINT_NONE) {
		const struct svg_selector *selector = &css->selectors[number];
		if (selector_matches(css, selector, element))
			visit(user, selector);
		number = selector->next;
	}
}

void svg_css_match(const struct svg_css *css, const struct cutlint_element *element,
		   svg_css_visit *visit, void *user)
{
	if (css->selector_count == 0)
		return;
	match_bucket(css, element, '*', svg_scan_of(""), visit, user);
	match_bucket(css, element, '<', svg_scan_of(element->tag), visit, user);
	if (element->id)
		match_bucket(css, element, '#', svg_scan_of(element->id), visit, user);
	struct svg_scan classes = svg_scan_of(element->classes ? element->classes : "");
	while (svg_skip_spaces(&classes), classes.at < classes.end) {
		struct svg_scan name = {classes.at, classes.at};
		while (name.end < classes.end && !svg_is_space(*name.end))
			name.end++;
		classes.at = name.end;
		match_bucket(css, element, '.', name, visit, user);
	}
}
