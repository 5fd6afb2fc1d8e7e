#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "svg/pane.h"

/* The size that a use gives to the svg or symbol that it places. */
struct sizing {
	struct svg_length width, height;
	bool has_width, has_height;
};

static int walk_element(struct svg_walk *walk, uint32_t index, const struct svg_state *outer,
			const struct sizing *sizing);

struct svg_subject svg_walk_subject(struct svg_walk *walk, uint32_t index,
				    const struct svg_state *state)
{
	return (struct svg_subject){walk->document, walk->document->elements[index],
				    &walk->specified, state->viewport};
}

static enum svg_kind kind_of(const struct svg_walk *walk, uint32_t index)
{
	return walk->document->nodes[index].kind;
}

#define MOST_CHAIN 8

/* " (#a in #b in #c)": the uses in whose instance it stands, from the innermost on. */
static void add_chain(struct text *text, const struct cutlint_placement *placement)
{
	for (int i = 0; placement && i < MOST_CHAIN; i++, placement = placement->outer) {
		const struct cutlint_attribute *href = svg_href(placement->use);
		struct svg_scan shown = svg_scan_of(href ? href->value : "");
		text_format(text, "%s%.*s", i ? " in " : ": ", svg_shown(shown), shown.at);
	}
	if (placement)
		text_add_string(text, " in ...");
}

static int refuse(struct svg_walk *walk, uint32_t index, const struct svg_state *outer,
		  enum svg_limit limit, const char *message)
{
	const struct cutlint_element *element = walk->document->elements[index];
	struct text chain = {0};
	add_chain(&chain, outer->placement);
	svg_say_limit(&walk->document->say, limit, element, element->start_tag, "%s%s", message,
		      chain.bytes ? chain.bytes : "");
	text_finish(&chain);
	return -1;
}

static uint64_t attribute_bytes(const struct cutlint_element *element)
{
	uint64_t bytes = element->start_tag.length;
	for (uint32_t i = 0; element->from_entity && i < element->attribute_count; i++)
		bytes += strlen(element->attributes[i].value);
	return bytes;
}

/* Instances are made anew for each use: their number and their cost have an end. */
static int count_visit(struct svg_walk *walk, uint32_t index, const struct svg_state *outer)
{
	const struct svg_limits *limits = &walk->document->options->limits;
	if (outer->depth >= svg_limit_of(limits, SVG_LIMIT_DEPTH))
		return refuse(walk, index, outer, SVG_LIMIT_DEPTH,
			      "elements and uses are nested too deep");
	if (!outer->placement)
		return 0;
	walk->placed_bytes += attribute_bytes(walk->document->elements[index]);
	if (walk->placed++ >= svg_limit_of(limits, SVG_LIMIT_PLACED))
		return refuse(walk, index, outer, SVG_LIMIT_PLACED, "uses place too many elements");
	if (walk->placed_bytes > svg_limit_of(limits, SVG_LIMIT_PLACED_BYTES))
		return refuse(walk, index, outer, SVG_LIMIT_PLACED_BYTES,
			      "uses place too much path data and other text");
	return 0;
}

/* Each selector may be compared with each element. */
static int count_steps(struct svg_walk *walk, uint32_t index, const struct svg_state *outer)
{
	struct svg_document *document = walk->document;
	if (document->css.steps <= svg_limit_of(&document->options->limits, SVG_LIMIT_STYLE_STEPS))
		return 0;
	return refuse(walk, index, outer, SVG_LIMIT_STYLE_STEPS,
		      "the style sheets have too many selectors for so many elements");
}

/* Reads style and transform of an element into the state that is its own. */
static struct svg_state enter(struct svg_walk *walk, uint32_t index, const struct svg_state *outer)
{
	struct svg_state state = *outer;
	svg_specify(walk->document, walk->document->elements[index], &walk->specified);
	state.style = svg_style_compute(&walk->specified, &outer->style);
	if (state.unburned == CUTLINT_BURNED && state.style.no_display)
		state.unburned = CUTLINT_UNBURNED_DISPLAY;
	if (state.unburned == CUTLINT_BURNED && state.style.no_opacity)
		state.unburned = CUTLINT_UNBURNED_OPACITY;
	state.depth++;
	return state;
}

