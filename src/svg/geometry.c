#include "svg/geometry.h"

#include <math.h>
#include <string.h>

#include "svg/map.h"
#include "svg/transform.h"

struct cutlint_span svg_text_span(const struct svg_subject *subject, const char *at)
{
	const struct cutlint_element *element = subject->element;
	for (uint32_t i = 0; i < element->attribute_count; i++) {
		const struct cutlint_attribute *attribute = &element->attributes[i];
		const char *value = attribute->value;
		if (at < value || at > value + strlen(value))
			continue;
		struct svg_map map =
			svg_map_start(subject->document->source.bytes, &subject->document->entities,
				      element, attribute);
		return (struct cutlint_span){svg_map_byte(&map, (uint32_t)(at - value)),
					     *at ? 1 : 0};
	}
	return element->start_tag;
}

static void note_font_unit(const struct svg_subject *subject, struct svg_length length,
			   struct cutlint_span at)
{
	if (length.unit == SVG_UNIT_FONT)
		svg_say(&subject->document->say, NOTICE_NOTE, "length", subject->element, at,
			"no font is looked at: 1em is taken as 16 px, so this length is %.2f px",
			length.value);
}

static enum svg_found parse_attribute(const struct svg_subject *subject,
				      const struct cutlint_attribute *attribute,
				      struct svg_length *out)
{
	struct svg_scan text = svg_scan_of(attribute->value);
	struct cutlint_span at = svg_value_span(attribute);
	if (svg_length_parse(text, out) && isfinite(out->value)) {
		note_font_unit(subject, *out, at);
		return SVG_FOUND;
	}
	if (svg_is_word(svg_trim(text), "auto"))
		return SVG_FOUND_NOT;
	struct notice *notice =
		svg_say(&subject->document->say, NOTICE_ERROR, "length", subject->element, at,
			"%s: '%.*s' is no length that can be read; it is ignored", attribute->name,
			svg_shown(text), text.at);
	svg_suggest(&subject->document->say, notice,
		    "write a number, with px, pt, pc, mm, cm, in, Q or %% behind it if need be");
	return SVG_FOUND_BAD;
}

enum svg_found svg_find_length(const struct svg_subject *subject, enum svg_property property,
			       struct svg_length *out)
{
	const struct svg_value *value = svg_specified_value(subject->specified, property);
	if (value && value->flag)
		return SVG_FOUND_NOT;
	if (value) {
		*out = value->length;
		note_font_unit(subject, *out, svg_text_span(subject, value->text.at));
		return SVG_FOUND;
	}
	const struct cutlint_attribute *attribute =
		svg_attribute(subject->element, svg_property_name(property));
	return attribute ? parse_attribute(subject, attribute, out) : SVG_FOUND_NOT;
}

static void say_lost_percentage(const struct svg_subject *subject, double percentage)
{
	struct svg_say *say = &subject->document->say;
	struct notice *notice = svg_say(
		say, NOTICE_WARNING, "length", subject->element, subject->element->start_tag,
		"%g %% of a page that has no size comes out as 0", percentage);
	svg_suggest(say, notice, "give the <svg> element a width, a height and a viewBox");
}

/* A viewer takes the window for a page that has no size; here there is none. */
static double resolve(const struct svg_subject *subject, struct svg_length length,
		      enum svg_direction direction)
{
	const struct svg_viewport *viewport = &subject->viewport;
	if (length.unit == SVG_UNIT_PERCENT && length.value != 0 && viewport->width == 0 &&
	    viewport->height == 0)
		say_lost_percentage(subject, length.value);
	return svg_length_resolve(length, *viewport, direction);
}

double svg_property_number(const struct svg_subject *subject, enum svg_property property,
			   enum svg_direction direction, double fallback)
{
	struct svg_length length;
	if (svg_find_length(subject, property, &length) != SVG_FOUND)
		return fallback;
	return resolve(subject, length, direction);
}

double svg_attribute_number(const struct svg_subject *subject, const char *name,
			    enum svg_direction direction, double fallback)
{
	struct svg_length length;
	const struct cutlint_attribute *attribute = svg_attribute(subject->element, name);
	if (!attribute || parse_attribute(subject, attribute, &length) != SVG_FOUND)
		return fallback;
	return resolve(subject, length, direction);
}

bool svg_find_view_box(const struct svg_subject *subject, struct svg_rectangle *out, bool *empty)
{
	*empty = false;
	const struct cutlint_attribute *attribute = svg_attribute(subject->element, "viewBox");
	if (!attribute)
		return false;
	enum svg_view_box_state state = svg_view_box_parse(svg_scan_of(attribute->value), out);
	*empty = state == SVG_VIEW_BOX_EMPTY;
	if (state == SVG_VIEW_BOX_BAD) {
		struct notice *notice = svg_say(
			&subject->document->say, NOTICE_ERROR, "view-box", subject->element,
			svg_value_span(attribute),
			"the viewBox is not four numbers with a size above 0; it is ignored");
		svg_suggest(&subject->document->say, notice,
			    "write viewBox=\"left top width height\"");
	}
	return state == SVG_VIEW_BOX_GOOD;
}

