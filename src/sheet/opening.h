/* opening.h - windows that touch along a line are one opening. */
#ifndef SHEET_OPENING_H
#define SHEET_OPENING_H

#include "sheet/boundary.h"
#include "sheet/intent.h"

/* Joins neighbouring window faces into sets, in the order of their first faces. 0 or -1. */
int opening_find(struct sheet_work *work, const struct geo_arrangement *arrangement,
		 const struct intent *intent, struct face_sets *out);

/* Each face as a set of its own. 0 or -1. */
int opening_single(struct sheet_work *work, const struct geo_arrangement *arrangement,
		   struct face_sets *out);

/* Fills the sheet's holes. 0 or -1. */
int opening_measure(struct sheet_work *work, const struct burn *burn,
		    const struct geo_arrangement *arrangement, const struct intent *intent,
		    const struct face_sets *openings);

#endif
