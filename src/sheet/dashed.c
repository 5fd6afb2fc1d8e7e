/* Joining dashes: those that lie in one line make one fold. */
#include <stdlib.h>

#include "sheet/dash.h"
#include "sheet/popup.h"
#include "sheet/sets.h"
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

/* Whether two dashes lie in one line, and the gap between them; a pop-up may stand in it. */
static bool in_one_line(const struct dash *a, const struct dash *b, struct dash_gap *gap)
{
	const struct dash *longer = a->length >= b->length ? a : b;
	const struct dash *shorter = longer == a ? b : a;
	if (on_two_cards(a, b) || turn_between(a, b) > MOST_TURN ||
	    fabs(region_left_of(longer->from, longer->to, shorter->from)) > MOST_OFFSET_MM ||
	    fabs(region_left_of(longer->from, longer->to, shorter->to)) > MOST_OFFSET_MM)
		return false;
	*gap = gap_between(longer, shorter);
	return gap->width <= MOST_GAP_MM;
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
 * within the longest gap. Dashes at half a right angle are swept both ways. Without pop-ups all
 * that lie in one line are joined.
 */
static void sweep_dashes(const struct dashes *dashes, struct popups *popups, bool upright,
			 struct swept *swept, uint32_t *sets)
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
			struct dash_gap gap;
			if (sets_find(sets, a) == sets_find(sets, b) ||
			    !in_one_line(&dashes->items[a], &dashes->items[b], &gap))
				continue;
			if (!popups || !popups_part(popups, gap.from, gap.to))
				sets_join(sets, a, b);
		}
	}
}

/* The cuts that the ends of the dashes lie on. NULL where memory ran out. */
static struct hinge *collect_hinges(const struct dashes *dashes, struct fold_cuts *cuts,
				    uint32_t *lines, uint32_t *count)
{
	uint32_t most = 0, found = 0;
	for (uint32_t i = 0; i < dashes->count; i++)
		most += fold_cuts_at(cuts, dashes->items[i].from) +
			fold_cuts_at(cuts, dashes->items[i].to);
	struct hinge *hinges = ARENA_ARRAY(cuts->work->scratch, struct hinge, (size_t)most + 1);
	for (uint32_t i = 0; hinges && i < 2 * dashes->count; i++) {
		const struct dash *dash = &dashes->items[i / 2];
		struct cutlint_xy at = i % 2 ? dash->to : dash->from;
		uint32_t here = fold_cuts_at(cuts, at), line = sets_find(lines, i / 2);
		for (uint32_t c = 0; c < here; c++)
			hinges[found++] = (struct hinge){cuts->met[c].outline, line, at};
	}
	*count = found;
	return hinges;
}

int dashes_join(struct dashes *dashes, struct fold_cuts *cuts)
{
	struct arena *scratch = cuts->work->scratch;
	dashes->sets = sets_create(scratch, dashes->count);
	uint32_t *lines = sets_create(scratch, dashes->count), hinge_count;
	struct swept *swept = ARENA_ARRAY(scratch, struct swept, (size_t)dashes->count + 1);
	struct popups popups;
	if (!dashes->sets || !lines || !swept)
		return -1;
	sweep_dashes(dashes, NULL, false, swept, lines);
	sweep_dashes(dashes, NULL, true, swept, lines);
	struct hinge *hinges = collect_hinges(dashes, cuts, lines, &hinge_count);
	if (!hinges || popups_init(&popups, cuts, hinges, hinge_count) != 0)
		return -1;
	sweep_dashes(dashes, &popups, false, swept, dashes->sets);
	sweep_dashes(dashes, &popups, true, swept, dashes->sets);
	return 0;
}

int dashes_group(struct arena *arena, struct dashes *dashes, struct dash_folds *folds)
{
	uint32_t *numbers = ARENA_ARRAY(arena, uint32_t, (size_t)dashes->count + 1);
	uint32_t *next = ARENA_ARRAY(arena, uint32_t, (size_t)dashes->count + 1);
	folds->members = ARENA_ARRAY(arena, uint32_t, (size_t)dashes->count + 1);
	folds->first = ARENA_ARRAY(arena, uint32_t, (size_t)dashes->count + 2);
	folds->count = 0;
	if (!numbers || !next || !folds->members || !folds->first)
		return -1;
	for (uint32_t i = 0; i < dashes->count; i++) {
		uint32_t set = sets_find(dashes->sets, i);
		numbers[i] = set == i ? folds->count++ : numbers[set];
		folds->first[numbers[i] + 1]++;
	}
	for (uint32_t i = 0; i < folds->count; i++)
		folds->first[i + 1] += folds->first[i];
	for (uint32_t i = 0; i < dashes->count; i++)
		folds->members[folds->first[numbers[i]] + next[numbers[i]]++] = i;
	return 0;
}