static void transform(struct svg_walk *walk, uint32_t index, struct svg_state *state)
{
	struct svg_subject subject = svg_walk_subject(walk, index, state);
	struct svg_matrix own = svg_find_transform(&subject);
	state->matrix = svg_multiply(state->matrix, own);
	if (svg_determinant(&own) != 0)
		return;
	/* CSS Transforms 1, 8: what can't be turned back is not displayed. */
	const struct svg_value *value = svg_specified_value(&walk->specified, SVG_TRANSFORM);
	struct notice *notice = svg_say(
		&walk->document->say, NOTICE_WARNING, "transform", subject.element,
		svg_text_span(&subject, value->text.at),
		"this transform flattens all to a line or a point; nothing of it is burned");
	svg_suggest(&walk->document->say, notice, "check its numbers, or remove the element");
	if (state->unburned == CUTLINT_BURNED)
		state->unburned = CUTLINT_UNBURNED_DISPLAY;
}

static int walk_children(struct svg_walk *walk, uint32_t index, const struct svg_state *state)
{
	uint32_t after = walk->document->nodes[index].after;
	for (uint32_t child = index + 1; child < after;
	     child = svg_next_sibling(walk->document, child)) {
		if (walk_element(walk, child, state, NULL) < 0)
			return -1;
	}
	return 0;
}

/* The first child that its conditions allow, and no other (SVG 2, 5.8.2). */
static int walk_switch(struct svg_walk *walk, uint32_t index, const struct svg_state *state)
{
	uint32_t after = walk->document->nodes[index].after;
	for (uint32_t child = index + 1; child < after;
	     child = svg_next_sibling(walk->document, child)) {
		const struct cutlint_element *element = walk->document->elements[child];
		if (!svg_kind_renders(kind_of(walk, child)) || !svg_conditions_hold(element))
			continue;
		if (svg_attribute(element, "systemLanguage"))
			svg_say(&walk->document->say, NOTICE_NOTE, "switch", element,
				element->start_tag,
				"of a switch by language the English part is taken");
		return walk_element(walk, child, state, NULL);
	}
	return 0;
}

/* One side of a nested viewport: from the use, else its own, else all of the outer one. */
static double viewport_side(const struct svg_subject *subject, enum svg_property property,
			    bool given, struct svg_length length)
{
	enum svg_direction direction = property == SVG_WIDTH ? SVG_ACROSS : SVG_DOWN;
	double whole = property == SVG_WIDTH ? subject->viewport.width : subject->viewport.height;
	double side = given ? svg_length_resolve(length, subject->viewport, direction)
			    : svg_property_number(subject, property, direction, whole);
	return side < 0 ? whole : side;
}

static struct svg_rectangle nested_rectangle(const struct svg_subject *subject,
					     const struct sizing *sizing)
{
	static const struct sizing NONE = {.has_width = false};
	if (!sizing)
		sizing = &NONE;
	return (struct svg_rectangle){
		svg_property_number(subject, SVG_X, SVG_ACROSS, 0),
		svg_property_number(subject, SVG_Y, SVG_DOWN, 0),
		viewport_side(subject, SVG_WIDTH, sizing->has_width, sizing->width),
		viewport_side(subject, SVG_HEIGHT, sizing->has_height, sizing->height),
	};
}

static void say_empty_viewport(struct svg_walk *walk, uint32_t index)
{
	const struct cutlint_element *element = walk->document->elements[index];
	if (walk->document->nodes[index].after == index + 1)
		return;
	struct notice *notice = svg_say(
		&walk->document->say, NOTICE_WARNING, "viewport", element, element->start_tag,
		"this nested viewport or its viewBox has a width or height of 0: nothing in "
		"it is shown or burned");
	svg_suggest(&walk->document->say, notice, "give it a size, or remove it");
}

