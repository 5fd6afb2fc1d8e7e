/* order.h - in which order the lines are burned, as far as that can be told, and what it takes. */
#ifndef PROOF_ORDER_H
#define PROOF_ORDER_H

#include "proof/proof.h"

/* One line to burn. */
struct stop {
	uint32_t outline;
	enum cutlint_role role;
	struct cutlint_xy from, to; /* where the beam comes to it, and leaves it */
};

/*
 * All lines that are burned on this sheet, insets left out: as the drawing has them where the job
 * says that the machine keeps that order; else scores, inner cuts, outlines, each as drawn. Free
 * with order_finish.
 */
struct order {
	struct stop *stops;
	uint32_t count;
	bool drawn; /* the drawing's order; else an assumed one */
};

/* 0, or -1 where memory ran out. */
int order_init(struct order *order, const struct proof *proof);
void order_finish(struct order *order);

/* What the beam moves between the lines, from the page's corner on, in mm. */
double order_travel_mm(const struct order *order);

/* Lines of one role: how much there is of them, and what burning it takes. */
struct burn_cost {
	uint32_t count;
	double length_mm;
	double time_s;   /* NAN without a recipe */
	double energy_j; /* of the lines; NAN without a recipe or the machine's power */
};

struct burn_cost burn_cost_of(const struct proof *proof, enum cutlint_role role);

/* The speed that moves are taken to have: the job's `fastest`, else a usual one. */
double burn_travel_speed(const struct cutlint_job *job);

/* J that are taken for a mm of cut where recipe or power is not given: as the rule crowded-cuts. */
#define PROOF_NOMINAL_J_MM 0.1

#endif
