/* Folds: the fold outlines that lie in one line, dashes joined. */
#include <math.h>
#include <stdlib.h>

#include "sheet/dash.h"
#include "sheet/mouth.h"
#include "sheet/work.h"
#include "sheet/xy.h"

/* The stretches of one fold along its line, in mm from its start. */
struct stretch {
	double from, to;
};

static int compare_stretches(const void *left, const void *right)
{
	const struct stretch *a = left, *b = right;
	return a->from < b->from ? -1 : a->from > b->from;
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
	struct span span = dashes_span(dashes, members, count);
	*fold = (struct cutlint_fold){.outline = CUTLINT_NONE,
				      .piece_count = count,
				      .from = span.from,
				      .to = span.to,
				      .card = CUTLINT_NONE};
	double length = xy_distance(fold->from, fold->to);
	double ux = (fold->to.x - fold->from.x) / length;
	double uy = (fold->to.y - fold->from.y) / length;
	for (uint32_t i = 0; i < count; i++) {
		const struct dash *dash = &dashes->items[members[i]];
		double a = (dash->from.x - fold->from.x) * ux + (dash->from.y - fold->from.y) * uy;
		double b = (dash->to.x - fold->from.x) * ux + (dash->to.y - fold->from.y) * uy;
		stretches[i] = (struct stretch){fmin(a, b), fmax(a, b)};
		if (dash->outline < fold->outline) {
			fold->outline = dash->outline;
			fold->vertex =
				work->design->outlines[dash->outline].first_vertex + dash->first;
		}
		fold->farthest_mm = fmax(fold->farthest_mm,
					 dash_strays(work->design, dash, fold->from, fold->to));
	}
	measure_gaps(stretches, count, fold);
}

/* An end of a fold this near to its card's edge, along the fold, is meant to reach it: a choice. */
static const double AT_EDGE_MM = 5;

/* The card that holds a fold's middle, and what the fold leaves towards that card's edges. */
static void place_fold(const struct sheet_work *work, struct cutlint_fold *fold)
{
	fold->card = sheet_card_at(work, xy_middle(fold->from, fold->to));
	if (fold->card == CUTLINT_NONE)
		return;
	double enters, leaves, length = xy_distance(fold->from, fold->to);
	if (!region_stretch(&work->regions[fold->card], fold->from, fold->to, &enters, &leaves))
		return;
	fold->widest_gap_mm = fmax(fold->widest_gap_mm, fmax(-enters, leaves - length));
	fold->at_edge[0] = -enters <= AT_EDGE_MM;
	fold->at_edge[1] = leaves - length <= AT_EDGE_MM;
}

/* By where they start in the file; the two halves of a parted one by place. */
static int compare_folds(const void *left, const void *right)
{
	const struct cutlint_fold *a = left, *b = right;
	if (a->vertex != b->vertex)
		return a->vertex < b->vertex ? -1 : 1;
	return xy_compare(a->from, b->from);
}

/* Whether a fold is a better one to stand for its card than another. */
static bool is_better(const struct cutlint_fold *fold, const struct cutlint_fold *other)
{
	bool reaches = fold->at_edge[0] || fold->at_edge[1];
	bool other_reaches = other->at_edge[0] || other->at_edge[1];
	if (reaches != other_reaches)
		return reaches;
	return xy_distance(fold->from, fold->to) > xy_distance(other->from, other->to);
}

static void choose_main_fold(struct sheet_work *work, uint32_t number)
{
	const struct cutlint_fold *fold = &work->folds[number];
	struct cutlint_card *card = &work->cards[fold->card];
	if (card->fold == CUTLINT_NONE || is_better(fold, &work->folds[card->fold]))
		card->fold = number;
}

/*
 * A fold across the card has an end at both edges; one that is parted by a pop-up has an end at
 * each, so that ends are counted.
 */
static int count_folds(struct sheet_work *work)
{
	uint32_t cards = work->sheet->card_count;
	uint32_t *ends = ARENA_ARRAY(work->scratch, uint32_t, 3 * (size_t)cards + 1);
	if (!ends)
		return -1;
	for (uint32_t i = 0; i < work->sheet->fold_count; i++) {
		const struct cutlint_fold *fold = &work->folds[i];
		if (fold->card == CUTLINT_NONE)
			continue;
		choose_main_fold(work, i);
		ends[3 * fold->card] += fold->at_edge[0];
		ends[3 * fold->card + 1] += fold->at_edge[1];
		ends[3 * fold->card + 2]++;
	}
	for (uint32_t c = 0; c < cards; c++) {
		const uint32_t *of = &ends[3 * c];
		uint32_t most = of[0] > of[1] ? of[0] : of[1];
		work->cards[c].fold_count = most > 0 ? most : of[2];
	}
	return 0;
}

static int measure_folds(struct sheet_work *work, const struct dashes *dashes,
			 const struct dash_folds *folds)
{
	work->folds = ARENA_ARRAY(work->arena, struct cutlint_fold, (size_t)folds->count + 1);
	struct stretch *stretches =
		ARENA_ARRAY(work->scratch, struct stretch, (size_t)dashes->count + 1);
	if (!work->folds || !stretches)
		return -1;
	for (uint32_t f = 0; f < folds->count; f++) {
		uint32_t first = folds->first[f];
		measure_fold(work, dashes, folds->members + first, folds->first[f + 1] - first,
			     stretches, &work->folds[f]);
		place_fold(work, &work->folds[f]);
	}
	qsort(work->folds, folds->count, sizeof *work->folds, compare_folds);
	work->sheet->folds = work->folds;
	work->sheet->fold_count = folds->count;
	return count_folds(work);
}

/* Parts the folds at which mouths stand. */
static int part_at_mouths(struct sheet_work *work, struct fold_cuts *cuts, struct dashes *dashes,
			  struct dash_folds *folds)
{
	struct span *spans = ARENA_ARRAY(work->scratch, struct span, (size_t)folds->count + 1);
	struct fold_break *breaks;
	uint32_t count;
	if (!spans)
		return -1;
	for (uint32_t f = 0; f < folds->count; f++)
		spans[f] = dashes_span(dashes, folds->members + folds->first[f],
				       folds->first[f + 1] - folds->first[f]);
	if (mouths_find(cuts, spans, folds->count, &breaks, &count) != 0)
		return -1;
	if (count == 0)
		return 0;
	if (dashes_part(work->scratch, dashes, folds, spans, breaks, count) != 0)
		return -1;
	return dashes_group(work->scratch, dashes, folds);
}

int sheet_find_folds(struct sheet_work *work)
{
	struct dashes dashes;
	struct dash_folds folds = {NULL, NULL, 0};
	struct fold_cuts cuts;
	if (dashes_collect(work, &dashes) != 0)
		return -1;
	int status = fold_cuts_init(&cuts, work, dashes.box);
	if (status == 0 && (dashes_join(&dashes, &cuts) != 0 ||
			    dashes_group(work->scratch, &dashes, &folds) != 0 ||
			    part_at_mouths(work, &cuts, &dashes, &folds) != 0))
		status = -1;
	fold_cuts_finish(&cuts);
	return status == 0 ? measure_folds(work, &dashes, &folds) : -1;
}
