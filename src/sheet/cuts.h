/* cuts.h - the cuts near some folds: which of them a straight line meets, and where. */
#ifndef SHEET_CUTS_H
#define SHEET_CUTS_H

#include "geometry/index.h"
#include "sheet/work.h"

/*
 * A fold that ends this little off a cut still ends on it, and folds that meet this near are one
 * place (mm). Common practice, no source.
 */
#define SHEET_ON_CUT_MM 0.5

/* Where a line meets a cut, in mm along it. */
struct met_cut {
	double at;
	uint32_t outline;
	uint32_t unit; /* the closed cut that it enters or leaves there; else CUTLINT_NONE */
};

struct fold_cuts {
	const struct sheet_work *work;
	struct geo_segment *segments;
	uint32_t *outlines; /* of each segment */
	uint32_t *seen;     /* of each segment: the last search that met it */
	uint32_t count, searches;
	struct geo_index *index;
	struct met_cut *met; /* what the last search met */
};

/*
 * Collects the cuts that come near a box of the sheet. Needs the loops. 0, or -1 where memory ran
 * out; finish it in either case.
 */
int fold_cuts_init(struct fold_cuts *cuts, const struct sheet_work *work,
		   struct cutlint_box around);
void fold_cuts_finish(struct fold_cuts *cuts);

/* How many cuts the straight line from one place to another meets: `met`, in order along it. */
uint32_t fold_cuts_meet(struct fold_cuts *cuts, struct cutlint_xy from, struct cutlint_xy to);

/* How many cuts a place lies on, one a side of a cut: `met`, in no order. */
uint32_t fold_cuts_at(struct fold_cuts *cuts, struct cutlint_xy at);

#endif
