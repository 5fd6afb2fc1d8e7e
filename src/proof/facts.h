/* facts.h - what the card measures, and what it costs to cut. */
#ifndef PROOF_FACTS_H
#define PROOF_FACTS_H

#include "proof/order.h"
#include "proof/scene.h"

/* Writes lists and tables of HTML. */
void facts_write(const struct scene *scene, struct writer *writer, const struct order *order);

/* "1 h 5 min", "3 min 20 s", "12 s". */
void text_add_time(struct text *text, double seconds);

#endif
