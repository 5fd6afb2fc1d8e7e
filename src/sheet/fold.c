/* Folds: the fold outlines that lie in one line, dashes joined. */
#include <math.h>
#include <stdlib.h>

#include "sheet/popup.h"
#include "sheet/sets.h"
#include "sheet/work.h"
#include "sheet/xy.h"

/*
 * Dashes are one fold when they lie in one line with gaps up to MOST_GAP_MM in which no pop-up
 * stands; the longest gap of a perforated fold is a few millimetres. A dash may lie MOST_OFFSET_MM
 * beside the line and be turned by MOST_TURN against it: a short dash whose ends are written to
 * 0.001 mm turns by as much. Common practice, no source.
 */
static const double MOST_GAP_MM = 10;
static const double MOST_OFFSET_MM = 0.1;
static const double MOST_TURN = 0.2 * 3.14159265358979323846 / 180;

/* One fold outline, as the straight line between its two vertices that are farthest apart. */
struct dash {
	uint32_t outline;
	struct cutlint_xy from, to;
	double length;
	uint32_t card; /* that holds its middle; CUTLINT_NONE for none */
};

struct dashes {
	struct dash *items;
	uint32_t count;
	uint32_t *sets;
	struct cutlint_box box; /* of all */
};

/*
 * Up, or to the right where it is flatter than it is steep: so that the left panel of an upright
 * fold and the upper one of a level fold lie left of it.
 */
static void set_direction(struct cutlint_xy *from, struct cutlint_xy *to)
{
	double dx = to->x - from->x, dy = to->y - from->y;
	bool steep = fabs(dy) > fabs(dx);
	if (steep ? dy > 0 : dx < 0) {
		struct cutlint_xy swap = *from;
		*from = *to;
		*to = swap;
	}
}

/* The vertex of an outline that is farthest from a place; the first of equals. */
static struct cutlint_xy farthest_vertex(const struct cutlint_design *design, uint32_t number,
					 struct cutlint_xy at)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	struct cutlint_xy best = at;
	double most = -1;
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		struct cutlint_xy vertex =
			cutlint_point_mm(design->vertices[outline->first_vertex + i]);
		if (xy_distance(vertex, at) > most) {
			most = xy_distance(vertex, at);
			best = vertex;
		}
	}
	return best;
}

/* The first card that holds a place. */
static uint32_t card_at(const struct sheet_work *work, struct cutlint_xy at)
{
	for (uint32_t i = 0; i < work->sheet->card_count; i++) {
		if (box_contains(work->cards[i].box, at) && region_contains(&work->regions[i], at))
			return i;
	}
	return CUTLINT_NONE;
}

static void add_dash(struct dashes *dashes, struct dash dash)
{
	struct cutlint_box *box = &dashes->box;
	dashes->items[dashes->count++] = dash;
	box->left = fmin(box->left, fmin(dash.from.x, dash.to.x));
	box->top = fmin(box->top, fmin(dash.from.y, dash.to.y));
	box->right = fmax(box->right, fmax(dash.from.x, dash.to.x));
	box->bottom = fmax(box->bottom, fmax(dash.from.y, dash.to.y));
}

static int collect_dashes(struct sheet_work *work, struct dashes *dashes)
{
	const struct cutlint_design *design = work->design;
	dashes->items = ARENA_ARRAY(work->scratch, struct dash, (size_t)design->outline_count + 1);
	if (!dashes->items)
		return -1;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		const struct cutlint_outline *outline = &design->outlines[i];
		if (cutlint_outline_role(design, i) != CUTLINT_ROLE_FOLD ||
		    !sheet_has_sides(outline))
			continue;
		struct dash dash = {.outline = i};
		dash.from = farthest_vertex(
			design, i, cutlint_point_mm(design->vertices[outline->first_vertex]));
		dash.to = farthest_vertex(design, i, dash.from);
		dash.length = xy_distance(dash.from, dash.to);
		set_direction(&dash.from, &dash.to);
		dash.card = card_at(work, xy_middle(dash.from, dash.to));
		if (dash.length > 0)
			add_dash(dashes, dash);
	}
	dashes->sets = sets_create(work->scratch, dashes->count);
	return dashes->sets ? 0 : -1;
}