struct svg_align svg_find_align(const struct svg_subject *subject)
{
	struct svg_align align = svg_align_default();
	const struct cutlint_attribute *attribute =
		svg_attribute(subject->element, "preserveAspectRatio");
	if (!attribute || svg_align_parse(svg_scan_of(attribute->value), &align))
		return align;
	struct notice *notice =
		svg_say(&subject->document->say, NOTICE_ERROR, "view-box", subject->element,
			svg_value_span(attribute),
			"preserveAspectRatio '%.60s' can't be read; xMidYMid meet is taken",
			attribute->value);
	svg_suggest(&subject->document->say, notice,
		    "write none, or such as xMidYMid with meet or slice behind it");
	return svg_align_default();
}

struct keyword {
	const char *name;
	double percent;
	enum svg_direction direction;
};

static const struct keyword KEYWORDS[] = {
	{"left", 0, SVG_ACROSS},   {"right", 100, SVG_ACROSS}, {"top", 0, SVG_DOWN},
	{"bottom", 100, SVG_DOWN}, {"center", 50, SVG_OTHER},
};

/* A part of transform-origin: which direction it is for, SVG_OTHER where it does not say. */
static bool take_origin(struct svg_scan *scan, struct svg_length *out,
			enum svg_direction *direction)
{
	svg_skip_spaces(scan);
	*direction = SVG_OTHER;
	if (svg_take_length(scan, out))
		return true;
	struct svg_scan word = svg_take_word(scan);
	for (size_t i = 0; i < sizeof(KEYWORDS) / sizeof(*KEYWORDS); i++) {
		if (!svg_is_word(word, KEYWORDS[i].name))
			continue;
		*out = (struct svg_length){KEYWORDS[i].percent, SVG_UNIT_PERCENT};
		*direction = KEYWORDS[i].direction;
		return true;
	}
	return false;
}

static bool parse_origin(struct svg_scan scan, struct svg_viewport viewport, struct cutlint_xy *out)
{
	struct svg_length parts[2] = {{50, SVG_UNIT_PERCENT}, {50, SVG_UNIT_PERCENT}};
	enum svg_direction directions[2] = {SVG_OTHER, SVG_OTHER};
	if (!take_origin(&scan, &parts[0], &directions[0]))
		return false;
	svg_skip_spaces(&scan);
	if (scan.at < scan.end && !take_origin(&scan, &parts[1], &directions[1]))
		return false;
	bool swapped = directions[0] == SVG_DOWN || directions[1] == SVG_ACROSS;
	out->x = svg_length_resolve(parts[swapped], viewport, SVG_ACROSS);
	out->y = svg_length_resolve(parts[!swapped], viewport, SVG_DOWN);
	return isfinite(out->x) && isfinite(out->y);
}

/* CSS Transforms 1, section 4: the list is applied about the origin. */
static struct svg_matrix about_origin(const struct svg_subject *subject, struct svg_matrix matrix)
{
	const struct svg_value *value =
		svg_specified_value(subject->specified, SVG_TRANSFORM_ORIGIN);
	struct cutlint_xy origin;
	if (!value)
		return matrix;
	if (!parse_origin(value->text, subject->viewport, &origin)) {
		struct notice *notice =
			svg_say(&subject->document->say, NOTICE_WARNING, "transform",
				subject->element, svg_text_span(subject, value->text.at),
				"transform-origin '%.*s' can't be read; 0 0 is taken",
				svg_shown(value->text), value->text.at);
		svg_suggest(&subject->document->say, notice, "write two lengths");
		return matrix;
	}
	matrix = svg_multiply(svg_translation(origin.x, origin.y), matrix);
	return svg_multiply(matrix, svg_translation(-origin.x, -origin.y));
}

struct svg_matrix svg_find_transform(const struct svg_subject *subject)
{
	struct svg_matrix matrix = SVG_IDENTITY;
	const struct svg_value *value = svg_specified_value(subject->specified, SVG_TRANSFORM);
	if (!value)
		return matrix;
	const char *bad = NULL;
	if (svg_transform_parse(value->text, &matrix, &bad))
		return about_origin(subject, matrix);
	struct notice *notice =
		svg_say(&subject->document->say, NOTICE_ERROR, "transform", subject->element,
			svg_text_span(subject, bad),
			"the transform can't be read from here; the whole list is ignored");
	svg_suggest(&subject->document->say, notice,
		    "use matrix, translate, scale, rotate, skewX and skewY with plain numbers");
	return SVG_IDENTITY;
}
