/* dash.h - the fold outlines as straight dashes, and those that make one fold together. */
#ifndef SHEET_DASH_H
#define SHEET_DASH_H

#include "sheet/cuts.h"
#include "sheet/work.h"

/*
 * A fold outline from one corner to the next, as the straight line between those of its vertices
 * that are farthest apart. A closed outline's run may go on from its start.
 */
struct dash {
	uint32_t outline;
	uint32_t first, run; /* the run of its vertices: where it starts, and how many they are */
	struct cutlint_xy from, to;
	double length;
	uint32_t card; /* that holds its middle; CUTLINT_NONE for none */
};

struct dashes {
	struct dash *items;
	uint32_t count;
	uint32_t *sets;         /* those that make one fold: see sets.h */
	struct cutlint_box box; /* of all */
};

/* Dashes by fold: fold f has members[first[f]] to members[first[f + 1]], in their order. */
struct dash_folds {
	uint32_t *members, *first;
	uint32_t count;
};

/* A straight stretch, up or to the right. */
struct span {
	struct cutlint_xy from, to;
};

/* A stretch of a fold's span, in mm along it, at which it is parted. */
struct fold_break {
	uint32_t fold;
	double low, high;
};

/* All return 0, or -1 where memory ran out. */
int dashes_collect(const struct sheet_work *work, struct dashes *dashes);

/* Joins dashes that lie in one line, with gaps in which no pop-up stands. */
int dashes_join(struct dashes *dashes, struct fold_cuts *cuts);
int dashes_group(struct arena *arena, struct dashes *dashes, struct dash_folds *folds);

/* The straight line of some dashes: between their ends that are farthest apart along it. */
struct span dashes_span(const struct dashes *dashes, const uint32_t *members, uint32_t count);

/*
 * Parts folds at breaks, which are ordered by fold and place and do not overlap. What lies in a
 * break is dropped, and so is what remains of a dash where that is shorter than SHEET_ON_CUT_MM.
 */
int dashes_part(struct arena *arena, struct dashes *dashes, const struct dash_folds *folds,
		const struct span *spans, const struct fold_break *breaks, uint32_t count);

/* How far the vertices of a dash stray from a straight line, in mm. */
double dash_strays(const struct cutlint_design *design, const struct dash *dash,
		   struct cutlint_xy from, struct cutlint_xy to);

/* The first card that holds a place; CUTLINT_NONE without one. */
uint32_t sheet_card_at(const struct sheet_work *work, struct cutlint_xy at);

#endif
