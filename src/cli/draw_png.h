/* draw_png.h - the plain picture as a PNG, by the module that is opened for it. */
#ifndef CLI_DRAW_PNG_H
#define CLI_DRAW_PNG_H

#include "base/arena.h"
#include "base/progress.h"
#include "base/text.h"

/*
 * Before the work: whether the module is there at all. Returns 0, or -1, which was said; `name` is
 * what was to be written.
 */
int png_look_for_module(struct arena *arena, const char *name);

struct png_order {
	const char *name; /* to be said with what fails */
	double dpi;
	const struct progress *progress; /* may be NULL */
};

/*
 * Draws an SVG in a process of its own, which opens the module: what fails there costs the picture
 * only. Adds the PNG to `out`. Returns 0, or -1, which was said.
 */
int png_draw(const struct png_order *order, const struct text *svg, struct text *out);

#endif
