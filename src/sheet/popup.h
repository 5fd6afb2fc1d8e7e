/* popup.h - kept strips between two cuts, which stand across a fold and part it. */
#ifndef SHEET_POPUP_H
#define SHEET_POPUP_H

#include "sheet/cuts.h"

/* A score ends on a cut. */
struct hinge {
	uint32_t cut;  /* outline */
	uint32_t line; /* all scores in one straight line have one number */
	struct cutlint_xy at;
};

/* What is needed to tell pop-ups; the hinges are to be filled, then sorted. */
struct popups {
	struct fold_cuts *cuts;
	struct hinge *hinges; /* by cut, then by line */
	uint32_t hinge_count;
	bool *inside; /* of each outline: whether a search is within it */
};

/* 0, or -1 where memory ran out. */
int popups_init(struct popups *popups, struct fold_cuts *cuts, struct hinge *hinges,
		uint32_t hinge_count);

/*
 * Whether a pop-up stands in a gap of a fold, at which the fold ends on both sides. That is kept
 * material, at least 1 mm wide, which leads from one cut to another, and which either fills the gap
 * (the fold ends on both cuts), or has a score on each side of the fold that runs from the one cut
 * to the other. What lies inside one closed cut is a window, which parts no fold, and neither does
 * a single slit; nor do two windows or slits that merely lie in one gap of a dashed fold.
 */
bool popups_part(struct popups *popups, struct cutlint_xy from, struct cutlint_xy to);

#endif
