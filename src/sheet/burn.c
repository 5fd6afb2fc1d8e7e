#include "sheet/burn.h"

#include <math.h>
#include <string.h>

struct plan {
	const struct sheet_work *work;
	const bool *edge_shapes; /* shapes that have a card's edge among their outlines */
};

static bool is_filled(const struct cutlint_design *design, uint32_t outline)
{
	return cutlint_outline_shape(design, outline)->fill.kind != CUTLINT_PAINT_NONE;
}

/* An art outline: by its fill, else by nesting; open ones only where they join into a loop. */
static void mean_art(const struct sheet_work *work, uint32_t number, struct burn_chain *chain)
{
	const struct cutlint_design *design = work->design;
	uint32_t loop = work->loops.of[number];
	if (!design->outlines[number].closed && loop == CUTLINT_NONE)
		return;
	bool alone = loop == CUTLINT_NONE || work->loops.items[loop].count == 1;
	if (alone && is_filled(design, number)) {
		chain->meaning = BURN_FILLS;
		chain->unit = design->outlines[number].shape;
		return;
	}
	chain->meaning = BURN_TOGGLES;
	chain->unit = loop == CUTLINT_NONE ? number : work->loops.items[loop].outline;
}

static struct burn_chain describe(const struct plan *plan, uint32_t number, enum cutlint_role role)
{
	const struct sheet_work *work = plan->work;
	const struct cutlint_outline *outline = &work->design->outlines[number];
	struct burn_chain chain = {number, CUTLINT_NONE, BURN_DIVIDES, CUTLINT_NONE,
				   cutlint_role_cuts(role)};
	if (work->card_of[number] != CUTLINT_NONE) {
		chain.meaning = BURN_BOUNDS;
		chain.unit = work->card_of[number];
	} else if (role == CUTLINT_ROLE_ART) {
		mean_art(work, number, &chain);
	} else if (role == CUTLINT_ROLE_OUTLINE && outline->closed &&
		   plan->edge_shapes[outline->shape]) {
		/* A hole of a card that is drawn as one path with its edge. */
		chain.meaning = BURN_TOGGLES;
		chain.unit = number;
	}
	return chain;
}

static bool divides(const struct sheet_work *work, uint32_t number, enum cutlint_role role)
{
	if (!sheet_has_sides(&work->design->outlines[number]))
		return false;
	if (role == CUTLINT_ROLE_BLANK)
		return work->card_of[number] != CUTLINT_NONE;
	return cutlint_role_cuts(role) && !work->dropped[number];
}

static void add_page(const struct sheet_work *work, struct burn *burn)
{
	const struct cutlint_design *design = work->design;
	if (work->sheet->card_count != 1 || work->cards[0].outline != CUTLINT_NONE)
		return;
	int32_t right = (int32_t)lround(design->page_width_mm * SHEET_NM);
	int32_t bottom = (int32_t)lround(design->page_height_mm * SHEET_NM);
	const struct cutlint_point corners[4] = {{0, 0}, {right, 0}, {right, bottom}, {0, bottom}};
	memcpy(burn->points + burn->lines.point_count, corners, sizeof corners);
	burn->spans[burn->lines.chain_count] = (struct geo_chain){burn->lines.point_count, 4, true};
	burn->chains[burn->lines.chain_count++] =
		(struct burn_chain){CUTLINT_NONE, CUTLINT_NONE, BURN_BOUNDS, 0, false};
	burn->lines.point_count += 4;
}

static bool *mark_edge_shapes(const struct sheet_work *work)
{
	const struct cutlint_design *design = work->design;
	bool *shapes = ARENA_ARRAY(work->scratch, bool, (size_t)design->shape_count + 1);
	for (uint32_t i = 0; shapes && i < design->outline_count; i++) {
		if (work->card_of[i] != CUTLINT_NONE)
			shapes[design->outlines[i].shape] = true;
	}
	return shapes;
}

static size_t count_open(const struct cutlint_design *design)
{
	size_t count = 0;
	for (uint32_t i = 0; i < design->outline_count; i++)
		count += design->outlines[i].closed ? 0 : 1;
	return count;
}

static int mark_bounds(const struct sheet_work *work, struct burn *burn)
{
	burn->bounds = ARENA_ARRAY(work->scratch, uint8_t, (size_t)burn->lines.point_count / 8 + 1);
	for (uint32_t c = 0; burn->bounds && c < burn->lines.chain_count; c++) {
		const struct geo_chain *span = &burn->spans[c];
		if (burn->chains[c].meaning != BURN_BOUNDS)
			continue;
		for (uint32_t i = span->first; i < span->first + span->count; i++)
			burn->bounds[i / 8] |= (uint8_t)(1 << i % 8);
	}
	return burn->bounds ? 0 : -1;
}

int burn_collect(struct sheet_work *work, struct burn *burn)
{
	const struct cutlint_design *design = work->design;
	size_t gaps = 3 * count_open(design);
	size_t most_chains = design->outline_count + 1 + gaps;
	burn->points = ARENA_ARRAY(work->scratch, struct cutlint_point,
				   design->vertex_count + 4 + 2 * gaps);
	burn->spans = ARENA_ARRAY(work->scratch, struct geo_chain, most_chains);
	burn->chains = ARENA_ARRAY(work->scratch, struct burn_chain, most_chains);
	struct plan plan = {work, mark_edge_shapes(work)};
	if (!burn->points || !burn->spans || !burn->chains || !plan.edge_shapes)
		return -1;

	if (design->vertex_count)
		memcpy(burn->points, design->vertices, design->vertex_count * sizeof *burn->points);
	burn->lines = (struct geo_lines){burn->points, burn->spans, design->vertex_count, 0};
	for (uint32_t i = 0; i < design->outline_count; i++) {
		const struct cutlint_outline *outline = &design->outlines[i];
		enum cutlint_role role = cutlint_outline_role(design, i);
		if (!divides(work, i, role))
			continue;
		burn->spans[burn->lines.chain_count] = (struct geo_chain){
			outline->first_vertex, outline->vertex_count, outline->closed};
		burn->chains[burn->lines.chain_count++] = describe(&plan, i, role);
	}
	add_page(work, burn);
	return burn_close_gaps(work, burn) != 0 || mark_bounds(work, burn) != 0 ? -1 : 0;
}
