/* simplify.h - fewer points for a line, within a tolerance. */
#ifndef PROOF_SIMPLIFY_H
#define PROOF_SIMPLIFY_H

#include <stdbool.h>
#include <stdint.h>

#include "cutlint/point.h"

/*
 * Keeps points of a chain so that each point left out lies within `tolerance_nm` of the line
 * without it. The first point stays, and the last of an open chain. `out` holds `count` points.
 * Returns how many are kept, at least one. Takes time in proportion to the count.
 */
uint32_t simplify(const struct cutlint_point *points, uint32_t count, bool closed,
		  double tolerance_nm, struct cutlint_point *out);

#endif
