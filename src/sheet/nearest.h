/* nearest.h - whether an outline comes near to a place. */
#ifndef SHEET_NEAREST_H
#define SHEET_NEAREST_H

#include "cutlint/model.h"

/*
 * Whether cutlint_segment_distance of an outline from a place is at most `most_mm`; of most
 * outlines that are farther off their boxes tell it.
 */
bool nearest_within(const struct cutlint_design *design, uint32_t outline, struct cutlint_xy at,
		    double most_mm);

#endif
