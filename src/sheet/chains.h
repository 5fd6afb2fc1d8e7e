/* chains.h - outlines of the design as the geometry's lines. */
#ifndef SHEET_CHAINS_H
#define SHEET_CHAINS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "cutlint/model.h"
#include "geometry/lines.h"

/* Chains with the outline of each. Vertices keep their numbers; the design's array is borrowed. */
struct chains {
	struct geo_lines lines;
	const uint32_t *outlines;
};

/* Whether an outline is wanted among the chains. */
typedef bool chains_want(const void *user, uint32_t outline);

/* Collects the wanted outlines that have at least one side. 0, or -1 where memory ran out. */
int chains_collect(struct arena *arena, const struct cutlint_design *design, chains_want *want,
		   const void *user, struct chains *out);

/* One outline as lines of one chain, which the caller keeps. */
struct geo_lines chains_of_outline(const struct cutlint_design *design, uint32_t outline,
				   struct geo_chain *chain);

/* Ready-made wants; `user` is the design. */
bool chains_want_cut(const void *user, uint32_t outline);
bool chains_want_burned(const void *user, uint32_t outline); /* cut or scored */
bool chains_want_closed_art(const void *user, uint32_t outline);

#endif
