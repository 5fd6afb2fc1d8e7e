/* Parting folds: what breaks leave of their dashes. */
#include "sheet/dash.h"
#include "sheet/sets.h"
#include "sheet/xy.h"

/* Dashes that are parted, as they are made. */
struct parting {
	struct dashes *out;
	uint32_t
		*stretches; /* of each: 0 before its fold's first break, 1 before the second, ... */
	uint32_t room;
};

static void add_piece(struct parting *parting, const struct dash *dash, struct span piece,
		      uint32_t stretch)
{
	double length = xy_distance(piece.from, piece.to);
	if (length < fmin(SHEET_ON_CUT_MM, dash->length) || parting->out->count == parting->room)
		return;
	parting->stretches[parting->out->count] = stretch;
	parting->out->items[parting->out->count++] = (struct dash){.outline = dash->outline,
								   .from = piece.from,
								   .to = piece.to,
								   .length = length,
								   .card = dash->card,
								   .first = dash->first,
								   .run = dash->run};
}

/* A place of a dash, where it passes a place of the span that it lies in. */
static struct cutlint_xy place_on(const struct dash *dash, double low, double high, double at)
{
	double share = fmin(fmax((at - low) / (high - low), 0), 1);
	return (struct cutlint_xy){dash->from.x + share * (dash->to.x - dash->from.x),
				   dash->from.y + share * (dash->to.y - dash->from.y)};
}

/* What breaks leave of a dash; all in mm along the fold's span. */
static void part_dash(struct parting *parting, const struct dash *dash, struct span span,
		      const struct fold_break *breaks, uint32_t count)
{
	double length = xy_distance(span.from, span.to);
	struct cutlint_xy along = {(span.to.x - span.from.x) / length,
				   (span.to.y - span.from.y) / length};
	double low = xy_dot(xy_minus(dash->from, span.from), along);
	double high = xy_dot(xy_minus(dash->to, span.from), along);
	double reached = fmin(low, high), end = fmax(low, high);
	for (uint32_t i = 0; i <= count; i++) {
		double to = i < count ? fmin(breaks[i].low, end) : end;
		if (to > reached)
			add_piece(parting, dash,
				  (struct span){place_on(dash, low, high, reached),
						place_on(dash, low, high, to)},
				  i);
		reached = i < count ? fmax(reached, breaks[i].high) : end;
	}
}

/* Joins the dashes of one stretch of one fold, which are those from `first` on. */
static void join_stretches(const struct parting *parting, uint32_t first, uint32_t *leaders)
{
	struct dashes *dashes = parting->out;
	for (uint32_t i = first; i < dashes->count; i++)
		leaders[parting->stretches[i]] = CUTLINT_NONE;
	for (uint32_t i = first; i < dashes->count; i++) {
		uint32_t *leader = &leaders[parting->stretches[i]];
		*leader = *leader == CUTLINT_NONE ? i : *leader;
		sets_join(dashes->sets, i, *leader);
	}
}

int dashes_part(struct arena *arena, struct dashes *dashes, const struct dash_folds *folds,
		const struct span *spans, const struct fold_break *breaks, uint32_t count)
{
	size_t room = dashes->count;
	for (uint32_t i = 0; i < count; i++)
		room += folds->first[breaks[i].fold + 1] - folds->first[breaks[i].fold];
	struct dashes out = {.box = dashes->box};
	struct parting parting = {&out, ARENA_ARRAY(arena, uint32_t, room + 1), (uint32_t)room};
	uint32_t *leaders = ARENA_ARRAY(arena, uint32_t, (size_t)count + 1);
	out.items = ARENA_ARRAY(arena, struct dash, room + 1);
	out.sets = room < UINT32_MAX ? sets_create(arena, (uint32_t)room) : NULL;
	if (!parting.stretches || !leaders || !out.items || !out.sets)
		return -1;
	for (uint32_t f = 0, b = 0; f < folds->count; f++) {
		uint32_t first = out.count, here = 0;
		while (b + here < count && breaks[b + here].fold == f)
			here++;
		for (uint32_t i = folds->first[f]; i < folds->first[f + 1]; i++)
			part_dash(&parting, &dashes->items[folds->members[i]], spans[f], breaks + b,
				  here);
		join_stretches(&parting, first, leaders);
		b += here;
	}
	*dashes = out;
	return 0;
}
