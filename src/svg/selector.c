#define _GNU_SOURCE /* memmem */
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

static bool has_word(const char *list, struct svg_scan word)
{
	return word.at < word.end && has_class(list, word);
}

/* Selectors 4, 6.1 and 6.2. */
static bool value_fits(const char *value, char relation, struct svg_scan wanted)
{
	size_t length = svg_scan_length(wanted), whole = strlen(value);
	bool starts = strncmp(value, wanted.at, length) == 0;
	switch (relation) {
	case '~':
		return has_word(value, wanted);
	case '|':
		return starts && (value[length] == '\0' || value[length] == '-');
	case '^':
		return length && starts;
	case '$':
		return length && whole >= length &&
		       memcmp(value + whole - length, wanted.at, length) == 0;
	case '*':
		return length && memmem(value, whole, wanted.at, length);
	default:
		return equals(wanted, value);
	}
}

static bool has_attribute(const struct cutlint_element *element, const struct svg_simple *simple)
{
	for (uint32_t i = 0; i < element->attribute_count; i++) {
		const struct cutlint_attribute *attribute = &element->attributes[i];
		if (equals(simple->name, attribute->name))
			return !simple->relation ||
			       value_fits(attribute->value, simple->relation, simple->value);
	}
	return false;
}

static bool is_first_child(const struct cutlint_element *element)
{
	return !element->parent || element->index == element->parent->index + 1;
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
	case SVG_BY_ROOT:
		return !element->parent;
	case SVG_BY_FIRST_CHILD:
		return is_first_child(element);
	default:
		return equals(simple->name, element->tag);
	}
}

/* Lists of classes and values of attributes can be long: 64 bytes of them are one step. */
static uint64_t cost_of(const struct svg_simple *simple, const struct cutlint_element *element)
{
	if (simple->kind == SVG_BY_CLASS && element->classes)
		return strlen(element->classes) / 64;
	return simple->kind == SVG_BY_ATTRIBUTE ? element->start_tag.length / 64 : 0;
}

static bool compound_matches(struct svg_css *css, const struct svg_compound *compound,
			     const struct cutlint_element *element)
{
	css->steps++;
	for (uint32_t i = 0; i < compound->count; i++) {
		const struct svg_simple *simple = &css->simples[compound->first + i];
		css->steps += cost_of(simple, element);
		if (simple_matches(simple, element) == simple->negated)
			return false;
	}
	return true;
}

/*
 * Matches the compounds that hang together by `>`, the last of them on the element. On success
 * moves `*count` and `*element` to what is left of them.
 */
static bool chain_matches(struct svg_css *css, const struct svg_compound *compounds,
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
static bool selector_matches(struct svg_css *css, const struct svg_selector *selector,
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

static void match_bucket(struct svg_css *css, const struct cutlint_element *element, char mark,
			 struct svg_scan name, svg_css_visit *visit, void *user)
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

void svg_css_match(struct svg_css *css, const struct cutlint_element *element, svg_css_visit *visit,
		   void *user)
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
