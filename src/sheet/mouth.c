#include "sheet/mouth.h"

#include <stdlib.h>
#include <string.h>

#include "sheet/xy.h"

/*
 * The two scores of a mouth may differ by this much in their angles to the fold, as one that is
 * drawn by hand, and are never square to it: choices of this project.
 */
static const double MOST_UNEQUAL = 5 * 3.14159265358979323846 / 180;
static const double MOST_ANGLE = 85 * 3.14159265358979323846 / 180;

/* A score that runs from a cut to a fold. */
struct leg {
	uint32_t fold, cut;
	double at;     /* where it meets the fold, in mm along the fold's span */
	bool left;     /* its cut's end lies left of the fold */
	bool onwards;  /* that end lies further along the fold than `at` */
	double angle;  /* to the fold, 0 to a quarter turn */
	double length; /* from the cut to the fold */
};

struct legs {
	struct fold_cuts *cuts;
	const struct span *spans;
	uint32_t span_count;
	struct geo_segment *segments; /* the spans */
	struct geo_index *index;      /* of them */
	struct leg *items;
	uint32_t count, room;
};

static int add_leg(struct legs *legs, struct leg leg)
{
	if (legs->count == legs->room) {
		size_t room = 2 * (size_t)legs->room + 64;
		struct leg *grown = ARENA_ARRAY(legs->cuts->work->scratch, struct leg, room);
		if (!grown || room > UINT32_MAX)
			return -1;
		if (legs->count > 0)
			memcpy(grown, legs->items, legs->count * sizeof *grown);
		legs->items = grown;
		legs->room = (uint32_t)room;
	}
	legs->items[legs->count++] = leg;
	return 0;
}

/* Folds that meet in one place of a card are at most so many: a mouth above and one below make 5.
 */
#define MOST_MET 16

/* A look along a span from one of its ends for the folds that it meets first, in one place. */
struct look {
	const struct legs *legs;
	uint32_t span;
	struct cutlint_xy from, along; /* along is of length 1 */
	double length;
	double nearest;           /* how far the first of them is */
	uint32_t folds[MOST_MET]; /* those within reach */
	uint32_t count;
};

static struct cutlint_xy unit_of(struct cutlint_xy from, struct cutlint_xy to)
{
	double length = xy_distance(from, to);
	return (struct cutlint_xy){(to.x - from.x) / length, (to.y - from.y) / length};
}

/* How far ahead a span meets a fold; infinite where it does not, or runs along it. */
static double way_to(const struct look *look, uint32_t number)
{
	const struct span *fold = &look->legs->spans[number];
	struct cutlint_xy course = unit_of(fold->from, fold->to);
	struct cutlint_xy there = xy_minus(fold->from, look->from);
	double turn = xy_cross(look->along, course);
	if (number == look->span || fabs(turn) <= sin(MOST_UNEQUAL))
		return INFINITY;
	double way = xy_cross(there, course) / turn, at = xy_cross(there, look->along) / turn;
	bool meets = way > SHEET_ON_CUT_MM && way <= look->length + SHEET_ON_CUT_MM &&
		     at >= -SHEET_ON_CUT_MM &&
		     at <= xy_distance(fold->from, fold->to) + SHEET_ON_CUT_MM;
	return meets ? way : INFINITY;
}

static bool visit_nearest(void *user, uint32_t number)
{
	struct look *look = user;
	look->nearest = fmin(look->nearest, way_to(look, number));
	return true;
}

static bool visit_within(void *user, uint32_t number)
{
	struct look *look = user;
	if (way_to(look, number) > look->nearest + SHEET_ON_CUT_MM)
		return true;
	for (uint32_t i = 0; i < look->count; i++) {
		if (look->folds[i] == number)
			return true;
	}
	look->folds[look->count++] = number;
	return look->count < MOST_MET;
}

