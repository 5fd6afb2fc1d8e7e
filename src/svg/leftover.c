#include <string.h>

#include "svg/walk.h"

/* Shapes in templates of one tag that nothing places. */
struct count {
	const char *tag; /* names are kept once, but tags of two kinds may differ */
	const struct cutlint_element *first;
	uint32_t shapes;
};

#define MOST_TAGS 6 /* defs, symbol, clipPath, mask, marker, pattern */

static bool is_template(enum svg_kind kind)
{
	return kind == SVG_KIND_DEFS || kind == SVG_KIND_SYMBOL || kind == SVG_KIND_TEMPLATE;
}

static uint32_t count_shapes(const struct svg_document *document, uint32_t index)
{
	uint32_t shapes = 0;
	for (uint32_t i = index + 1; i < document->nodes[index].after; i++)
		shapes +=
			svg_kind_is_graphic(document->nodes[i].kind) && !document->nodes[i].placed;
	return shapes;
}

static void add(struct count *counts, const struct cutlint_element *element, uint32_t shapes)
{
	size_t i = 0;
	while (i + 1 < MOST_TAGS && counts[i].tag && strcmp(counts[i].tag, element->tag) != 0)
		i++;
	if (!counts[i].tag) {
		counts[i].tag = element->tag;
		counts[i].first = element;
	}
	counts[i].shapes += shapes;
}

static void say_unfollowed(struct svg_document *document, const struct cutlint_element *element,
			   const char *what, const char *advice)
{
	struct notice *notice = svg_say(&document->say, NOTICE_WARNING, "unsupported-content",
					element, element->start_tag, "%s", what);
	svg_suggest(&document->say, notice, "%s", advice);
}

void svg_note_unfollowed(struct svg_document *document)
{
	for (uint32_t i = 0; i < document->count; i++) {
		const struct cutlint_element *element = document->elements[i];
		if (document->nodes[i].kind == SVG_KIND_SCRIPT)
			say_unfollowed(document, element,
				       "this script is not run; what it would draw is missing",
				       "save the drawing as it stands once the script has run");
		if (document->nodes[i].kind == SVG_KIND_ANIMATION)
			say_unfollowed(
				document, element,
				"animation is not followed; the drawing counts as it stands",
				"draw the state that is to be cut, and take the animation out");
	}
}

void svg_count_templates(struct svg_document *document)
{
	struct count counts[MOST_TAGS] = {{0}};
	for (uint32_t i = 0; i < document->count; i++) {
		if (!is_template(document->nodes[i].kind))
			continue;
		uint32_t shapes = count_shapes(document, i);
		if (document->options->report)
			document->options->report->template_shapes += shapes;
		if (shapes)
			add(counts, document->elements[i], shapes);
		i = document->nodes[i].after - 1;
	}
	for (size_t i = 0; i < MOST_TAGS && counts[i].tag; i++)
		svg_say(&document->say, NOTICE_NOTE, "template", counts[i].first,
			counts[i].first->start_tag,
			"%u shape%s in <%s> %s a template: not burned where %s", counts[i].shapes,
			counts[i].shapes == 1 ? "" : "s", counts[i].tag,
			counts[i].shapes == 1 ? "is" : "are",
			counts[i].shapes == 1 ? "it stands" : "they stand");
}
