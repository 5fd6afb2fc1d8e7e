/* figures.h - drawings held as curves, which can be written as SVG in more than one way. */
#ifndef TESTS_SHEET_FIGURES_H
#define TESTS_SHEET_FIGURES_H

#include "drawing.h"

enum { PIECES_MOST = 48, SUBPATHS_MOST = 3, FIGURES_MOST = 40 };

/* A cubic Bézier curve, or the straight line from its first point to its last. */
struct piece {
	struct cutlint_xy points[4];
	bool straight;
};

struct subpath {
	struct piece pieces[PIECES_MOST];
	int count;
	bool closed;
};

/* One element. */
struct figure {
	struct subpath subpaths[SUBPATHS_MOST];
	int count;
	const char *attributes;
};

struct figures {
	struct figure items[FIGURES_MOST];
	int count;
	const char *name;
};

/* x' = a x + c y + e, y' = b x + d y + f, as in SVG's matrix(). */
struct motion {
	double a, b, c, d, e, f;
};

/* Where a place on the sheet of a drawing goes, when that drawing is moved. */
struct cutlint_xy figures_moved(const struct motion *motion, struct cutlint_xy at);

/* How they are written. */
struct drawn_as {
	bool reversed;  /* each subpath from its end to its start */
	bool reordered; /* the elements in the opposite order */
	bool split;     /* each piece in two */
	int start;      /* closed subpaths begin at a later piece */
};

/* A card of 100 by 60 mm with 2 to 24 windows, letters and slits, which may overlap. */
void figures_random(struct figures *figures, uint64_t number);

/* The designs that have names, from 0; false behind the last. */
bool figures_named(struct figures *figures, int number);

/* Opens the drawing on a page that holds it wherever it is moved. Flatness in mm; 0: the default.
 */
void figures_open(const struct figures *figures, const struct motion *motion,
		  const struct drawn_as *as, double flatness_mm, struct drawing *drawing);

/* The length of all lines of a design, in mm. */
double figures_length(const struct cutlint_design *design);

#endif
