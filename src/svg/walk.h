/* walk.h - what the walk over the elements carries along. */
#ifndef SVG_WALK_H
#define SVG_WALK_H

#include "svg/geometry.h"
#include "svg/outline.h"
#include "svg/page.h"

enum svg_pane_kind { SVG_PANE_VIEWPORT, SVG_PANE_CLIP, SVG_PANE_MASK, SVG_PANE_FILTER };

/* What hides or changes what is seen through it: a nested viewport (SVG 2, overflow), a clip path.
 */
struct svg_pane {
	enum svg_pane_kind kind;
	bool whole;               /* what it hides is not known: it may be anything */
	struct svg_matrix matrix; /* from the space that the rectangle is in to mm */
	struct svg_rectangle rectangle;
	const struct cutlint_element *element;
	struct cutlint_span span; /* where it is asked for */
	const struct svg_pane *outer;
};

/* What an element hands down to those in it. */
struct svg_state {
	struct svg_matrix matrix; /* to mm */
	struct svg_viewport viewport;
	struct svg_style style;
	const struct cutlint_placement *placement;
	const struct svg_pane *pane;
	enum cutlint_unburned unburned; /* by an ancestor */
	uint32_t depth;
};

struct svg_walk {
	struct svg_document *document;
	struct svg_outliner outliner;
	struct cutlint_shape *shapes; /* in the arena if `settled`, else from malloc */
	bool settled;                 /* there was room for all of them from the start */
	uint32_t shape_count, shape_capacity;
	uint32_t placed;       /* elements that stand in instances */
	uint64_t placed_bytes; /* of the attributes that were read again for them */
	struct svg_page page;
	struct svg_specified specified; /* of the element that is being read */
};

/*
 * Walks over all that is rendered in the root element. Returns 0, or -1 with a fatal notice or
 * where memory ran out. Free with svg_walk_finish.
 */
int svg_walk_root(struct svg_walk *walk);
void svg_walk_finish(struct svg_walk *walk);

/* The element that is being read, for reading its values. */
struct svg_subject svg_walk_subject(struct svg_walk *walk, uint32_t index,
				    const struct svg_state *state);

/* Adds the shape of a graphic element; its style and transform are in the state. 0 or -1. */
int svg_place_shape(struct svg_walk *walk, uint32_t index, const struct svg_state *state);

/* Counts the shapes that stand in templates and were placed nowhere: one note a kind. */
void svg_count_templates(struct svg_document *document);

/* Says which elements would change the drawing in a viewer and are not followed. */
void svg_note_unfollowed(struct svg_document *document);

/*
 * Conditional processing (SVG 2, 5.8): whether the element's systemLanguage and requiredExtensions
 * allow it. The language is taken to be English.
 */
bool svg_conditions_hold(const struct cutlint_element *element);

#endif
