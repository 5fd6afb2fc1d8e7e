/* part.h - the parts that the sheet falls into, and what its necks hold. */
#ifndef SHEET_PART_H
#define SHEET_PART_H

#include "sheet/boundary.h"
#include "sheet/neck.h"

/* Fills the sheet's parts and necks. 0, or -1 where memory ran out. */
int part_find(struct sheet_work *work, const struct burn *burn, struct geo_arrangement *arrangement,
	      const struct intent *intent, const struct face_sets *openings);

#endif