/* A nested svg, or a symbol that a use places (SVG 2, 5.1, 5.5 and 8.2). */
static int walk_viewport(struct svg_walk *walk, uint32_t index, struct svg_state *state,
			 const struct sizing *sizing)
{
	struct svg_subject subject = svg_walk_subject(walk, index, state);
	struct svg_rectangle rectangle = nested_rectangle(&subject, sizing);
	struct svg_rectangle box;
	bool empty;
	bool has_box = svg_find_view_box(&subject, &box, &empty);
	if (empty || !(rectangle.width > 0) || !(rectangle.height > 0)) {
		say_empty_viewport(walk, index);
		return 0;
	}
	struct svg_pane pane = {.kind = SVG_PANE_VIEWPORT,
				.matrix = state->matrix,
				.rectangle = rectangle,
				.element = subject.element,
				.span = subject.element->start_tag,
				.outer = state->pane};
	if (!state->style.shows_overflow)
		state->pane = &pane;
	struct svg_matrix view = svg_translation(rectangle.x, rectangle.y);
	state->viewport = (struct svg_viewport){rectangle.width, rectangle.height};
	if (has_box) {
		view = svg_view_transform(box, svg_find_align(&subject), rectangle);
		state->viewport = (struct svg_viewport){box.width, box.height};
	}
	state->matrix = svg_multiply(state->matrix, view);
	return walk_children(walk, index, state);
}

static void say_target(struct svg_walk *walk, const struct cutlint_element *use,
		       const struct cutlint_attribute *href, const char *why)
{
	struct cutlint_span at = href ? svg_value_span(href) : use->start_tag;
	struct notice *notice =
		svg_say(&walk->document->say, NOTICE_ERROR, "use-target", use, at,
			"use '%.60s' places nothing: %s", href ? href->value : "", why);
	svg_suggest(&walk->document->say, notice,
		    "point its href to an element of this drawing, or remove the use");
}

/* The element that a use names; CUTLINT_NONE where there is none, which is said. */
static uint32_t find_target(struct svg_walk *walk, const struct cutlint_element *use)
{
	const struct cutlint_attribute *href = svg_href(use);
	struct svg_scan text = svg_trim(svg_scan_of(href ? href->value : ""));
	uint32_t target = CUTLINT_NONE;
	if (text.at == text.end)
		say_target(walk, use, href, "it has no href");
	else if (!svg_take(&text, '#'))
		say_target(walk, use, href, "what it names is not in this file");
	else if ((target = svg_find_target(walk->document, text)) == CUTLINT_NONE)
		say_target(walk, use, href, "no element has this id");
	return target;
}

/* Whether the element holds the use itself, or a use in whose instance it stands. */
static bool makes_cycle(const struct svg_walk *walk, uint32_t target,
			const struct cutlint_placement *placement)
{
	for (; placement; placement = placement->outer) {
		uint32_t use = placement->use->index;
		if (target <= use && use < walk->document->nodes[target].after)
			return true;
	}
	return false;
}

static bool may_place(struct svg_walk *walk, uint32_t target,
		      const struct cutlint_placement *placement)
{
	const struct cutlint_element *use = placement->use;
	enum svg_kind kind = kind_of(walk, target);
	if (makes_cycle(walk, target, placement)) {
		struct notice *notice =
			svg_say(&walk->document->say, NOTICE_ERROR, "use-cycle", use,
				svg_value_span(svg_href(use)),
				"use '%.60s' places itself; it is left out", svg_href(use)->value);
		svg_suggest(&walk->document->say, notice,
			    "let it point to an element that it does not stand in");
		return false;
	}
	if (kind == SVG_KIND_SYMBOL || svg_kind_renders(kind))
		return true;
	say_target(walk, use, svg_href(use), "the element that it names draws nothing");
	return false;
}

static struct sizing read_sizing(const struct svg_subject *subject)
{
	struct sizing sizing = {.has_width = false};
	sizing.has_width = svg_find_length(subject, SVG_WIDTH, &sizing.width) == SVG_FOUND &&
			   sizing.width.value >= 0;
	sizing.has_height = svg_find_length(subject, SVG_HEIGHT, &sizing.height) == SVG_FOUND &&
			    sizing.height.value >= 0;
	return sizing;
}

