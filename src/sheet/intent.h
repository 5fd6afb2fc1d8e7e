/* intent.h - which faces are kept and which fall out, as the drawing means it. */
#ifndef SHEET_INTENT_H
#define SHEET_INTENT_H

#include "geometry/arrangement.h"
#include "sheet/burn.h"

enum face_kind {
	FACE_WASTE, /* outside every card, or burned away whole */
	FACE_KEPT,
	FACE_WINDOW
};

struct intent {
	uint8_t *kinds;  /* of each face: enum face_kind */
	uint32_t *cards; /* of each face: its card, or CUTLINT_NONE */
};

/*
 * Within a card, what is covered by filled art is a window where the shapes that cover it, in the
 * order of the file, make an odd number of runs of equal paint: shapes of one paint that overlap
 * are one window, a shape in another of a different paint is kept again. A shape covers by its own
 * fill rule. Closed art without a fill turns window into kept and back, by nesting. What is kept by
 * that count but lies in two overlapping windows, with windows all round, falls out with them.
 *
 * Walks once through the faces from neighbour to neighbour, with the covering shapes as the state.
 * The result lives in the scratch arena. Returns 0, or -1 where memory ran out.
 */
int intent_find(struct sheet_work *work, const struct burn *burn,
		const struct geo_arrangement *arrangement, struct intent *out);

/* Turns kept faces in which no circle of the kerf's diameter fits into waste: nothing is left. */
int intent_burn_away(struct sheet_work *work, const struct geo_arrangement *arrangement,
		     struct intent *intent);

#endif
