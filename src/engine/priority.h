/* priority.h - one cause, one finding. */
#ifndef ENGINE_PRIORITY_H
#define ENGINE_PRIORITY_H

#include "engine/finding.h"

/*
 * Drops findings that only repeat, at the same place, the cause of another one: see the table in
 * priority.c. Two findings are at the same place if they name one element in common, their own or
 * that of a related place, and
 * - the two places are at most PRIORITY_NEAR_MM apart on the sheet, or
 * - the effect is drawn as wide, within PRIORITY_WIDTH_MM, as the cause's two lines are apart: then
 *   it is the sliver between them, wherever along the lines it was found.
 * Of two rules that judge one width, drawn the same within PRIORITY_WIDTH_MM, at places at most
 * PRIORITY_NEAR_MM apart or with all elements in common, the graver finding stays. The gap at a
 * line's end stands for the bridge that it leaves, drawn as wide, at the same spot. What counts
 * many, such as specks, stands for all findings of which nothing that both measure reaches one of
 * its limits. A line that crosses itself stands for the openings at the crossing, a cut on a score
 * for the panel of its element that it takes off. A silenced cause still hides what follows from
 * it, but not another rule's judgement of the same width.
 */
void priority_apply(struct findings *findings);

/* Choices, all of them. */
#define PRIORITY_NEAR_MM  1.0
#define PRIORITY_SPOT_MM  0.01
#define PRIORITY_WIDTH_MM 0.05
/* No opening farther from a crossing comes of it. */
#define PRIORITY_CORNER_MM 2.0

#endif
