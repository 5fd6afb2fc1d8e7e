/* What rules may ask about single outlines and cards. */
#include <math.h>

#include "geometry/distance.h"
#include "geometry/match.h"
#include "sheet/chains.h"
#include "sheet/region.h"
#include "sheet/work.h"
#include "sheet/xy.h"

/* Nearer to the fold's line than this (mm) is on the fold: a nanometre. */
static const double ON_FOLD_MM = 1e-6;

static bool card_contains(const struct cutlint_design *design, const struct cutlint_card *card,
			  struct cutlint_xy at)
{
	if (!cutlint_box_contains(card->box, at))
		return false;
	bool closed = card->outline != CUTLINT_NONE && design->outlines[card->outline].closed;
	return !closed || cutlint_outline_contains(design, card->outline, at);
}

static double box_distance(struct cutlint_box box, struct cutlint_xy at)
{
	double dx = fmax(0, fmax(box.left - at.x, at.x - box.right));
	double dy = fmax(0, fmax(box.top - at.y, at.y - box.bottom));
	return hypot(dx, dy);
}

static bool touches_card(const struct cutlint_design *design, const struct cutlint_card *card,
			 uint32_t number)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		struct cutlint_xy at =
			cutlint_point_mm(design->vertices[outline->first_vertex + i]);
		if (card_contains(design, card, at))
			return true;
	}
	return false;
}

uint32_t cutlint_sheet_card_of(const struct cutlint_design *design,
			       const struct cutlint_sheet *sheet, uint32_t outline)
{
	struct cutlint_xy middle = cutlint_box_middle(cutlint_outline_box(design, outline));
	for (uint32_t i = 0; i < sheet->card_count; i++) {
		if (card_contains(design, &sheet->cards[i], middle))
			return i;
	}
	uint32_t best = CUTLINT_NONE;
	double least = INFINITY;
	for (uint32_t i = 0; i < sheet->card_count; i++) {
		double away = box_distance(sheet->cards[i].box, middle);
		if (away < least && touches_card(design, &sheet->cards[i], outline)) {
			least = away;
			best = i;
		}
	}
	return best;
}

int cutlint_card_panel(const struct cutlint_sheet *sheet, uint32_t number, struct cutlint_xy at)
{
	if (number >= sheet->card_count)
		return -1;
	const struct cutlint_card *card = &sheet->cards[number];
	if (card->fold == CUTLINT_NONE || !cutlint_box_contains(card->box, at))
		return -1;
	const struct cutlint_fold *fold = &sheet->folds[card->fold];
	double left = region_left_of(fold->from, fold->to, at);
	if (fabs(left) <= ON_FOLD_MM)
		return -1;
	return left > 0 ? 0 : 1;
}

bool cutlint_outline_contains(const struct cutlint_design *design, uint32_t outline,
			      struct cutlint_xy at)
{
	struct geo_chain chain;
	struct geo_lines lines = chains_of_outline(design, outline, &chain);
	return chain.closed && chain.count >= 3 && geo_chain_contains(&lines, 0, sheet_nm(at));
}

/* A set of outlines as chains of their own points. */
static int copy_outlines(struct arena *arena, const struct cutlint_design *design,
			 const uint32_t *outlines, size_t count, struct geo_lines *out)
{
	size_t total = 0;
	for (size_t i = 0; i < count; i++)
		total += design->outlines[outlines[i]].vertex_count;
	struct cutlint_point *points = ARENA_ARRAY(arena, struct cutlint_point, total + 1);
	struct geo_chain *chains = ARENA_ARRAY(arena, struct geo_chain, count + 1);
	if (!points || !chains)
		return -1;
	*out = (struct geo_lines){points, chains, 0, 0};
	for (size_t i = 0; i < count; i++) {
		const struct cutlint_outline *outline = &design->outlines[outlines[i]];
		if (!sheet_has_sides(outline))
			continue;
		chains[out->chain_count++] = (struct geo_chain){
			out->point_count, outline->vertex_count, outline->closed};
		for (uint32_t v = 0; v < outline->vertex_count; v++)
			points[out->point_count++] = design->vertices[outline->first_vertex + v];
	}
	return 0;
}

/*
 * The geometry turns counter-clockwise with y up. Here y runs down, so that the same turn looks
 * clockwise on the screen.
 */
static void copy_motion(const struct geo_motion *motion, double *distance, double *turn)
{
	*distance = motion->found ? motion->distance / SHEET_NM : INFINITY;
	*turn = motion->found ? -motion->turn : 0;
}

int cutlint_congruence(const struct cutlint_design *design, const uint32_t *a, size_t a_count,
		       const uint32_t *b, size_t b_count, double tolerance_mm,
		       struct cutlint_congruence *out)
{
	struct arena *arena = arena_create();
	struct geo_lines lines_a, lines_b;
	struct geo_congruence found = {0};
	int status = -1;
	if (arena && copy_outlines(arena, design, a, a_count, &lines_a) == 0 &&
	    copy_outlines(arena, design, b, b_count, &lines_b) == 0)
		status = geo_congruent(&lines_a, &lines_b, tolerance_mm * SHEET_NM, &found);
	copy_motion(&found.same, &out->same_mm, &out->same_turn_rad);
	copy_motion(&found.mirrored, &out->mirror_mm, &out->mirror_turn_rad);
	arena_destroy(arena);
	return status;
}

double cutlint_angle_between(struct cutlint_xy a, struct cutlint_xy b)
{
	return atan2(fabs(xy_cross(a, b)), fabs(xy_dot(a, b)));
}
