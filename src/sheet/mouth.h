/* mouth.h - mouths: a cut across a fold, with scores that meet on the fold, parts it. */
#ifndef SHEET_MOUTH_H
#define SHEET_MOUTH_H

#include "sheet/cuts.h"
#include "sheet/dash.h"

/*
 * Finds where mouths part folds, given by their spans. At a mouth the paper between the cut and two
 * scores folds forward, and the fold with it, the other way than the rest. Each score runs from the
 * cut to the same place on the fold, one on each side, at equal angles: only so four folds that
 * meet in a place fold flat (Kawasaki's theorem on flat-folded vertices). The break is all that the
 * cut takes of the fold: a place for a slit, a stretch for a window. They come by fold and place,
 * and do not overlap. 0, or -1 where memory ran out.
 */
int mouths_find(struct fold_cuts *cuts, const struct span *spans, uint32_t count,
		struct fold_break **breaks, uint32_t *break_count);

#endif
