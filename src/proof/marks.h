/* marks.h - findings on the sheet: numbered marks, and dimension lines in their true size. */
#ifndef PROOF_MARKS_H
#define PROOF_MARKS_H

#include "proof/scene.h"

/* Whether a finding has a place on the sheet to be marked. */
bool marks_has_place(const struct finding *finding);

/* The stretch of sheet to look at: a finding's place, and what it measures there. */
struct cutlint_box marks_extent(const struct finding *finding);

/*
 * A mark for every finding that has a place, as links to #finding-NUMBER: a ring at the true place,
 * and a flag with the number, led out to where it hides no other one.
 */
void marks_draw(const struct scene *scene, struct writer *writer);

#endif
