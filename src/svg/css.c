#include "svg/css.h"

#include <stdlib.h>
#include <string.h>

#include "base/list.h"
#include "base/text.h"
#include "svg/document.h"
#include "svg/media.h"
#include "svg/selector-text.h"

/* Blocks in blocks that are followed: deeper ones are no export's. */
#define MOST_NESTED 8

struct reader {
	struct svg_css *css;
	struct arena *arena;
	struct svg_declaration_place place;
	unsigned nested;
};

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
		if (simple->kind <= SVG_BY_ID && !simple->negated && better)
			best = simple;
	}
	struct svg_entry *bucket = put_bucket(css, reader->arena, best ? mark_of(best->kind) : '*',
					      best ? best->name : NOTHING);
	if (!bucket)
		return false;
	selector.next = bucket->value;
	bucket->value = css->selector_count;
	return LIST_ADD(css->selectors, css->selector_count, css->selector_capacity, selector);
}

static void say_selector(struct reader *reader, const char *code, struct svg_scan selector,
			 const char *what, const char *advice)
{
	const struct svg_declaration_place *place = &reader->place;
	struct notice *notice =
		svg_say(place->say, NOTICE_WARNING, code, place->element,
			svg_declaration_span(place, selector), "the selector '%.*s' %s",
			svg_shown(selector), selector.at, what);
	svg_suggest(place->say, notice, "%s", advice);
}

/* Returns false where memory ran out. */
static bool read_selector(struct reader *reader, struct svg_scan text)
{
	struct svg_css *css = reader->css;
	struct svg_selector selector;
	enum svg_selector_state state = svg_selector_read(css, reader->arena, text, &selector);
	selector.rule = css->rule_count;
	if (state == SVG_SELECTOR_GOOD)
		return put_selector(reader, selector);
	if (state == SVG_SELECTOR_NOT_FOLLOWED)
		say_selector(reader, "unsupported-content", text,
			     "is not followed; colours and what is hidden may differ",
			     "use types, classes, ids and attributes, or write what it sets on the "
			     "elements");
	return state != SVG_SELECTOR_NO_MEMORY;
}

/* One selector that no viewer can read makes the whole rule void (Selectors 4, 4.1). */
static enum svg_selector_state judge(struct reader *reader, struct svg_scan list)
{
	struct svg_css *css = reader->css;
	uint32_t simples = css->simple_count, compounds = css->compound_count;
	enum svg_selector_state state;
	struct svg_selector selector;
	struct svg_scan one;
	do {
		one = svg_trim(svg_take_until(&list, ","));
		state = svg_selector_read(css, reader->arena, one, &selector);
	} while (state != SVG_SELECTOR_INVALID && state != SVG_SELECTOR_NO_MEMORY &&
		 svg_take(&list, ','));
	css->simple_count = simples;
	css->compound_count = compounds;
	if (state == SVG_SELECTOR_INVALID)
		say_selector(reader, "style", one,
			     "can't be read; its rule is ignored, as in a viewer",
			     "mend it, or take it out of the list");
	return state;
}

static bool read_declarations(struct reader *reader, struct svg_scan block)
{
	struct svg_css *css = reader->css;
	struct svg_rule rule = {.first = css->declaration_count};
	struct svg_declaration declaration;
	while (svg_declaration_next(&block, &reader->place, &declaration)) {
		if (!LIST_ADD(css->declarations, css->declaration_count, css->declaration_capacity,
			      declaration))
			return false;
		rule.count++;
	}
	return LIST_ADD(css->rules, css->rule_count, css->rule_capacity, rule);
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
	enum svg_selector_state state = judge(reader, list);
	if (state == SVG_SELECTOR_NO_MEMORY || state == SVG_SELECTOR_INVALID)
		return state == SVG_SELECTOR_INVALID;
	do {
		struct svg_scan selector = svg_trim(svg_take_until(&list, ","));
		if (!read_selector(reader, selector))
			return false;
	} while (svg_take(&list, ','));
	return read_declarations(reader, block);
}

/* At-rules that can't change what is drawn. */
static const char *const HARMLESS[] = {
	"charset",      "namespace", "font-face",           "page",
	"keyframes",    "property",  "-webkit-keyframes",   "-moz-keyframes",
	"-o-keyframes", "viewport",  "font-feature-values", "counter-style",
};

