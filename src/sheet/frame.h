/* frame.h - which piece of a card is the card itself. */
#ifndef SHEET_FRAME_H
#define SHEET_FRAME_H

#include "sheet/neck.h"

/*
 * The frame of each card: of its kept faces on its edge the one that holds most of its fold, else
 * the largest; and of that face's pieces the largest on the edge. `frames` gets a piece for each
 * card, GEO_NONE where nothing is kept on its edge. Returns 0, or -1 where memory ran out.
 */
int frame_find(struct sheet_work *work, const struct burn *burn,
	       const struct geo_arrangement *arrangement, const struct intent *intent,
	       const struct sheet_necks *necks, uint32_t *frames);

#endif
