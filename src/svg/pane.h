/* pane.h - what lies between an element and the eye: viewports, clip paths, masks, filters. */
#ifndef SVG_PANE_H
#define SVG_PANE_H

#include "svg/walk.h"

/* Panes that one element may bring. */
#define SVG_OWN_PANES 3

/*
 * Adds the panes that the properties of an element ask for to its state. A clip path that is a
 * plain rectangle hides only what lies outside of it.
 */
void svg_panes_add(struct svg_walk *walk, uint32_t index, struct svg_state *state,
		   struct svg_pane panes[SVG_OWN_PANES]);

/*
 * Whether a pane hides a part of the vertices from `first_vertex` on. For a shape that is burned
 * each pane that matters is said once.
 */
bool svg_panes_hide(struct svg_walk *walk, const struct svg_pane *pane, uint32_t first_vertex,
		    bool burned);

/* Finds the rectangle that a clipPath element is, in the space of what it clips. */
bool svg_clip_rectangle(struct svg_document *document, uint32_t clip, struct svg_viewport viewport,
			struct svg_matrix *matrix, struct svg_rectangle *out);

#endif