/* The turn between two lines, whatever their directions: 0 to a quarter turn. */
static double turn_between(const struct dash *a, const struct dash *b)
{
	double ax = a->to.x - a->from.x, ay = a->to.y - a->from.y;
	double bx = b->to.x - b->from.x, by = b->to.y - b->from.y;
	return atan2(fabs(ax * by - ay * bx), fabs(ax * bx + ay * by));
}

/* Where two dashes leave each other. */
struct dash_gap {
	struct cutlint_xy from, to;
	double width; /* 0 where they overlap along their line */
};

static void look_between(struct cutlint_xy from, struct cutlint_xy to, struct dash_gap *nearest)
{
	double width = xy_distance(from, to);
	if (width < nearest->width)
		*nearest = (struct dash_gap){from, to, width};
}

static struct dash_gap gap_between(const struct dash *a, const struct dash *b)
{
	struct dash_gap nearest = {.width = INFINITY};
	look_between(a->from, b->from, &nearest);
	look_between(a->from, b->to, &nearest);
	look_between(a->to, b->from, &nearest);
	look_between(a->to, b->to, &nearest);
	double ux = (a->to.x - a->from.x) / a->length, uy = (a->to.y - a->from.y) / a->length;
	double from = (b->from.x - a->from.x) * ux + (b->from.y - a->from.y) * uy;
	double to = (b->to.x - a->from.x) * ux + (b->to.y - a->from.y) * uy;
	if (fmax(from, to) >= 0 && fmin(from, to) <= a->length)
		nearest.width = 0;
	return nearest;
}

/* Folds of two cards are two, however near and straight they lie. */
static bool on_two_cards(const struct dash *a, const struct dash *b)
{
	return a->card != CUTLINT_NONE && b->card != CUTLINT_NONE && a->card != b->card;
}

static bool in_one_line(struct popups *popups, const struct dash *a, const struct dash *b)
{
	const struct dash *longer = a->length >= b->length ? a : b;
	const struct dash *shorter = longer == a ? b : a;
	if (on_two_cards(a, b) || turn_between(a, b) > MOST_TURN ||
	    fabs(region_left_of(longer->from, longer->to, shorter->from)) > MOST_OFFSET_MM ||
	    fabs(region_left_of(longer->from, longer->to, shorter->to)) > MOST_OFFSET_MM)
		return false;
	struct dash_gap gap = gap_between(longer, shorter);
	return gap.width <= MOST_GAP_MM &&
	       (gap.width <= 0 || !popups_part(popups, gap.from, gap.to));
}

/* A dash among those that are swept along one axis, with its stretch there. */
struct swept {
	double low, high;
	uint32_t dash;
};

static int compare_swept(const void *left, const void *right)
{
	const struct swept *a = left, *b = right;
	if (a->low != b->low)
		return a->low < b->low ? -1 : 1;
	return a->dash < b->dash ? -1 : a->dash > b->dash;
}

/*
 * Joins the dashes that run along one axis, sweeping along it, so that each meets only those
 * within the longest gap. Dashes at half a right angle are swept both ways.
 */
static void sweep_dashes(struct dashes *dashes, struct popups *popups, bool upright,
			 struct swept *swept)
{
	const double steep_enough = 0.7;
	uint32_t count = 0;
	for (uint32_t i = 0; i < dashes->count; i++) {
		const struct dash *dash = &dashes->items[i];
		double a = upright ? dash->from.y : dash->from.x;
		double b = upright ? dash->to.y : dash->to.x;
		if (fabs(b - a) >= steep_enough * dash->length)
			swept[count++] = (struct swept){fmin(a, b), fmax(a, b), i};
	}
	qsort(swept, count, sizeof *swept, compare_swept);
	for (uint32_t i = 0; i < count; i++) {
		for (uint32_t j = i + 1; j < count; j++) {
			uint32_t a = swept[i].dash, b = swept[j].dash;
			if (swept[j].low > swept[i].high + MOST_GAP_MM)
				break;
			if (sets_find(dashes->sets, a) != sets_find(dashes->sets, b) &&
			    in_one_line(popups, &dashes->items[a], &dashes->items[b]))
				sets_join(dashes->sets, a, b);
		}
	}
}

