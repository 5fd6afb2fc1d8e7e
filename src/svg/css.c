#include "svg/css.h"

#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "svg/document.h"
#include "svg/grow.h"

struct reader {
	struct svg_css *css;
	struct arena *arena;
	struct svg_declaration_place place;
};

enum outcome { GOOD, NOT_FOLLOWED, NO_MEMORY };

static bool take_name(struct svg_scan *scan, struct svg_scan *out)
{
	*out = svg_take_word(scan);
	return out->at < out->end;
}

static struct svg_scan unquoted(struct svg_scan value)
{
	value = svg_trim(value);
	bool quoted = svg_scan_length(value) >= 2 && (*value.at == '"' || *value.at == '\'') &&
		      value.end[-1] == *value.at;
	return quoted ? (struct svg_scan){value.at + 1, value.end - 1} : value;
}

/* [name] or [name=value], after the bracket. */
static bool take_attribute(struct svg_scan *scan, struct svg_simple *simple)
{
	struct svg_scan text = svg_take_until(scan, "]");
	simple->kind = SVG_BY_ATTRIBUTE;
	text = svg_trim(text);
	if (!svg_take(scan, ']') || !take_name(&text, &simple->name))
		return false;
	svg_skip_spaces(&text);
	simple->has_value = svg_take(&text, '=');
	simple->value = unquoted(text);
	return simple->has_value || text.at == text.end;
}

static bool take_simple(struct svg_scan *scan, struct svg_simple *simple)
{
	if (svg_take(scan, '.')) {
		simple->kind = SVG_BY_CLASS;
		return take_name(scan, &simple->name);
	}
	if (svg_take(scan, '#')) {
		simple->kind = SVG_BY_ID;
		return take_name(scan, &simple->name);
	}
	if (svg_take(scan, '['))
		return take_attribute(scan, simple);
	simple->kind = SVG_BY_TYPE;
	return take_name(scan, &simple->name);
}

static void count_specificity(struct svg_selector *selector, enum svg_simple_kind kind)
{
	unsigned shift = kind == SVG_BY_ID ? 16 : kind == SVG_BY_TYPE ? 0 : 8;
	if ((selector->specificity >> shift & 0xff) < 0xff)
		selector->specificity += 1u << shift;
}

static bool ends_compound(struct svg_scan scan)
{
	return scan.at >= scan.end || svg_is_space(*scan.at) || *scan.at == '>';
}

static enum outcome read_compound(struct reader *reader, struct svg_scan *scan, char combinator,
				  struct svg_selector *selector)
{
	struct svg_css *css = reader->css;
	struct svg_compound compound = {.first = css->simple_count, .combinator = combinator};
	bool any = svg_take(scan, '*');
	for (bool first = !any; !ends_compound(*scan); first = false) {
		struct svg_simple simple = {0};
		if (!take_simple(scan, &simple) || (!first && simple.kind == SVG_BY_TYPE))
			return NOT_FOLLOWED;
		if (!SVG_ADD(css->simples, css->simple_count, css->simple_capacity, simple))
			return NO_MEMORY;
		count_specificity(selector, simple.kind);
		compound.count++;
		any = true;
	}
	if (!any)
		return NOT_FOLLOWED;
	return SVG_ADD(css->compounds, css->compound_count, css->compound_capacity, compound)
		       ? GOOD
		       : NO_MEMORY;
}

static enum outcome read_compounds(struct reader *reader, struct svg_scan text,
				   struct svg_selector *selector)
{
	char combinator = ' ';
	do {
		enum outcome outcome = read_compound(reader, &text, combinator, selector);
		if (outcome != GOOD)
			return outcome;
		selector->count++;
		svg_skip_spaces(&text);
		combinator = svg_take(&text, '>') ? '>' : ' ';
		svg_skip_spaces(&text);
	} while (text.at < text.end || combinator == '>');
	return GOOD;
}

static char mark_of(enum svg_simple_kind kind)
{
	return kind == SVG_BY_ID ? '#' : kind == SVG_BY_CLASS ? '.' : '<';
}

static struct svg_entry *put_bucket(struct svg_css *css, struct arena *arena, char mark,
				    struct svg_scan name)
{
	struct text key = {0};
	text_add(&key, &mark, 1);
	text_add(&key, name.at, svg_scan_length(name));
	struct svg_entry *entry =
		key.failed ? NULL : svg_table_put(&css->buckets, arena, key.bytes, key.length);
	text_finish(&key);
	return entry;
}

/* A selector stands in the bucket of its last compound's id, else its class, else its type. */
static bool put_selector(struct reader *reader, struct svg_selector selector)
{
	static const struct svg_scan NOTHING = {"", ""};
	struct svg_css *css = reader->css;
	const struct svg_compound *last = &css->compounds[selector.first + selector.count - 1];
	const struct svg_simple *best = NULL;
	for (uint32_t i = 0; i < last->count; i++) {
		const struct svg_simple *simple = &css->simples[last->first + i];
		bool better = !best || (simple->kind == SVG_BY_ID && best->kind != SVG_BY_ID) ||
			      (simple->kind == SVG_BY_CLASS && best->kind == SVG_BY_TYPE);
		if (simple->kind != SVG_BY_ATTRIBUTE && better)
			best = simple;
	}
	struct svg_entry *bucket = put_bucket(css, reader->arena, best ? mark_of(best->kind) : '*',
					      best ? best->name : NOTHING);
	if (!bucket)
		return false;
	selector.next = bucket->value;
	bucket->value = css->selector_count;
	return SVG_ADD(css->selectors, css->selector_count, css->selector_capacity, selector);
}

