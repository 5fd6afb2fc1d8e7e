#include "proof/order.h"

#include <math.h>
#include <stdlib.h>

/* Moves with the beam off where the job names no fastest speed. Common practice, no source. */
static const double TRAVEL_MM_S = 100;

static int phase_of(enum cutlint_role role)
{
	if (role == CUTLINT_ROLE_FOLD)
		return 0;
	return role == CUTLINT_ROLE_OUTLINE ? 2 : 1;
}

static int by_phase(const void *left, const void *right)
{
	const struct stop *a = left, *b = right;
	int difference = phase_of(a->role) - phase_of(b->role);
	return difference ? difference : a->outline < b->outline ? -1 : a->outline > b->outline;
}

int order_init(struct order *order, const struct proof *proof)
{
	const struct cutlint_design *design = proof->design;
	*order = (struct order){.drawn = proof->job->drawing_order};
	order->stops = malloc(((size_t)design->outline_count + 1) * sizeof(*order->stops));
	if (!order->stops)
		return -1;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		const struct cutlint_outline *outline = &design->outlines[i];
		enum cutlint_role role = cutlint_outline_role(design, i);
		if (!cutlint_role_heats(role) || outline->vertex_count < 2)
			continue;
		const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
		uint32_t last = outline->closed ? 0 : outline->vertex_count - 1;
		order->stops[order->count++] =
			(struct stop){.outline = i,
				      .role = role,
				      .from = cutlint_point_mm(vertices[0]),
				      .to = cutlint_point_mm(vertices[last])};
	}
	if (!order->drawn)
		qsort(order->stops, order->count, sizeof(*order->stops), by_phase);
	return 0;
}

void order_finish(struct order *order)
{
	free(order->stops);
	*order = (struct order){0};
}

double order_travel_mm(const struct order *order)
{
	struct cutlint_xy at = {0, 0};
	double travel = 0;
	for (uint32_t i = 0; i < order->count; i++) {
		travel += hypot(order->stops[i].from.x - at.x, order->stops[i].from.y - at.y);
		at = order->stops[i].to;
	}
	return travel;
}

double burn_travel_speed(const struct cutlint_job *job)
{
	return job->fastest_mm_s > 0 ? job->fastest_mm_s : TRAVEL_MM_S;
}

struct burn_cost burn_cost_of(const struct proof *proof, enum cutlint_role role)
{
	const struct cutlint_recipe *recipe = &proof->job->recipe[role];
	struct burn_cost cost = {.time_s = NAN, .energy_j = NAN};
	for (uint32_t i = 0; i < proof->design->outline_count; i++) {
		if (cutlint_outline_role(proof->design, i) != role)
			continue;
		cost.count++;
		cost.length_mm += cutlint_outline_length(proof->design, i);
	}
	if (recipe->given)
		cost.time_s = cost.length_mm * recipe->passes / recipe->speed_mm_s;
	if (cutlint_energy_known(proof->job, role))
		cost.energy_j =
			cost.length_mm * cutlint_energy(proof->job, role, PROOF_NOMINAL_J_MM);
	return cost;
}