/* SVG 2, 5.5: the instance is moved by x and y, inside of the use's own transform. */
static int walk_use(struct svg_walk *walk, uint32_t index, struct svg_state *state)
{
	struct svg_document *document = walk->document;
	struct svg_subject subject = svg_walk_subject(walk, index, state);
	double x = svg_property_number(&subject, SVG_X, SVG_ACROSS, 0);
	double y = svg_property_number(&subject, SVG_Y, SVG_DOWN, 0);
	struct sizing sizing = read_sizing(&subject);
	uint32_t target = find_target(walk, subject.element);
	if (target == CUTLINT_NONE)
		return 0;

	struct cutlint_placement *placement = ARENA_NEW(document->arena, struct cutlint_placement);
	if (!placement)
		return -1;
	*placement = (struct cutlint_placement){subject.element, state->placement};
	if (!may_place(walk, target, placement))
		return 0;
	state->placement = placement;
	state->matrix = svg_multiply(state->matrix, svg_translation(x, y));
	return walk_element(walk, target, state, &sizing);
}

/* An element for another language is not shown by a viewer either; still it is in the file. */
static bool is_allowed(struct svg_walk *walk, uint32_t index)
{
	const struct cutlint_element *element = walk->document->elements[index];
	if (svg_conditions_hold(element))
		return true;
	if (svg_attribute(element, "systemLanguage"))
		svg_say(&walk->document->say, NOTICE_NOTE, "switch", element, element->start_tag,
			"this is for a language other than English; it is left out");
	return false;
}

/* Whether an element is rendered where it stands, or, for a use, where it is placed. */
static bool is_rendered(const struct svg_walk *walk, uint32_t index, const struct sizing *sizing)
{
	enum svg_kind kind = kind_of(walk, index);
	return kind == SVG_KIND_SYMBOL ? sizing != NULL : svg_kind_renders(kind);
}

static int walk_element(struct svg_walk *walk, uint32_t index, const struct svg_state *outer,
			const struct sizing *sizing)
{
	struct svg_node *node = &walk->document->nodes[index];
	if (count_visit(walk, index, outer) < 0)
		return -1;
	walk->document->say.quiet = node->placed;
	if (!is_rendered(walk, index, sizing) || !is_allowed(walk, index))
		return 0;
	struct svg_state state = enter(walk, index, outer);
	if (count_steps(walk, index, outer) < 0)
		return -1;
	transform(walk, index, &state);
	struct svg_pane panes[SVG_OWN_PANES];
	svg_panes_add(walk, index, &state, panes);
	node->placed = true;
	switch (node->kind) {
	case SVG_KIND_SVG:
	case SVG_KIND_SYMBOL:
		return walk_viewport(walk, index, &state, sizing);
	case SVG_KIND_GROUP:
		return walk_children(walk, index, &state);
	case SVG_KIND_SWITCH:
		return walk_switch(walk, index, &state);
	case SVG_KIND_USE:
		return walk_use(walk, index, &state);
	default:
		return svg_place_shape(walk, index, &state);
	}
}

static void note_root_transform(const struct svg_subject *root)
{
	const struct svg_value *value = svg_specified_value(root->specified, SVG_TRANSFORM);
	if (!value || svg_is_word(value->text, "none") || value->text.at == value->text.end)
		return;
	struct notice *notice = svg_say(&root->document->say, NOTICE_WARNING, "unsupported-content",
					root->element, svg_text_span(root, value->text.at),
					"a transform on the root element is not applied");
	svg_suggest(&root->document->say, notice, "put all into a <g> that has this transform");
}

int svg_walk_root(struct svg_walk *walk)
{
	struct svg_state outer = {.matrix = SVG_IDENTITY, .style = svg_style_initial()};
	struct svg_state state = enter(walk, 0, &outer);
	struct svg_subject root = svg_walk_subject(walk, 0, &state);
	note_root_transform(&root);
	walk->page = svg_page_read(&root);
	state.matrix = walk->page.matrix;
	state.viewport = walk->page.viewport;
	struct svg_pane panes[SVG_OWN_PANES];
	svg_panes_add(walk, 0, &state, panes);
	int result = walk_children(walk, 0, &state);
	walk->document->say.quiet = false;
	return result;
}

void svg_walk_finish(struct svg_walk *walk)
{
	svg_outliner_finish(&walk->outliner);
	if (!walk->settled)
		free(walk->shapes);
}
