/* Where a fold stops: how far before what lies ahead of it. */
#include <math.h>

#include "cutlint/sheet.h"
#include "sheet/xy.h"

/* A ray on from a place, in a direction of length 1. */
struct ray {
	struct cutlint_xy at, ahead;
};

/* How far along a ray a straight side is met; infinite where it is not, or runs along it. */
static double meets_side(const struct ray *ray, struct cutlint_xy from, struct cutlint_xy to)
{
	struct cutlint_xy side = xy_minus(to, from), there = xy_minus(from, ray->at);
	double turn = xy_cross(ray->ahead, side);
	if (turn == 0)
		return INFINITY;
	double share = xy_cross(there, ray->ahead) / turn, way = xy_cross(there, side) / turn;
	return share >= 0 && share <= 1 && way >= 0 ? way : INFINITY;
}

static double meets_outline(const struct cutlint_design *design, const struct ray *ray,
			    uint32_t number)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
	double least = INFINITY;
	for (uint32_t i = 0; i + (outline->closed ? 0 : 1) < outline->vertex_count; i++) {
		uint32_t next = i + 1 < outline->vertex_count ? i + 1 : 0;
		least = fmin(least, meets_side(ray, cutlint_point_mm(vertices[i]),
					       cutlint_point_mm(vertices[next])));
	}
	return least;
}

static double meets_edge(const struct cutlint_design *design, const struct cutlint_card *card,
			 const struct ray *ray)
{
	struct cutlint_box box = card->box;
	double x = ray->ahead.x, y = ray->ahead.y;
	if (card->outline != CUTLINT_NONE)
		return meets_outline(design, ray, card->outline);
	double across = x > 0   ? (box.right - ray->at.x) / x
			: x < 0 ? (box.left - ray->at.x) / x
				: INFINITY;
	double down = y > 0   ? (box.bottom - ray->at.y) / y
		      : y < 0 ? (box.top - ray->at.y) / y
			      : INFINITY;
	return fmin(across, down);
}

static bool is_outside(const struct cutlint_design *design, const struct cutlint_card *card,
		       struct cutlint_xy at)
{
	struct cutlint_box box = card->box;
	if (card->outline != CUTLINT_NONE)
		return !cutlint_outline_contains(design, card->outline, at);
	return at.x <= box.left || at.x >= box.right || at.y <= box.top || at.y >= box.bottom;
}

static bool is_cut_of(const struct cutlint_design *design, const struct cutlint_sheet *sheet,
		      uint32_t outline, uint32_t card)
{
	enum cutlint_role role = cutlint_outline_role(design, outline);
	return (role == CUTLINT_ROLE_ART || role == CUTLINT_ROLE_SLIT) &&
	       cutlint_sheet_card_of(design, sheet, outline) == card;
}

struct cutlint_stop cutlint_fold_stop(const struct cutlint_design *design,
				      const struct cutlint_sheet *sheet,
				      const struct cutlint_fold *fold, bool last, double on_mm)
{
	const struct cutlint_card *card = &sheet->cards[fold->card];
	struct cutlint_xy at = last ? fold->to : fold->from;
	struct cutlint_xy whole = xy_minus(at, last ? fold->from : fold->to);
	double length = xy_length(whole);
	struct ray ray = {at, {whole.x / length, whole.y / length}};
	struct cutlint_stop stop = {0, CUTLINT_NONE};
	struct cutlint_wall wall;
	if (is_outside(design, card, at))
		return stop;
	stop.short_mm = meets_edge(design, card, &ray);
	if (card->outline != CUTLINT_NONE &&
	    cutlint_segment_distance(design, card->outline, at, at, &wall) <= on_mm)
		stop.short_mm = 0;
	for (uint32_t i = 0; i < design->outline_count && stop.short_mm > on_mm; i++) {
		if (!is_cut_of(design, sheet, i, fold->card))
			continue;
		if (cutlint_segment_distance(design, i, at, at, &wall) <= on_mm)
			return (struct cutlint_stop){0, i};
		double ahead_mm = meets_outline(design, &ray, i);
		if (ahead_mm < stop.short_mm)
			stop = (struct cutlint_stop){ahead_mm, i};
	}
	return stop;
}