/* A span as a leg to one of the folds that it meets. */
static struct leg measure_leg(const struct look *look, uint32_t number)
{
	const struct span *fold = &look->legs->spans[number];
	struct cutlint_xy course = unit_of(fold->from, fold->to), from = look->from;
	double way = way_to(look, number);
	struct cutlint_xy meets = {from.x + way * look->along.x, from.y + way * look->along.y};
	struct leg leg = {.fold = number, .length = way};
	leg.at = xy_dot(xy_minus(meets, fold->from), course);
	leg.left = region_left_of(fold->from, fold->to, from) > 0;
	leg.onwards = xy_dot(xy_minus(from, meets), course) > 0;
	leg.angle = atan2(fabs(xy_cross(look->along, course)), fabs(xy_dot(look->along, course)));
	return leg;
}

/* The legs of one span from one of its ends: one a cut that the end lies on and a fold it meets. */
static int add_legs(struct legs *legs, uint32_t span, bool last)
{
	struct cutlint_xy from = last ? legs->spans[span].to : legs->spans[span].from;
	struct cutlint_xy to = last ? legs->spans[span].from : legs->spans[span].to;
	uint32_t cuts = fold_cuts_at(legs->cuts, from);
	struct look look = {.legs = legs,
			    .span = span,
			    .from = from,
			    .along = unit_of(from, to),
			    .length = xy_distance(from, to),
			    .nearest = INFINITY};
	double apart = SHEET_ON_CUT_MM * SHEET_NM;
	if (cuts == 0)
		return 0;
	geo_index_band(legs->index, sheet_nm(from), sheet_nm(to), apart, visit_nearest, &look);
	if (isfinite(look.nearest))
		geo_index_band(legs->index, sheet_nm(from), sheet_nm(to), apart, visit_within,
			       &look);
	for (uint32_t i = 0; i < look.count; i++) {
		struct leg leg = measure_leg(&look, look.folds[i]);
		for (uint32_t c = 0; c < cuts && leg.angle <= MOST_ANGLE; c++) {
			leg.cut = legs->cuts->met[c].outline;
			if (add_leg(legs, leg) != 0)
				return -1;
		}
	}
	return 0;
}

static int collect_legs(struct legs *legs)
{
	int status = 0;
	for (uint32_t i = 0; i < 2 * legs->span_count && status == 0; i++)
		status = add_legs(legs, i / 2, i % 2 == 1);
	return status;
}

static int index_spans(struct legs *legs)
{
	legs->segments = ARENA_ARRAY(legs->cuts->work->scratch, struct geo_segment,
				     (size_t)legs->span_count + 1);
	if (!legs->segments)
		return -1;
	for (uint32_t i = 0; i < legs->span_count; i++) {
		struct geo_vector from = sheet_nm(legs->spans[i].from);
		struct geo_vector to = sheet_nm(legs->spans[i].to);
		legs->segments[i] = (struct geo_segment){
			{(int32_t)lround(from.x), (int32_t)lround(from.y)},
			{(int32_t)lround(to.x), (int32_t)lround(to.y)},
		};
	}
	legs->index = geo_index_create(legs->segments, legs->span_count);
	return legs->index ? 0 : -1;
}

static int compare_legs(const void *left, const void *right)
{
	const struct leg *a = left, *b = right;
	if (a->fold != b->fold)
		return a->fold < b->fold ? -1 : 1;
	if (a->onwards != b->onwards)
		return a->onwards < b->onwards ? -1 : 1;
	if (a->at != b->at)
		return a->at < b->at ? -1 : 1;
	return a->cut < b->cut ? -1 : a->cut > b->cut;
}

/* What a cut takes of a fold among what was met, in mm along the search. */
static bool find_stretch(const struct met_cut *met, uint32_t count, uint32_t cut, double *low,
			 double *high)
{
	*low = INFINITY;
	*high = -INFINITY;
	for (uint32_t i = 0; i < count; i++) {
		if (met[i].outline != cut)
			continue;
		*low = fmin(*low, met[i].at);
		*high = fmax(*high, met[i].at);
	}
	return *low <= *high;
}

