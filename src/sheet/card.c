/* The cards: what lies inside outlines or blanks; without either, the page. */
#include <math.h>
#include <stdlib.h>

#include "sheet/work.h"

/* A closed line that may be a card's edge. */
struct candidate {
	enum cutlint_role role;
	uint32_t outline; /* its first in the file */
	uint32_t loop;    /* CUTLINT_NONE for a closed outline */
	struct region region;
	struct cutlint_box box;
	double area;
	bool out; /* no card */
};

struct candidates {
	struct candidate *items;
	uint32_t count;
};

/* Candidates from left to right; of equals the larger first, so that what holds comes before. */
static int compare_candidates(const void *left, const void *right)
{
	const struct candidate *a = left, *b = right;
	if (a->box.left != b->box.left)
		return a->box.left < b->box.left ? -1 : 1;
	if (a->area != b->area)
		return a->area > b->area ? -1 : 1;
	return a->outline < b->outline ? -1 : a->outline > b->outline;
}

static int compare_outlines(const void *left, const void *right)
{
	const struct candidate *a = left, *b = right;
	return a->outline < b->outline ? -1 : a->outline > b->outline;
}

static void append_outline(const struct cutlint_design *design, struct sheet_step step,
			   struct region *region)
{
	const struct cutlint_outline *outline = &design->outlines[step.outline];
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		uint32_t place = step.reversed ? outline->vertex_count - 1 - i : i;
		region->points[region->count++] =
			cutlint_point_mm(design->vertices[outline->first_vertex + place]);
	}
}

/* Measures a candidate whose region is to be made of `count` steps. */
static int add_candidate(struct sheet_work *work, struct candidates *list,
			 struct candidate candidate, const struct sheet_step *steps, uint32_t count)
{
	size_t points = 0;
	for (uint32_t i = 0; i < count; i++)
		points += work->design->outlines[steps[i].outline].vertex_count;
	struct region *region = &candidate.region;
	region->points = ARENA_ARRAY(work->scratch, struct cutlint_xy, points + 1);
	if (!region->points)
		return -1;
	for (uint32_t i = 0; i < count; i++)
		append_outline(work->design, steps[i], region);
	candidate.box = region_box(region);
	candidate.area = region_area(region);
	if (candidate.area > 0)
		list->items[list->count++] = candidate;
	return 0;
}

static bool may_bound(enum cutlint_role role)
{
	return role == CUTLINT_ROLE_OUTLINE || role == CUTLINT_ROLE_BLANK;
}

static int collect_candidates(struct sheet_work *work, struct candidates *list)
{
	const struct cutlint_design *design = work->design;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		enum cutlint_role role = cutlint_outline_role(design, i);
		if (!may_bound(role))
			continue;
		struct candidate candidate = {role, i, CUTLINT_NONE, .out = false};
		struct sheet_step step = {i, false}, *steps = &step;
		uint32_t count = 1;
		if (!design->outlines[i].closed) {
			candidate.loop = work->loops.of[i];
			if (candidate.loop == CUTLINT_NONE ||
			    work->loops.items[candidate.loop].outline != i)
				continue;
			steps = work->loops.steps + work->loops.items[candidate.loop].first;
			count = work->loops.items[candidate.loop].count;
		}
		if (add_candidate(work, list, candidate, steps, count) != 0)
			return -1;
	}
	return 0;
}

static bool boxes_apart(struct cutlint_box a, struct cutlint_box b)
{
	return a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
}

static bool lies_in(const struct candidate *inner, const struct candidate *outer)
{
	return !boxes_apart(inner->box, outer->box) &&
	       region_contains(&outer->region, region_inside(&inner->region));
}

/* One comparison of two candidates, of which `a` begins farther left, or holds more. */
typedef void compare_pair(struct candidate *a, struct candidate *b);

/* What lies in a card is no card. */
static void rule_out_inner(struct candidate *a, struct candidate *b)
{
	if (a->role == b->role && lies_in(b, a))
		b->out = true;
}

/* A blank that holds an outline is the stock that the card is cut from, and one in it no card. */
static void rule_out_blank(struct candidate *a, struct candidate *b)
{
	if (a->role == b->role || (!lies_in(a, b) && !lies_in(b, a)))
		return;
	if (a->role == CUTLINT_ROLE_BLANK)
		a->out = true;
	else
		b->out = true;
}

/*
 * Goes from left to right over the candidates that are not out, and compares each with those that
 * reach as far to the right as it begins.
 */
