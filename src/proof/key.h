/* key.h - what the patterns and line styles of the pictures mean. */
#ifndef PROOF_KEY_H
#define PROOF_KEY_H

#include "proof/scene.h"

/* As lists of HTML, with samples in true size. */
void key_write_look(const struct scene *scene, struct writer *writer);
void key_write_lines(const struct scene *scene, struct writer *writer);

/* Both as one column of a drawing, from a corner down. Returns the height used, in mm. */
double key_draw(const struct scene *scene, struct writer *writer, struct cutlint_xy corner);

#endif
