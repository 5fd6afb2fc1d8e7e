#include "svg/pane.h"

#include <math.h>

#include "svg/reference.h"

struct wording {
	const char *code, *message, *suggestion;
};

static const struct wording WORDINGS[] = {
	[SVG_PANE_VIEWPORT] = {"viewport",
			       "a part lies outside of this nested viewport: a viewer does not "
			       "show it, still it is burned",
			       "cut the art to the viewport, or write overflow=\"visible\" if all "
			       "of it is meant"},
	[SVG_PANE_CLIP] = {"clip-path",
			   "what a viewer hides by this clip path is burned all the same",
			   "cut the shapes to the clip path (an intersection) and remove it"},
	[SVG_PANE_MASK] = {"mask", "what a viewer hides by this mask is burned all the same",
			   "cut the shapes to what the mask shows and remove it"},
	[SVG_PANE_FILTER] = {"filter",
			     "a filter changes how this looks, such as a blur or a shadow; the "
			     "plain outline is burned",
			     "remove the filter, or draw what it shows as shapes"},
};

static void tell(struct svg_walk *walk, const struct svg_pane *pane)
{
	struct svg_document *document = walk->document;
	struct svg_node *node = &document->nodes[pane->element->index];
	const struct wording *wording = &WORDINGS[pane->kind];
	if (node->told_panes >> pane->kind & 1)
		return;
	node->told_panes = (node->told_panes | (1u << pane->kind)) & 15u;
	bool quiet = document->say.quiet;
	document->say.quiet = false; /* what is seen through it may have been met before */
	struct notice *notice = svg_say(&document->say, NOTICE_WARNING, wording->code,
					pane->element, pane->span, "%s", wording->message);
	svg_suggest(&document->say, notice, "%s", wording->suggestion);
	document->say.quiet = quiet;
}

/* Whether a vertex lies outside of the rectangle, by more than a rounding. */
static bool outside(const struct svg_pane *pane, struct cutlint_xy at)
{
	static const double SLACK = 1e-3;
	const struct svg_matrix *m = &pane->matrix;
	const struct svg_rectangle *r = &pane->rectangle;
	double determinant = svg_determinant(m);
	double dx = at.x - m->e, dy = at.y - m->f;
	double x = (m->d * dx - m->c * dy) / determinant;
	double y = (m->a * dy - m->b * dx) / determinant;
	double slack = SLACK / sqrt(fabs(determinant));
	return x < r->x - slack || y < r->y - slack || x > r->x + r->width + slack ||
	       y > r->y + r->height + slack;
}

static bool hides(const struct svg_outliner *outliner, uint32_t first_vertex,
		  const struct svg_pane *pane)
{
	if (pane->kind == SVG_PANE_FILTER || pane->whole)
		return pane->whole;
	for (uint32_t i = first_vertex; i < outliner->count.vertices; i++) {
		if (outside(pane, cutlint_point_mm(outliner->vertices[i])))
			return true;
	}
	return false;
}

bool svg_panes_hide(struct svg_walk *walk, const struct svg_pane *pane, uint32_t first_vertex,
		    bool burned)
{
	bool hidden = false;
	if (first_vertex == walk->outliner.count.vertices)
		return false;
	for (; pane; pane = pane->outer) {
		bool one = hides(&walk->outliner, first_vertex, pane);
		if (burned && (one || pane->kind == SVG_PANE_FILTER))
			tell(walk, pane);
		hidden = hidden || one;
	}
	return hidden;
}

/* Whether a property asks for a pane; a reference to nothing is as none (CSS Masking 1, 5.1). */
static bool wants_pane(const struct svg_subject *subject, enum svg_property property,
		       uint32_t *target)
{
	const struct svg_value *value = svg_specified_value(subject->specified, property);
	*target = CUTLINT_NONE;
	if (!value || !value->flag)
		return false;
	struct svg_scan text = value->text;
	return svg_take_reference(subject->document, &text, target) != SVG_REFERENCE_MISSING;
}

static void add(const struct svg_subject *subject, struct svg_state *state,
		enum svg_property property, struct svg_pane *pane)
{
	const struct svg_value *value = svg_specified_value(subject->specified, property);
	pane->element = subject->element;
	pane->span = svg_text_span(subject, value->text.at);
	pane->outer = state->pane;
	state->pane = pane;
}

void svg_panes_add(struct svg_walk *walk, uint32_t index, struct svg_state *state,
		   struct svg_pane panes[SVG_OWN_PANES])
{
	struct svg_subject subject = svg_walk_subject(walk, index, state);
	uint32_t target;
	if (wants_pane(&subject, SVG_CLIP_PATH, &target)) {
		struct svg_pane *clip = &panes[0];
		*clip = (struct svg_pane){.kind = SVG_PANE_CLIP, .matrix = state->matrix};
		clip->whole = target == CUTLINT_NONE ||
			      !svg_clip_rectangle(walk->document, target, state->viewport,
						  &clip->matrix, &clip->rectangle);
		add(&subject, state, SVG_CLIP_PATH, clip);
	}
	if (wants_pane(&subject, SVG_MASK, &target)) {
		panes[1] = (struct svg_pane){.kind = SVG_PANE_MASK, .whole = true};
		add(&subject, state, SVG_MASK, &panes[1]);
	}
	if (wants_pane(&subject, SVG_FILTER, &target)) {
		panes[2] = (struct svg_pane){.kind = SVG_PANE_FILTER};
		add(&subject, state, SVG_FILTER, &panes[2]);
	}
}