static void sweep(struct candidates *list, uint32_t *active, compare_pair *compare)
{
	uint32_t count = 0;
	for (uint32_t i = 0; i < list->count; i++) {
		struct candidate *item = &list->items[i];
		uint32_t left = 0;
		for (uint32_t j = 0; j < count; j++) {
			struct candidate *other = &list->items[active[j]];
			if (other->out || other->box.right <= item->box.left)
				continue;
			active[left++] = active[j];
			if (!item->out)
				compare(other, item);
		}
		count = left;
		if (!item->out)
			active[count++] = i;
	}
}

/* Keeps the candidates that are cards, in the order of the file. */
static int choose_cards(struct arena *scratch, struct candidates *list)
{
	uint32_t *active = ARENA_ARRAY(scratch, uint32_t, (size_t)list->count + 1);
	if (!active)
		return -1;
	qsort(list->items, list->count, sizeof *list->items, compare_candidates);
	sweep(list, active, rule_out_inner);
	sweep(list, active, rule_out_blank);
	uint32_t taken = 0;
	for (uint32_t i = 0; i < list->count; i++) {
		if (!list->items[i].out)
			list->items[taken++] = list->items[i];
	}
	list->count = taken;
	qsort(list->items, list->count, sizeof *list->items, compare_outlines);
	return 0;
}

static int add_page(struct sheet_work *work, struct candidates *list)
{
	double width = work->design->page_width_mm, height = work->design->page_height_mm;
	if (!(width > 0) || !(height > 0))
		return 0;
	struct candidate page = {CUTLINT_ROLE_BLANK, CUTLINT_NONE, CUTLINT_NONE, .out = false};
	page.region.points = ARENA_ARRAY(work->scratch, struct cutlint_xy, 4);
	if (!page.region.points)
		return -1;
	struct cutlint_xy corners[4] = {{0, 0}, {width, 0}, {width, height}, {0, height}};
	for (int i = 0; i < 4; i++)
		page.region.points[i] = corners[i];
	page.region.count = 4;
	page.box = (struct cutlint_box){0, 0, width, height};
	page.area = width * height;
	list->items[list->count++] = page;
	return 0;
}

static void mark_edge(struct sheet_work *work, const struct candidate *candidate, uint32_t card)
{
	if (candidate->outline == CUTLINT_NONE)
		return;
	work->card_of[candidate->outline] = card;
	if (candidate->loop == CUTLINT_NONE)
		return;
	const struct sheet_loop *loop = &work->loops.items[candidate->loop];
	for (uint32_t i = 0; i < loop->count; i++)
		work->card_of[work->loops.steps[loop->first + i].outline] = card;
}

static int fill_cards(struct sheet_work *work, const struct candidates *list)
{
	work->cards = ARENA_ARRAY(work->arena, struct cutlint_card, (size_t)list->count + 1);
	work->regions = ARENA_ARRAY(work->scratch, struct region, (size_t)list->count + 1);
	if (!work->cards || !work->regions)
		return -1;
	for (uint32_t i = 0; i < list->count; i++) {
		const struct candidate *candidate = &list->items[i];
		work->regions[i] = candidate->region;
		work->cards[i] = (struct cutlint_card){
			.outline = candidate->outline,
			.edge_burned = candidate->role == CUTLINT_ROLE_OUTLINE,
			.box = candidate->box,
			.area_mm2 = candidate->area,
			.fold = CUTLINT_NONE,
			.face = -1,
			.face_outline = CUTLINT_NONE,
		};
		mark_edge(work, candidate, i);
	}
	work->sheet->cards = work->cards;
	work->sheet->card_count = list->count;
	return 0;
}

int sheet_find_cards(struct sheet_work *work)
{
	size_t outlines = work->design->outline_count;
	struct candidates list = {ARENA_ARRAY(work->scratch, struct candidate, outlines + 1), 0};
	work->card_of = ARENA_ARRAY(work->scratch, uint32_t, outlines + 1);
	if (!list.items || !work->card_of)
		return -1;
	for (uint32_t i = 0; i < outlines; i++)
		work->card_of[i] = CUTLINT_NONE;
	if (collect_candidates(work, &list) != 0 || choose_cards(work->scratch, &list) != 0)
		return -1;
	if (list.count == 0 && add_page(work, &list) != 0)
		return -1;
	return fill_cards(work, &list);
}
