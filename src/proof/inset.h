/* inset.h - where the insets lie behind the cards' faces. */
#ifndef PROOF_INSET_H
#define PROOF_INSET_H

#include "proof/scene.h"

/* Looks for the scene's insets. */
void inset_find(struct scene *scene);

/*
 * Writes a rectangle for each face that an inset lies behind, in mm times `scale`: where it is
 * drawn on the face, else centred behind it. Without any in the drawing, one is taken to cover each
 * face.
 */
void inset_write(const struct scene *scene, struct writer *writer, double scale, const char *paint);

#endif