static enum outcome read_selector(struct reader *reader, struct svg_scan text)
{
	struct svg_css *css = reader->css;
	struct svg_selector selector = {.first = css->compound_count, .rule = css->rule_count};
	enum outcome outcome = read_compounds(reader, text, &selector);
	if (outcome == GOOD)
		return put_selector(reader, selector) ? GOOD : NO_MEMORY;
	if (outcome == NOT_FOLLOWED)
		svg_say(reader->place.say, NOTICE_WARNING, "unsupported-content",
			reader->place.element, reader->place.span,
			"the rules of selector '%.*s' are not applied; colours and what is hidden "
			"may differ",
			svg_shown(text), text.at);
	return outcome;
}

static bool read_declarations(struct reader *reader, struct svg_scan block)
{
	struct svg_css *css = reader->css;
	struct svg_rule rule = {.first = css->declaration_count};
	struct svg_declaration declaration;
	while (svg_declaration_next(&block, &reader->place, &declaration)) {
		if (!SVG_ADD(css->declarations, css->declaration_count, css->declaration_capacity,
			     declaration))
			return false;
		rule.count++;
	}
	return SVG_ADD(css->rules, css->rule_count, css->rule_capacity, rule);
}

/* The text between braces; nested ones are passed by. */
static struct svg_scan take_block(struct svg_scan *scan)
{
	struct svg_scan block = {scan->at, scan->at};
	unsigned depth = 1;
	while (scan->at < scan->end && depth) {
		svg_take_until(scan, "{}");
		block.end = scan->at;
		if (svg_take(scan, '{'))
			depth++;
		else if (svg_take(scan, '}'))
			depth--;
	}
	return block;
}

static bool read_rule(struct reader *reader, struct svg_scan *scan)
{
	struct svg_scan list = svg_take_until(scan, "{");
	if (!svg_take(scan, '{'))
		return true;
	struct svg_scan block = take_block(scan);
	while (list.at < list.end) {
		struct svg_scan selector = svg_trim(svg_take_until(&list, ","));
		svg_take(&list, ',');
		if (read_selector(reader, selector) == NO_MEMORY)
			return false;
	}
	return read_declarations(reader, block);
}

/* At-rules that can't change what is drawn. */
static const char *const HARMLESS[] = {"charset",   "namespace",         "font-face", "page",
				       "keyframes", "-webkit-keyframes", "property"};

static void skip_at_rule(struct reader *reader, struct svg_scan *scan)
{
	scan->at++;
	struct svg_scan name = svg_take_word(scan);
	svg_take_until(scan, ";{");
	if (svg_take(scan, '{'))
		take_block(scan);
	else
		svg_take(scan, ';');
	for (size_t i = 0; i < sizeof(HARMLESS) / sizeof(*HARMLESS); i++) {
		if (svg_is_word(name, HARMLESS[i]))
			return;
	}
	svg_say(reader->place.say, NOTICE_WARNING, "unsupported-content", reader->place.element,
		reader->place.span,
		"what stands under @%.*s is not applied; colours and what is hidden may differ",
		svg_shown(name), name.at);
}

/* What an old style sheet is wrapped in, to hide it from older programs yet. */
static bool skip_wrapping(struct svg_scan *scan)
{
	size_t left = svg_scan_length(*scan);
	size_t length = left >= 4 && memcmp(scan->at, "<!--", 4) == 0  ? 4
			: left >= 3 && memcmp(scan->at, "-->", 3) == 0 ? 3
								       : 0;
	scan->at += length;
	return length > 0;
}

static bool is_css(const struct cutlint_element *style)
{
	const struct cutlint_attribute *type = svg_attribute(style, "type");
	const struct cutlint_attribute *media = svg_attribute(style, "media");
	bool css = !type || !*type->value || svg_is_word(svg_scan_of(type->value), "text/css");
	bool all = !media || !*media->value || svg_is_word(svg_scan_of(media->value), "all") ||
		   svg_is_word(svg_scan_of(media->value), "screen");
	return css && all;
}

/* Comments may stand between any two tokens; without them the rest need not look for them. */
static void blank_comments(char *text)
{
	char quote = '\0';
	for (char *at = text; *at; at++) {
		if (quote || *at == '"' || *at == '\'') {
			quote = !quote ? *at : *at == quote ? '\0' : quote;
			continue;
		}
		if (at[0] != '/' || at[1] != '*')
			continue;
		const char *close = strstr(at + 2, "*/");
		size_t length = close ? (size_t)(close - at) + 2 : strlen(at);
		memset(at, ' ', length);
		at += length - 1;
	}
}

int svg_css_add(struct svg_css *css, struct arena *arena, struct svg_say *say,
		const struct cutlint_element *style, char *text)
{
	struct reader reader = {css, arena, {say, style, style->start_tag}};
	if (!is_css(style)) {
		svg_say(say, NOTICE_WARNING, "unsupported-content", style, style->start_tag,
			"this style sheet is not applied: it is not CSS for all media");
		return 0;
	}
	blank_comments(text);
	struct svg_scan scan = svg_scan_of(text);
	for (;;) {
		svg_skip_spaces(&scan);
		if (scan.at >= scan.end)
			return 0;
		if (skip_wrapping(&scan))
			continue;
		if (*scan.at == '@')
			skip_at_rule(&reader, &scan);
		else if (!read_rule(&reader, &scan))
			return -1;
	}
}

void svg_css_finish(struct svg_css *css)
{
	free(css->simples);
	free(css->compounds);
	free(css->selectors);
	free(css->rules);
	free(css->declarations);
	svg_table_finish(&css->buckets);
	*css = (struct svg_css){0};
}
