/* look.h - the finished card, open, seen from the front. */
#ifndef PROOF_LOOK_H
#define PROOF_LOOK_H

#include "proof/scene.h"

/* The picture's box, captions and ruler included, and its contents. */
struct cutlint_box look_open_box(const struct scene *scene);
void look_open(const struct scene *scene, struct writer *writer);

/* What the pictures of finished cards share: the room round them, captions, the ruler. */
struct cutlint_box look_frame(struct cutlint_box cards, double least_width_mm);
/* Opens a text; `class` is "above" or "below", where it stands by the card. */
void look_open_caption(struct writer *writer, struct cutlint_xy at, const char *class);
/*
 * Text that narrow screens do without, in a caption or a label. The space behind it belongs to what
 * follows: some renderers drop it here.
 */
void look_write_long(struct writer *writer, const char *text);
void look_ruler(struct writer *writer, struct cutlint_box box);

#endif
