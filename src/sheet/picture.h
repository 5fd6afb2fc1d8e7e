/* picture.h - what the sheet falls into, as polygons to look at. */
#ifndef SHEET_PICTURE_H
#define SHEET_PICTURE_H

#include <stdint.h>

#include "cutlint/sheet.h"

struct intent;
struct sheet_necks;
struct sheet_work;

/* A closed polygon: points first up to, not including, first + count. */
struct picture_ring {
	uint32_t first, count;
};

/*
 * A card, or what lies on one: a window, a loose part, or kept material that the kerf burns away
 * whole (CUTLINT_PART_WASTE). Its rings are to be filled even-odd. All else on a card is kept.
 */
struct picture_region {
	enum cutlint_part_kind kind; /* CUTLINT_PART_FRAME: all of a card */
	uint32_t card;
	uint32_t part; /* CUTLINT_NONE for cards and what is burned away */
	uint32_t first_ring, ring_count;
};

/* Regions in the order cards, windows, burned away, loose parts. All of it lives in the arena of
 * the sheet. */
struct sheet_picture {
	const struct cutlint_point *points;
	const struct picture_ring *rings;
	const struct picture_region *regions;
	uint32_t point_count, ring_count, region_count;
};

/* Fills work->picture; of_piece tells each piece's part. 0, or -1 where memory ran out. */
int picture_take(struct sheet_work *work, const struct intent *intent,
		 const struct sheet_necks *necks, const uint32_t *of_piece);

#endif
