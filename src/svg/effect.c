#include "svg/effect.h"

#include <string.h>

#include "svg/reference.h"

static struct cutlint_span span_of(const struct svg_subject *subject, enum svg_property property)
{
	const struct svg_value *value = svg_specified_value(subject->specified, property);
	return value ? svg_text_span(subject, value->text.at) : subject->element->start_tag;
}

/* The element that a url() names, if this is the first time that it is spoken of. */
static const struct cutlint_element *first_met(struct svg_document *document, struct svg_scan text)
{
	uint32_t target;
	if (!text.at || svg_take_reference(document, &text, &target) != SVG_REFERENCE_FOUND ||
	    document->nodes[target].told)
		return NULL;
	document->nodes[target].told = true;
	return document->elements[target];
}

static void say_server(const struct svg_subject *subject, enum svg_property property,
		       struct svg_paint paint)
{
	struct svg_say *say = &subject->document->say;
	const struct cutlint_element *server =
		paint.kind == SVG_PAINT_SERVER ? first_met(subject->document, paint.server) : NULL;
	if (!server)
		return;
	struct cutlint_span at = span_of(subject, property);
	if (svg_is_gradient(server)) {
		svg_say(say, NOTICE_NOTE, "gradient", subject->element, at,
			"the tones of gradient '%.60s' can't be burned, here and where else it is "
			"used; the outline is",
			server->id ? server->id : "");
	} else if (svg_is_pattern(server)) {
		struct notice *notice = svg_say(
			say, NOTICE_WARNING, "pattern", subject->element, at,
			"pattern '%.60s' is not burned, here and where else it is used; the "
			"outline is",
			server->id ? server->id : "");
		svg_suggest(say, notice, "turn the pattern into shapes if they are to be burned");
	}
}

static void say_missing(const struct svg_subject *subject, enum svg_property property,
			struct svg_paint paint)
{
	struct svg_scan text = paint.server;
	uint32_t target;
	if (paint.kind != SVG_PAINT_SERVER || !text.at || !*text.at ||
	    !svg_specified_value(subject->specified, property))
		return;
	enum svg_reference reference = svg_take_reference(subject->document, &text, &target);
	bool found = reference == SVG_REFERENCE_FOUND &&
		     (svg_is_gradient(subject->document->elements[target]) ||
		      svg_is_pattern(subject->document->elements[target]));
	if (found || reference == SVG_REFERENCE_NONE)
		return;
	struct notice *notice =
		svg_say(&subject->document->say, NOTICE_WARNING, "paint-server", subject->element,
			span_of(subject, property),
			"%s '%.*s' names no gradient or pattern of this drawing",
			svg_property_name(property), svg_shown(paint.server), paint.server.at);
	svg_suggest(&subject->document->say, notice, "give it a plain colour");
}

static bool takes_markers(enum svg_kind kind)
{
	return kind == SVG_KIND_PATH || kind == SVG_KIND_LINE || kind == SVG_KIND_POLYLINE ||
	       kind == SVG_KIND_POLYGON;
}

static void say_markers(const struct svg_subject *subject, const struct svg_style *style)
{
	static const enum svg_property PROPERTIES[] = {SVG_MARKER_START, SVG_MARKER_MID,
						       SVG_MARKER_END};
	struct svg_document *document = subject->document;
	for (size_t i = 0; i < sizeof(PROPERTIES) / sizeof(*PROPERTIES); i++) {
		struct svg_scan text = style->markers[i];
		uint32_t target;
		if (!text.at ||
		    svg_take_reference(document, &text, &target) != SVG_REFERENCE_FOUND ||
		    strcmp(document->elements[target]->tag, "marker") != 0)
			continue;
		struct notice *notice =
			svg_say(&document->say, NOTICE_WARNING, "marker", subject->element,
				span_of(subject, PROPERTIES[i]),
				"a viewer draws the marker '%.60s' on this line; it is not burned",
				document->elements[target]->id);
		svg_suggest(&document->say, notice, "turn the marker into a path, or remove it");
		return;
	}
}

void svg_say_effects(const struct svg_subject *subject, const struct svg_style *style,
		     enum svg_kind kind, bool burned)
{
	say_missing(subject, SVG_FILL, style->fill);
	say_missing(subject, SVG_STROKE, style->stroke);
	if (!burned)
		return;
	say_server(subject, SVG_FILL, style->fill);
	say_server(subject, SVG_STROKE, style->stroke);
	if (takes_markers(kind))
		say_markers(subject, style);
}