static int join_dashes(const struct sheet_work *work, struct dashes *dashes)
{
	if (dashes->count < 2)
		return 0;
	struct popups popups;
	struct swept *swept = ARENA_ARRAY(work->scratch, struct swept, dashes->count);
	int status = popups_init(&popups, work, dashes->box);
	if (swept && status == 0) {
		sweep_dashes(dashes, &popups, false, swept);
		sweep_dashes(dashes, &popups, true, swept);
	}
	popups_finish(&popups);
	return swept ? status : -1;
}

/* The stretches of one fold along its line, in mm from its start. */
struct stretch {
	double from, to;
};

static int compare_stretches(const void *left, const void *right)
{
	const struct stretch *a = left, *b = right;
	return a->from < b->from ? -1 : a->from > b->from;
}

/* The straight line of a set of dashes: between their ends that are farthest apart along it. */
static void span_dashes(const struct dashes *dashes, const uint32_t *members, uint32_t count,
			struct cutlint_fold *fold)
{
	const struct dash *longest = &dashes->items[members[0]];
	for (uint32_t i = 1; i < count; i++) {
		if (dashes->items[members[i]].length > longest->length)
			longest = &dashes->items[members[i]];
	}
	double ux = (longest->to.x - longest->from.x) / longest->length;
	double uy = (longest->to.y - longest->from.y) / longest->length;
	double low = INFINITY, high = -INFINITY;
	for (uint32_t i = 0; i < count; i++) {
		struct cutlint_xy ends[2] = {dashes->items[members[i]].from,
					     dashes->items[members[i]].to};
		for (int e = 0; e < 2; e++) {
			double at = ends[e].x * ux + ends[e].y * uy;
			fold->from = at < low ? ends[e] : fold->from;
			fold->to = at > high ? ends[e] : fold->to;
			low = fmin(low, at);
			high = fmax(high, at);
		}
	}
	set_direction(&fold->from, &fold->to);
}

/* How far the vertices of a fold outline stray from the fold's line. */
static double stray(const struct cutlint_design *design, const struct cutlint_fold *fold,
		    uint32_t number)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	double most = 0;
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		struct cutlint_xy at =
			cutlint_point_mm(design->vertices[outline->first_vertex + i]);
		most = fmax(most, fabs(region_left_of(fold->from, fold->to, at)));
	}
	return most;
}

static void measure_gaps(struct stretch *stretches, uint32_t count, struct cutlint_fold *fold)
{
	qsort(stretches, count, sizeof *stretches, compare_stretches);
	double reached = stretches[0].from;
	for (uint32_t i = 0; i < count; i++) {
		fold->widest_gap_mm = fmax(fold->widest_gap_mm, stretches[i].from - reached);
		double from = fmax(reached, stretches[i].from);
		fold->burned_mm += fmax(0, stretches[i].to - from);
		reached = fmax(reached, stretches[i].to);
	}
}

static void measure_fold(const struct sheet_work *work, const struct dashes *dashes,
			 const uint32_t *members, uint32_t count, struct stretch *stretches,
			 struct cutlint_fold *fold)
{
	*fold = (struct cutlint_fold){
		.outline = CUTLINT_NONE, .piece_count = count, .card = CUTLINT_NONE};
	span_dashes(dashes, members, count, fold);
	double length = xy_distance(fold->from, fold->to);
	double ux = (fold->to.x - fold->from.x) / length;
	double uy = (fold->to.y - fold->from.y) / length;
	for (uint32_t i = 0; i < count; i++) {
		const struct dash *dash = &dashes->items[members[i]];
		double a = (dash->from.x - fold->from.x) * ux + (dash->from.y - fold->from.y) * uy;
		double b = (dash->to.x - fold->from.x) * ux + (dash->to.y - fold->from.y) * uy;
		stretches[i] = (struct stretch){fmin(a, b), fmax(a, b)};
		fold->outline = dash->outline < fold->outline ? dash->outline : fold->outline;
		fold->farthest_mm =
			fmax(fold->farthest_mm, stray(work->design, fold, dash->outline));
	}
	measure_gaps(stretches, count, fold);
}

