/* look.h - the finished card: open, seen from the front, and folded. */
#ifndef PROOF_LOOK_H
#define PROOF_LOOK_H

#include "proof/scene.h"

/* The boxes of both pictures, captions and ruler included. */
struct cutlint_box look_open_box(const struct scene *scene);
struct cutlint_box look_folded_box(const struct scene *scene); /* only with a card to fold */

/* The contents of a picture. look_folded shows the group that look_open defines. */
void look_open(const struct scene *scene, struct writer *writer);
void look_folded(const struct scene *scene, struct writer *writer);

#endif
