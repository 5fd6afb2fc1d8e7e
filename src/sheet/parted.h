/* parted.h - what is found once the parts have their final numbers. */
#ifndef SHEET_PARTED_H
#define SHEET_PARTED_H

#include "sheet/intent.h"
#include "sheet/work.h"

struct parted {
	struct sheet_work *work;
	const struct burn *burn;
	const struct geo_arrangement *arrangement;
	const struct intent *intent;
	struct cutlint_part *parts; /* the sheet's, still writable */
	const uint32_t *of_half;    /* of each half-edge: the part left of its start, or GEO_NONE */
};

/* Each fills what its name says in the sheet. Returns 0, or -1 where memory ran out. */
int parted_find_sites(const struct parted *parted);
int parted_find_crossings(const struct parted *parted);
int parted_find_tips(const struct parted *parted);

/* The kind of the part at a half-edge's start; CUTLINT_PART_WASTE where there is none. */
static inline enum cutlint_part_kind parted_kind(const struct parted *parted, uint32_t half)
{
	uint32_t part = parted->of_half[half];
	return part == GEO_NONE ? CUTLINT_PART_WASTE : parted->parts[part].kind;
}

static inline bool parted_is_held(const struct parted *parted, uint32_t half)
{
	enum cutlint_part_kind kind = parted_kind(parted, half);
	return kind == CUTLINT_PART_FRAME || kind == CUTLINT_PART_HELD;
}

/* Where a half-edge starts, in nm. */
static inline struct geo_vector parted_start(const struct parted *parted, uint32_t half)
{
	const struct geo_arrangement *arrangement = parted->arrangement;
	return sheet_vector(arrangement->nodes[geo_half_edge_from(arrangement, half)]);
}

/* The wall that a segment of the burned lines is, at a place in mm. */
static inline struct cutlint_wall parted_wall(const struct parted *parted, uint32_t segment,
					      struct cutlint_xy at)
{
	return (struct cutlint_wall){burn_chain_of(parted->burn, segment)->outline,
				     burn_vertex(parted->burn, parted->work->design, segment), at};
}

#endif
