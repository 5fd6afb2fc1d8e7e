#include "svg/declaration.h"

#include <string.h>

#include "svg/map.h"

static bool starts(struct svg_scan scan, const char *with)
{
	size_t length = strlen(with);
	return svg_scan_length(scan) >= length && memcmp(scan.at, with, length) == 0;
}

static void skip_comment(struct svg_scan *scan)
{
	scan->at += 2;
	while (scan->at < scan->end && !starts(*scan, "*/"))
		scan->at++;
	if (scan->at < scan->end)
		scan->at += 2;
}

void svg_skip_comments(struct svg_scan *scan)
{
	svg_skip_spaces(scan);
	while (starts(*scan, "/*")) {
		skip_comment(scan);
		svg_skip_spaces(scan);
	}
}

static void skip_quoted(struct svg_scan *scan)
{
	char quote = *scan->at++;
	while (scan->at < scan->end && *scan->at != quote)
		scan->at++;
	if (scan->at < scan->end)
		scan->at++;
}

struct svg_scan svg_take_until(struct svg_scan *scan, const char *stops)
{
	struct svg_scan taken = *scan;
	unsigned depth = 0;
	while (scan->at < scan->end) {
		char c = *scan->at;
		if (depth == 0 && c && strchr(stops, c))
			break;
		if (c == '\\') {
			scan->at += svg_scan_length(*scan) > 1 ? 2 : 1;
		} else if (starts(*scan, "/*")) {
			skip_comment(scan);
		} else if (c == '"' || c == '\'') {
			skip_quoted(scan);
		} else {
			depth += c == '(' || c == '[';
			depth -= depth && (c == ')' || c == ']');
			scan->at++;
		}
	}
	taken.end = scan->at;
	return taken;
}

/* Takes `!important` off the end. */
static bool strip_important(struct svg_scan *value)
{
	struct svg_scan mark = *value;
	for (mark.at = value->end; mark.at > value->at && mark.at[-1] != '!';)
		mark.at--;
	if (mark.at == value->at || !svg_is_word(svg_trim(mark), "important"))
		return false;
	value->end = mark.at - 1;
	*value = svg_trim(*value);
	return true;
}

static bool holds(struct svg_scan scan, const char *part)
{
	for (; scan.at < scan.end; scan.at++) {
		if (starts(scan, part))
			return true;
	}
	return false;
}

struct cutlint_span svg_declaration_span(const struct svg_declaration_place *place,
					 struct svg_scan part)
{
	uint32_t start, end;
	if (place->attribute) {
		struct svg_map map = svg_map_start(place->bytes, place->entities, place->element,
						   place->attribute);
		const char *text = place->attribute->value;
		start = svg_map_byte(&map, (uint32_t)(part.at - text));
		end = svg_map_byte(&map, (uint32_t)(part.end - text));
	} else if (place->text && place->pieces->count) {
		start = svg_pieces_byte(place->pieces, (uint32_t)(part.at - place->text));
		end = svg_pieces_byte(place->pieces, (uint32_t)(part.end - place->text));
	} else {
		return place->span;
	}
	return (struct cutlint_span){start, end > start ? end - start : 0};
}

void svg_declaration_complain(const struct svg_declaration_place *place, enum svg_property property,
			      struct svg_scan value)
{
	const char *name = svg_property_name(property);
	struct cutlint_span at = svg_declaration_span(place, value);
	bool computed = holds(value, "var(") || holds(value, "calc(");
	struct notice *notice =
		computed
			? svg_say(place->say, NOTICE_WARNING, "unsupported-content", place->element,
				  at, "%s: '%.*s' is not worked out; the declaration is ignored",
				  name, svg_shown(value), value.at)
			: svg_say(place->say, NOTICE_WARNING, "style", place->element, at,
				  "'%.*s' is no value of %s; it is ignored", svg_shown(value),
				  value.at, name);
	svg_suggest(place->say, notice,
		    computed ? "write the value that it comes to"
			     : "mend the value, or remove it; a viewer ignores it, too");
}

/* Properties that move or shape what is drawn and that are not followed. */
static const char *const MOVING[] = {"rotate",      "scale", "translate",
				     "offset-path", "zoom",  "transform-box"};

static void say_moving(const struct svg_declaration_place *place, struct svg_scan name,
		       const char *property)
{
	struct notice *notice = svg_say(place->say, NOTICE_WARNING, "unsupported-content",
					place->element, svg_declaration_span(place, name),
					"the CSS property %s is not followed", property);
	svg_suggest(place->say, notice, "write what it does into the attribute transform");
}

static void note_unread(const struct svg_declaration_place *place, struct svg_scan name,
			struct svg_scan value)
{
	for (size_t i = 0; i < sizeof(MOVING) / sizeof(*MOVING); i++) {
		if (svg_is_word(name, MOVING[i]) && !svg_is_word(value, "none") &&
		    !svg_is_word(value, "view-box"))
			say_moving(place, name, MOVING[i]);
	}
}

static bool read_declaration(struct svg_scan text, const struct svg_declaration_place *place,
			     struct svg_declaration *out)
{
	struct svg_scan name = svg_take_word(&text);
	svg_skip_comments(&text);
	if (!svg_take(&text, ':'))
		return false;
	svg_skip_comments(&text);
	struct svg_scan value = svg_trim(text);
	out->important = strip_important(&value);
	out->property = svg_property_find(name);
	if (out->property == SVG_PROPERTY_COUNT) {
		note_unread(place, name, value);
		return false;
	}
	if (svg_value_parse(out->property, value, &out->value))
		return true;
	svg_declaration_complain(place, out->property, value);
	return false;
}

bool svg_declaration_next(struct svg_scan *scan, const struct svg_declaration_place *place,
			  struct svg_declaration *out)
{
	while (scan->at < scan->end) {
		svg_skip_comments(scan);
		struct svg_scan text = svg_take_until(scan, ";");
		svg_take(scan, ';');
		if (read_declaration(text, place, out))
			return true;
	}
	return false;
}
