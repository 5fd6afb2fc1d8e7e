/* flags.h - where the numbers of the marks go, so that none hides another. */
#ifndef PROOF_FLAGS_H
#define PROOF_FLAGS_H

#include <stdint.h>

#include "cutlint/point.h"

/*
 * For each of `count` places the middle of its flag, a disc of this radius: near its place, off all
 * places and flags before it if there is room, and inside the picture's box, also where a small
 * screen shows flags as much larger as they have to be. Thousands of them are not kept apart.
 */
void flags_place(const struct cutlint_xy *places, uint32_t count, double radius_mm,
		 struct cutlint_box box, struct cutlint_xy *out);

#endif
