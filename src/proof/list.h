/* list.h - the findings as a list beside the picture. */
#ifndef PROOF_LIST_H
#define PROOF_LIST_H

#include "proof/scene.h"

/* Errors, warnings and notes that count; and those that the drawing or the job silences. */
struct list_tally {
	uint32_t by_severity[CUTLINT_ERROR + 1];
	uint32_t silenced;
};

struct list_tally list_count(const struct findings *findings);

void list_write(const struct scene *scene, struct writer *writer);

#endif