static bool is_harmless(struct svg_scan name)
{
	for (size_t i = 0; i < sizeof(HARMLESS) / sizeof(*HARMLESS); i++) {
		if (svg_is_word(name, HARMLESS[i]))
			return true;
	}
	return false;
}

/* `at` is where the rule stands in the sheet; NULL: it is the whole one. */
static void say_skipped(struct reader *reader, enum notice_level level, const char *rule,
			const char *at, struct svg_scan what, const char *why)
{
	const struct svg_declaration_place *place = &reader->place;
	struct notice *notice = svg_say(
		place->say, level, "unsupported-content", place->element,
		at ? svg_declaration_span(place, (struct svg_scan){at, what.end}) : place->span,
		"%s '%.*s' is not applied: %s", rule, svg_shown(what), what.at, why);
	if (level > NOTICE_NOTE)
		svg_suggest(place->say, notice,
			    "write the rules that count into the style sheet, without it");
}

static bool read_rules(struct reader *reader, struct svg_scan text);

static bool read_media(struct reader *reader, const char *at, struct svg_scan query,
		       struct svg_scan block)
{
	query = svg_trim(query);
	enum svg_media media = svg_media_of(query);
	if (media == SVG_MEDIA_SHOWN && reader->nested < MOST_NESTED) {
		reader->nested++;
		bool read = read_rules(reader, block);
		reader->nested--;
		return read;
	}
	if (media == SVG_MEDIA_OTHER)
		say_skipped(reader, NOTICE_NOTE, "@media", at, query,
			    "the drawing counts as a screen shows it");
	else
		say_skipped(reader, NOTICE_WARNING, "@media", at, query,
			    "colours and what is hidden may differ");
	return true;
}

static bool read_at_rule(struct reader *reader, struct svg_scan *scan)
{
	const char *at = scan->at++;
	struct svg_scan name = svg_take_word(scan);
	struct svg_scan prelude = svg_trim(svg_take_until(scan, ";{"));
	struct svg_scan block = {scan->at, scan->at};
	if (svg_take(scan, '{'))
		block = take_block(scan);
	else
		svg_take(scan, ';');
	if (svg_is_word(name, "media"))
		return read_media(reader, at, prelude, block);
	if (svg_is_word(name, "import"))
		say_skipped(reader, NOTICE_WARNING, "@import", at, prelude,
			    "no other file is ever read");
	else if (!is_harmless(name))
		say_skipped(reader, NOTICE_WARNING, "the at-rule", at, name,
			    "colours and what is hidden may differ");
	return true;
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

/* Whether the sheet is to be read; says why not. */
static bool is_applied(struct reader *reader, const struct cutlint_element *style)
{
	const struct cutlint_attribute *type = svg_attribute(style, "type");
	const struct cutlint_attribute *media = svg_attribute(style, "media");
	struct svg_scan type_text = svg_trim(svg_scan_of(type ? type->value : ""));
	struct svg_scan query = svg_scan_of(media ? media->value : "");
	if (type_text.at < type_text.end && !svg_is_word(type_text, "text/css")) {
		say_skipped(reader, NOTICE_WARNING, "a style sheet of type", NULL, type_text,
			    "it is not CSS");
		return false;
	}
	struct svg_scan nothing = {query.at, query.at};
	return svg_media_of(query) == SVG_MEDIA_SHOWN || !read_media(reader, NULL, query, nothing);
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

static bool read_rules(struct reader *reader, struct svg_scan scan)
{
	for (;;) {
		svg_skip_spaces(&scan);
		if (scan.at >= scan.end)
			return true;
		if (skip_wrapping(&scan))
			continue;
		bool read =
			*scan.at == '@' ? read_at_rule(reader, &scan) : read_rule(reader, &scan);
		if (!read)
			return false;
	}
}

int svg_css_add(struct svg_css *css, struct arena *arena, struct svg_say *say,
		const struct cutlint_element *style, char *text, const struct svg_pieces *pieces)
{
	struct svg_declaration_place place = {.say = say,
					      .element = style,
					      .span = style->start_tag,
					      .text = text,
					      .pieces = pieces};
	struct reader reader = {css, arena, place, 0};
	if (!is_applied(&reader, style))
		return 0;
	blank_comments(text);
	return read_rules(&reader, svg_scan_of(text)) ? 0 : -1;
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