/*
 * Whether two legs make a mouth, and where its cut parts the fold. The cut may be drawn in two
 * halves, one a leg, which come near to each other on the fold.
 */
static bool makes_mouth(const struct legs *legs, const struct leg *a, const struct leg *b,
			struct fold_break *out)
{
	const struct span *fold = &legs->spans[a->fold];
	struct cutlint_xy course = unit_of(fold->from, fold->to);
	double low[2], high[2], reach = 2 * fmax(a->length, b->length);
	if (a->left == b->left || fabs(a->angle - b->angle) > MOST_UNEQUAL)
		return false;
	double at = (a->at + b->at) / 2, sign = a->onwards ? 1 : -1;
	struct cutlint_xy from = {fold->from.x + at * course.x, fold->from.y + at * course.y};
	struct cutlint_xy to = {from.x + sign * reach * course.x, from.y + sign * reach * course.y};
	uint32_t count = fold_cuts_meet(legs->cuts, from, to);
	if (!find_stretch(legs->cuts->met, count, a->cut, &low[0], &high[0]) ||
	    !find_stretch(legs->cuts->met, count, b->cut, &low[1], &high[1]) ||
	    low[0] > high[1] + SHEET_ON_CUT_MM || low[1] > high[0] + SHEET_ON_CUT_MM)
		return false;
	double near = at + sign * fmin(low[0], low[1]), far = at + sign * fmax(high[0], high[1]);
	*out = (struct fold_break){a->fold, fmin(near, far), fmax(near, far)};
	return true;
}

static int compare_breaks(const void *left, const void *right)
{
	const struct fold_break *a = left, *b = right;
	if (a->fold != b->fold)
		return a->fold < b->fold ? -1 : 1;
	return a->low < b->low ? -1 : a->low > b->low;
}

/* Joins breaks that overlap, or nearly: both pairs of scores of one mouth find its cut. */
static uint32_t join_breaks(struct fold_break *breaks, uint32_t count)
{
	uint32_t kept = 0;
	qsort(breaks, count, sizeof *breaks, compare_breaks);
	for (uint32_t i = 0; i < count; i++) {
		struct fold_break *last = kept > 0 ? &breaks[kept - 1] : NULL;
		if (last && last->fold == breaks[i].fold &&
		    breaks[i].low <= last->high + SHEET_ON_CUT_MM)
			last->high = fmax(last->high, breaks[i].high);
		else
			breaks[kept++] = breaks[i];
	}
	return kept;
}

/* Looks at each leg with those that meet the fold in the same place. */
static uint32_t pair_legs(const struct legs *legs, struct fold_break *breaks)
{
	const struct leg *items = legs->items;
	uint32_t count = 0;
	if (legs->count == 0)
		return 0;
	qsort(legs->items, legs->count, sizeof *legs->items, compare_legs);
	for (uint32_t i = 0; i < legs->count; i++) {
		bool found = false;
		for (uint32_t j = i + 1; j < legs->count && !found; j++) {
			if (items[j].fold != items[i].fold ||
			    items[j].onwards != items[i].onwards ||
			    items[j].at > items[i].at + SHEET_ON_CUT_MM)
				break;
			found = makes_mouth(legs, &items[i], &items[j], &breaks[count]);
		}
		count += found;
	}
	return join_breaks(breaks, count);
}

int mouths_find(struct fold_cuts *cuts, const struct span *spans, uint32_t count,
		struct fold_break **breaks, uint32_t *break_count)
{
	struct legs legs = {.cuts = cuts, .spans = spans, .span_count = count};
	*break_count = 0;
	if (cuts->count == 0 || count < 3)
		return 0;
	int status = index_spans(&legs);
	if (status == 0)
		status = collect_legs(&legs);
	geo_index_destroy(legs.index);
	if (status != 0)
		return -1;
	*breaks = ARENA_ARRAY(cuts->work->scratch, struct fold_break, (size_t)legs.count + 1);
	if (!*breaks)
		return -1;
	*break_count = pair_legs(&legs, *breaks);
	return 0;
}
