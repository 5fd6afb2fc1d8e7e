/* popup.h - kept strips between two cuts, which stand across a fold and part it. */
#ifndef SHEET_POPUP_H
#define SHEET_POPUP_H

#include "geometry/index.h"
#include "sheet/work.h"

/* The cuts near some folds, and room for a search among them. */
struct popups {
	const struct sheet_work *work;
	struct geo_segment *segments;
	uint32_t *outlines; /* of each segment */
	uint32_t *seen;     /* of each segment: the last search that met it */
	uint32_t count, searches;
	struct geo_index *index;
	struct popup_cut *met;
	bool *inside; /* of each outline: whether a search is within it */
};

/*
 * Collects the cuts that come near a box of the sheet. Needs the loops. 0, or -1 where memory ran
 * out; finish it in either case.
 */
int popups_init(struct popups *popups, const struct sheet_work *work, struct cutlint_box around);
void popups_finish(struct popups *popups);

/*
 * Whether a gap of a fold, from one place to another, leads over kept material from one cut to
 * another: that is a pop-up, at which the fold ends on both sides. What lies inside one closed cut
 * is a window, which parts no fold, and neither does a single slit.
 */
bool popups_part(struct popups *popups, struct cutlint_xy from, struct cutlint_xy to);

#endif
