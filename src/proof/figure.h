/* figure.h - the pieces that pictures are made of. */
#ifndef PROOF_FIGURE_H
#define PROOF_FIGURE_H

#include "proof/scene.h"

/* The inks of all pictures: near black on warm white paper. */
#define FIGURE_INK   "#2b2622"
#define FIGURE_PAPER "#fdfbf6"
#define FIGURE_FAINT "#6b6459" /* 5.5 : 1 on the paper */

/* Opens a picture of true size: an svg element with its namespaces, in a page or of its own. */
void figure_open(struct writer *writer, const char *class, struct cutlint_box box);

/* A straight line in mm. */
void figure_line(struct writer *writer, struct cutlint_xy from, struct cutlint_xy to,
		 const char *stroke, double width_mm);

void figure_circle(struct writer *writer, const char *class, struct cutlint_xy at, double radius,
		   const char *fill, const char *stroke, double width_mm);

/* Opens a text element with its middle at a place; its size is in mm. */
void figure_open_text(struct writer *writer, struct cutlint_xy at, double size_mm,
		      const char *anchor, const char *fill);

/* A ruler of `length_mm` with a tick a mm, its zero at a place. */
void figure_ruler(struct writer *writer, struct cutlint_xy at, double length_mm);

/* The length of the ruler that fits under a picture so wide: 100 mm, 50 mm, 20 mm or 10 mm. */
double figure_ruler_length(double width_mm);

#endif
