/* neck.h - necks of kept material with their true widths, and the pieces on both sides. */
#ifndef SHEET_NECK_H
#define SHEET_NECK_H

#include "geometry/pieces.h"
#include "sheet/intent.h"

struct sheet_neck {
	uint32_t pieces[2];
	bool sound; /* joins two pieces and is not burned through */
};

struct sheet_necks {
	struct sheet_neck *items;
	struct cutlint_neck *necks; /* of each item; its parts are not set */
	uint32_t count;
	struct geo_pieces pieces;
	struct geo_rings rings; /* of the pieces; empty unless a picture is wanted */
};

/*
 * Finds the necks of all kept faces, cuts the faces into pieces along them, and measures them. The
 * items live in the scratch arena, the necks in that of the result. The arrangement's index has
 * served then, and is dropped. 0, or -1 where memory ran out; call neck_finish in both cases.
 */
int neck_find(struct sheet_work *work, const struct burn *burn, struct geo_arrangement *arrangement,
	      const struct intent *intent, struct sheet_necks *out);
void neck_finish(struct sheet_necks *necks);

#endif
