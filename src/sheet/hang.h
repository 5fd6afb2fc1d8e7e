/* hang.h - which pieces hang on a frame by sound bridges, and which bridges alone hold something.
 */
#ifndef SHEET_HANG_H
#define SHEET_HANG_H

#include "sheet/neck.h"

struct hang {
	bool *hangs;     /* of each piece: it is a frame or hangs on one */
	uint32_t *group; /* of each piece: the lowest piece it is joined to by sound bridges */
	uint32_t *away;  /* of each neck that alone holds something: the piece away from the frame;
			    else GEO_NONE */
	uint32_t *bridges; /* of each piece: sound bridges that end on it */
	uint32_t *holding; /* of each piece: those without which something less would hold it */
};

/*
 * `frames` are pieces, or GEO_NONE. Sound bridges that alone hold something are the bridges of
 * graph theory, found by one depth-first walk (R. E. Tarjan, "A note on finding the bridges of a
 * graph", Information Processing Letters 2, 1974). 0, or -1 where memory ran out.
 */
int hang_find(struct arena *arena, const struct sheet_necks *necks, const uint32_t *frames,
	      uint32_t frame_count, struct hang *out);

#endif
