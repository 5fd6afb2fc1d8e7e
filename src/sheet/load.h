/* load.h - how much hangs on each bridge that alone holds something, and how far it reaches. */
#ifndef SHEET_LOAD_H
#define SHEET_LOAD_H

#include "sheet/hang.h"

/*
 * Sets load_mm2 and reach_mm of the sound necks with a piece away from the frame. The reach is
 * measured to the outermost points in sixteen directions: it falls short by at most
 * 1 - cos(180°/16), 2 %. Returns 0, or -1 where memory ran out.
 */
int load_measure(struct arena *arena, const struct geo_arrangement *arrangement,
		 struct sheet_necks *necks, const struct hang *hang);

#endif
