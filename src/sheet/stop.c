/* Where a fold stops: how far before what lies ahead of it. */
#include <math.h>

#include "cutlint/sheet.h"
#include "sheet/nearest.h"
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

static bool is_inner_cut(const struct cutlint_design *design, uint32_t outline)
{
	enum cutlint_role role = cutlint_outline_role(design, outline);
	return role == CUTLINT_ROLE_ART || role == CUTLINT_ROLE_SLIT;
}

static double distance_to(const struct cutlint_fold *fold, struct cutlint_xy at)
{
	struct cutlint_xy whole = xy_minus(fold->to, fold->from);
	double share = xy_dot(xy_minus(at, fold->from), whole) / xy_dot(whole, whole);
	share = fmin(fmax(share, 0), 1);
	return xy_distance(at, (struct cutlint_xy){fold->from.x + share * whole.x,
						   fold->from.y + share * whole.y});
}

/*
 * Whether a place lies on a cut of a card; the first in the file, CUTLINT_NONE without one. Here
 * and below, that a cut is of the card is asked last: most cuts are nowhere near.
 */
static uint32_t cut_at(const struct cutlint_design *design, const struct cutlint_sheet *sheet,
		       uint32_t card, struct cutlint_xy at, double on_mm)
{
	for (uint32_t i = 0; i < design->outline_count; i++) {
		if (is_inner_cut(design, i) && nearest_within(design, i, at, on_mm) &&
		    cutlint_sheet_card_of(design, sheet, i) == card)
			return i;
	}
	return CUTLINT_NONE;
}

/* Looks for cuts ahead. */
static void look_for_cuts(const struct cutlint_design *design, const struct cutlint_sheet *sheet,
			  uint32_t card, const struct ray *ray, struct cutlint_stop *stop)
{
	for (uint32_t i = 0; i < design->outline_count; i++) {
		if (!is_inner_cut(design, i))
			continue;
		double ahead_mm = meets_outline(design, ray, i);
		if (ahead_mm < stop->short_mm && cutlint_sheet_card_of(design, sheet, i) == card)
			*stop = (struct cutlint_stop){ahead_mm, i, CUTLINT_NONE};
	}
}

/* Whether another fold ends or passes where two folds meet: one alone would not fold flat there. */
static bool meets_third(const struct cutlint_sheet *sheet, const struct cutlint_fold *fold,
			uint32_t met, struct cutlint_xy at, double on_mm)
{
	for (uint32_t i = 0; i < sheet->fold_count; i++) {
		const struct cutlint_fold *third = &sheet->folds[i];
		if (third != fold && i != met && third->card == fold->card &&
		    distance_to(third, at) <= on_mm)
			return true;
	}
	return false;
}

/*
 * Looks for another fold that a fold ends on, and for one ahead. A fold that starts at a cut is a
 * score of a pop-up, which may end on a fold; any other only where a third one meets them.
 */
static void look_for_folds(const struct cutlint_sheet *sheet, const struct cutlint_fold *fold,
			   const struct ray *ray, bool from_cut, double on_mm,
			   struct cutlint_stop *stop)
{
	for (uint32_t i = 0; i < sheet->fold_count; i++) {
		const struct cutlint_fold *other = &sheet->folds[i];
		if (other == fold || other->card != fold->card)
			continue;
		bool on = distance_to(other, ray->at) <= on_mm;
		double ahead_mm = on ? 0 : meets_side(ray, other->from, other->to);
		if (ahead_mm < stop->short_mm &&
		    (from_cut || (on && meets_third(sheet, fold, i, ray->at, on_mm))))
			*stop = (struct cutlint_stop){ahead_mm, CUTLINT_NONE, i};
	}
}

struct cutlint_stop cutlint_fold_stop(const struct cutlint_design *design,
				      const struct cutlint_sheet *sheet,
				      const struct cutlint_fold *fold, bool last, double on_mm)
{
	const struct cutlint_card *card = &sheet->cards[fold->card];
	struct cutlint_xy at = last ? fold->to : fold->from, other = last ? fold->from : fold->to;
	double length = xy_distance(at, other);
	struct ray ray = {at, {(at.x - other.x) / length, (at.y - other.y) / length}};
	struct cutlint_stop stop = {0, CUTLINT_NONE, CUTLINT_NONE};
	if (is_outside(design, card, at))
		return stop;
	stop.short_mm = meets_edge(design, card, &ray);
	if (stop.short_mm <= on_mm ||
	    (card->outline != CUTLINT_NONE && nearest_within(design, card->outline, at, on_mm))) {
		stop.short_mm = stop.short_mm <= on_mm ? stop.short_mm : 0;
		return stop;
	}
	uint32_t cut = cut_at(design, sheet, fold->card, at, on_mm);
	if (cut != CUTLINT_NONE)
		return (struct cutlint_stop){0, cut, CUTLINT_NONE};
	look_for_cuts(design, sheet, fold->card, &ray, &stop);
	if (stop.short_mm > on_mm)
		look_for_folds(sheet, fold, &ray,
			       cut_at(design, sheet, fold->card, other, on_mm) != CUTLINT_NONE,
			       on_mm, &stop);
	return stop;
}

double cutlint_fold_gap(const struct cutlint_fold *fold)
{
	if (fold->piece_count < 2)
		return 0;
	double span = xy_distance(fold->from, fold->to);
	return (span - fold->burned_mm) / (fold->piece_count - 1);
}
