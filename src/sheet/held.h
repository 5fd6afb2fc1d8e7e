/* held.h - the places of held material's boundary that are nearest to the sides of loose parts. */
#ifndef SHEET_HELD_H
#define SHEET_HELD_H

#include "geometry/tree.h"
#include "sheet/parted.h"

/* The nearest place of a held part's boundary to one side of a loose part's. */
struct held_place {
	uint32_t half, kept; /* half-edges: of the loose part, and of the held one */
	struct geo_vector on_part, on_kept;
	double distance; /* nm; INFINITY without one */
	bool in_middle;  /* of its side */
};

struct held {
	const struct parted *parted;
	struct geo_segment *segments; /* of held parts */
	uint32_t *halves;             /* of each of them */
	struct geo_tree *tree;
	/* The query: a loose side, or one point. */
	struct geo_vector from, to;
	double length;
	struct held_place best;
	uint32_t last; /* what was nearest to the last query, likely near to this one; GEO_NONE */
};

/* Finds and indexes them. Returns 0, or -1 where memory ran out; finish it in either case. */
int held_init(struct held *held, const struct parted *parted);
void held_finish(struct held *held);

/* How far a place is from the nearest one; nm. */
double held_distance(struct held *held, struct geo_vector at);

/* Nearest to a side's middle, or to any of its places where that is much nearer. */
struct held_place held_from(struct held *held, uint32_t half);

#endif
