/* folded.h - a card as it comes out of its envelope: folded, seen from the front. */
#ifndef PROOF_FOLDED_H
#define PROOF_FOLDED_H

#include "proof/scene.h"

/* A proof shows so many cards folded; the others are counted. */
#define FOLDED_MOST 12

/* How many cards can be shown folded. */
uint32_t folded_count(const struct scene *scene);

/* The picture's box, caption and ruler included; its contents, which need look_open's. */
struct cutlint_box folded_box(const struct scene *scene, uint32_t card);
void folded_draw(const struct scene *scene, struct writer *writer, uint32_t card);

/* "card 2 of 4, rect#tag"; of an only card just "card". */
void folded_add_name(const struct scene *scene, struct text *text, uint32_t card);

#endif
