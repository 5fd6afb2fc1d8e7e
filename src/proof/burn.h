/* burn.h - the lines as they will be burned: kerf in its true width, roles, order, travel. */
#ifndef PROOF_BURN_H
#define PROOF_BURN_H

#include "proof/order.h"
#include "proof/scene.h"

/* Lines up to so many get their number in the order, and their start, drawn. */
#define BURN_NUMBERED 400u

/* As the beam sees the sheet. */
void burn_draw(const struct scene *scene, struct writer *writer, const struct order *order);

/* The lines only, the kerf in its true width, the line that tells the role up to `centre_mm`. */
void burn_draw_lines(const struct scene *scene, struct writer *writer, double centre_mm);

/* How a role's lines look: a dash array in mm ("" is solid), and what the key says of it. */
struct burn_style {
	enum cutlint_role role;
	const char *dashes;
	const char *meaning;
};

/* Styles of the roles that have lines here, one after the other from 0; false past the last. */
bool burn_style(const struct scene *scene, uint32_t number, struct burn_style *out);

/* A sample of a style, from 0,0 to the right. */
void burn_sample(const struct scene *scene, struct writer *writer, const struct burn_style *style,
		 double width_mm, double middle_mm);

#endif
