/* heat.h - where the energy of the burn goes: J in a mm². */
#ifndef PROOF_HEAT_H
#define PROOF_HEAT_H

#include "proof/scene.h"

/* Shades of the map. */
#define HEAT_SHADES 6

struct heat {
	struct cutlint_box box;
	double cell_mm, disc_mm; /* each cell has the mean over a disc round it; 0: of the cell */
	uint32_t columns, rows;
	double *values;    /* J/mm² */
	double step, most; /* of the shades; the hottest cell */
	struct cutlint_xy hottest;
	bool nominal; /* the energy of a role is not known, and a nominal one is taken */
};

/* 0, or -1 where memory ran out. Free with heat_finish. */
int heat_init(struct heat *heat, const struct scene *scene);
void heat_finish(struct heat *heat);

/* The map, with the lines over it; and one shade of the scale, whose fill it is. */
void heat_draw(const struct heat *heat, const struct scene *scene, struct writer *writer);
const char *heat_shade(int shade);

#endif