/* The card that holds a fold's middle, and what the fold leaves towards that card's edges. */
static void place_fold(const struct sheet_work *work, struct cutlint_fold *fold)
{
	fold->card = card_at(work, xy_middle(fold->from, fold->to));
	if (fold->card == CUTLINT_NONE)
		return;
	double enters, leaves, length = xy_distance(fold->from, fold->to);
	if (!region_stretch(&work->regions[fold->card], fold->from, fold->to, &enters, &leaves))
		return;
	fold->widest_gap_mm = fmax(fold->widest_gap_mm, fmax(-enters, leaves - length));
}

static int compare_folds(const void *left, const void *right)
{
	const struct cutlint_fold *a = left, *b = right;
	return a->outline < b->outline ? -1 : a->outline > b->outline;
}

/* Groups dashes by set: members[first[s]] to members[first[s + 1]]. */
static int group_dashes(struct sheet_work *work, struct dashes *dashes, uint32_t **members,
			uint32_t **first)
{
	size_t count = dashes->count;
	*members = ARENA_ARRAY(work->scratch, uint32_t, count + 1);
	*first = ARENA_ARRAY(work->scratch, uint32_t, count + 2);
	if (!*members || !*first)
		return -1;
	for (uint32_t i = 0; i < count; i++)
		(*first)[sets_find(dashes->sets, i) + 1]++;
	for (uint32_t i = 0; i < count; i++)
		(*first)[i + 1] += (*first)[i];
	uint32_t *next = ARENA_ARRAY(work->scratch, uint32_t, count + 1);
	if (!next)
		return -1;
	for (uint32_t i = 0; i < count; i++) {
		uint32_t set = sets_find(dashes->sets, i);
		(*members)[(*first)[set] + next[set]++] = i;
	}
	return 0;
}

static void choose_main_folds(struct sheet_work *work)
{
	for (uint32_t i = 0; i < work->sheet->fold_count; i++) {
		const struct cutlint_fold *fold = &work->folds[i];
		if (fold->card == CUTLINT_NONE)
			continue;
		struct cutlint_card *card = &work->cards[fold->card];
		card->fold_count++;
		const struct cutlint_fold *best =
			card->fold == CUTLINT_NONE ? NULL : &work->folds[card->fold];
		if (!best || xy_distance(fold->from, fold->to) > xy_distance(best->from, best->to))
			card->fold = i;
	}
}

int sheet_find_folds(struct sheet_work *work)
{
	struct dashes dashes = {.box = {INFINITY, INFINITY, -INFINITY, -INFINITY}};
	if (collect_dashes(work, &dashes) != 0 || join_dashes(work, &dashes) != 0)
		return -1;
	uint32_t *members, *first;
	if (group_dashes(work, &dashes, &members, &first) != 0)
		return -1;

	size_t count = dashes.count;
	work->folds = ARENA_ARRAY(work->arena, struct cutlint_fold, count + 1);
	struct stretch *stretches = ARENA_ARRAY(work->scratch, struct stretch, count + 1);
	if (!work->folds || !stretches)
		return -1;
	uint32_t folds = 0;
	for (uint32_t set = 0; set < count; set++) {
		uint32_t size = first[set + 1] - first[set];
		if (size == 0)
			continue;
		measure_fold(work, &dashes, members + first[set], size, stretches,
			     &work->folds[folds]);
		place_fold(work, &work->folds[folds++]);
	}
	qsort(work->folds, folds, sizeof *work->folds, compare_folds);
	work->sheet->folds = work->folds;
	work->sheet->fold_count = folds;
	choose_main_folds(work);
	return 0;
}
