#include "sheet/part.h"

#include <stdlib.h>

#include "base/permute.h"
#include "cutlint/rule.h"
#include "sheet/frame.h"
#include "sheet/hang.h"
#include "sheet/load.h"
#include "sheet/parted.h"
#include "sheet/picture.h"
#include "sheet/xy.h"

struct parting {
	struct sheet_work *work;
	const struct burn *burn;
	const struct geo_arrangement *arrangement;
	const struct intent *intent;
	const struct face_sets *openings;
	struct sheet_necks necks;
	struct hang hang;
	uint32_t *frames;   /* of each card: its frame's piece, or GEO_NONE */
	uint32_t *of_piece; /* the part of each piece, or GEO_NONE */
	struct cutlint_part *parts;
	uint32_t count;
};

/*
 * The number that stands for a piece's part: pieces that hang on a frame are their own, loose ones
 * that hold together are one, the faces of an opening are one. GEO_NONE: no part.
 */
static uint32_t part_key(const struct parting *parting, uint32_t piece)
{
	uint32_t face = parting->necks.pieces.items[piece].face;
	uint32_t pieces = parting->necks.pieces.count;
	switch (parting->intent->kinds[face]) {
	case FACE_KEPT:
		return parting->hang.hangs[piece] ? piece : parting->hang.group[piece];
	case FACE_WINDOW:
		return pieces + parting->openings->of[face];
	default:
		return face == 0 || parting->intent->cards[face] != CUTLINT_NONE ? GEO_NONE : piece;
	}
}

static enum cutlint_part_kind part_kind(const struct parting *parting, uint32_t piece)
{
	uint32_t face = parting->necks.pieces.items[piece].face;
	if (parting->intent->kinds[face] == FACE_WINDOW)
		return CUTLINT_PART_WINDOW;
	if (parting->intent->kinds[face] == FACE_WASTE)
		return CUTLINT_PART_WASTE;
	if (!parting->hang.hangs[piece])
		return CUTLINT_PART_LOOSE;
	uint32_t card = parting->intent->cards[face];
	return parting->frames[card] == piece ? CUTLINT_PART_FRAME : CUTLINT_PART_HELD;
}

static void add_piece(struct parting *parting, uint32_t piece, struct cutlint_part *part)
{
	const struct geo_piece *item = &parting->necks.pieces.items[piece];
	double area = item->area / (SHEET_NM * SHEET_NM);
	if (part->area_mm2 == 0) {
		part->kind = part_kind(parting, piece);
		part->card = parting->intent->cards[item->face];
		part->outline = part->vertex = CUTLINT_NONE;
		part->at = sheet_mm(item->inside);
	}
	part->area_mm2 += area;
	part->bridge_count += parting->hang.hangs[piece] ? parting->hang.bridges[piece] : 0;
}

static int make_parts(struct parting *parting)
{
	uint32_t pieces = parting->necks.pieces.count;
	size_t keys = (size_t)pieces + parting->openings->count;
	uint32_t *of_key = ARENA_ARRAY(parting->work->scratch, uint32_t, keys + 1);
	parting->of_piece = ARENA_ARRAY(parting->work->scratch, uint32_t, (size_t)pieces + 1);
	parting->parts = ARENA_ARRAY(parting->work->arena, struct cutlint_part, keys + 1);
	if (!of_key || !parting->of_piece || !parting->parts)
		return -1;
	for (size_t k = 0; k < keys; k++)
		of_key[k] = GEO_NONE;
	for (uint32_t p = 0; p < pieces; p++) {
		uint32_t key = part_key(parting, p);
		parting->of_piece[p] = GEO_NONE;
		if (key == GEO_NONE)
			continue;
		if (of_key[key] == GEO_NONE)
			of_key[key] = parting->count++;
		parting->of_piece[p] = of_key[key];
		add_piece(parting, p, &parting->parts[of_key[key]]);
	}
	return 0;
}

/* The last outline in the file on each part's boundary. */
static void name_parts(struct parting *parting)
{
	uint32_t vertices = parting->work->design->vertex_count;
	for (uint32_t h = 0; h < 2 * parting->arrangement->edge_count; h++) {
		uint32_t number = parting->of_piece[parting->necks.pieces.of_half_edge[h]];
		if (number == GEO_NONE)
			continue;
		uint32_t count;
		const uint32_t *covers = geo_covers(parting->arrangement, h / 2, &count);
		struct cutlint_part *part = &parting->parts[number];
		for (uint32_t i = 0; i < count && covers[i] < vertices; i++) {
			if (part->vertex == CUTLINT_NONE || covers[i] > part->vertex)
				part->vertex = covers[i];
		}
	}
	for (uint32_t i = 0; i < parting->count; i++) {
		struct cutlint_part *part = &parting->parts[i];
		if (part->vertex != CUTLINT_NONE)
			part->outline = cutlint_vertex_outline(parting->work->design, part->vertex);
	}
}

static bool is_frame(const struct parting *parting, uint32_t piece)
{
	uint32_t part = parting->of_piece[piece];
	return part != GEO_NONE && parting->parts[part].kind == CUTLINT_PART_FRAME;
}

/* The piece that a bridge holds, the one nearer to falling out. */
static uint32_t held_piece(const struct parting *parting, uint32_t number)
{
	const struct hang *hang = &parting->hang;
	const struct sheet_neck *neck = &parting->necks.items[number];
	uint32_t a = neck->pieces[0], b = neck->pieces[1];
	if (hang->away[number] != GEO_NONE)
		return hang->away[number];
	if (hang->hangs[a] != hang->hangs[b])
		return hang->hangs[a] ? b : a;
	if (is_frame(parting, a) != is_frame(parting, b))
		return is_frame(parting, a) ? b : a;
	const struct geo_piece *items = parting->necks.pieces.items;
	return items[b].area < items[a].area ? b : a;
}

static void set_held(const struct parting *parting, uint32_t number, struct cutlint_neck *neck)
{
	const struct hang *hang = &parting->hang;
	const struct sheet_neck *found = &parting->necks.items[number];
	for (int i = 0; i < 2; i++)
		neck->parts[i] = parting->of_piece[found->pieces[i]];
	if (neck->kind != CUTLINT_NECK_BRIDGE)
		return;
	uint32_t held = held_piece(parting, number);
	neck->held = parting->of_piece[held];
	bool holds = found->sound && hang->hangs[held];
	neck->held_with = hang->holding[held] - (holds ? 1 : 0);
}

static int compare_necks(const void *left, const void *right)
{
	const struct cutlint_neck *a = left, *b = right;
	for (int i = 0; i < 2; i++) {
		if (a->walls[i].vertex != b->walls[i].vertex)
			return a->walls[i].vertex < b->walls[i].vertex ? -1 : 1;
	}
	int order = xy_compare(a->walls[0].at, b->walls[0].at);
	if (order != 0)
		return order;
	return a->drawn_mm < b->drawn_mm ? -1 : a->drawn_mm > b->drawn_mm;
}

static bool is_loose(const struct parting *parting, uint32_t piece)
{
	return !parting->hang.hangs[piece];
}

/* All necks but those within loose parts, whose narrow places do not matter. */
static void make_necks(struct parting *parting)
{
	struct sheet_work *work = parting->work;
	const struct sheet_necks *found = &parting->necks;
	struct cutlint_neck *necks = found->necks;
	uint32_t count = 0;
	for (uint32_t i = 0; i < found->count; i++) {
		const uint32_t *pieces = found->items[i].pieces;
		if (is_loose(parting, pieces[0]) && is_loose(parting, pieces[1]))
			continue;
		necks[count] = necks[i];
		set_held(parting, i, &necks[count++]);
	}
	qsort(necks, count, sizeof *necks, compare_necks);
	work->sheet->necks = necks;
	work->sheet->neck_count = count;
}

/* A part's place in the order from the top down, then from the left. */
struct ranked {
	struct cutlint_xy at;
	uint32_t number;
};

static int compare_ranked(const void *left, const void *right)
{
	const struct ranked *a = left, *b = right;
	int order = xy_compare(a->at, b->at);
	if (order != 0)
		return order;
	return a->number < b->number ? -1 : a->number > b->number;
}

static int order_parts(struct parting *parting)
{
	struct arena *scratch = parting->work->scratch;
	struct ranked *ranked = ARENA_ARRAY(scratch, struct ranked, (size_t)parting->count + 1);
	uint32_t *rank = ARENA_ARRAY(scratch, uint32_t, (size_t)parting->count + 1);
	uint32_t *from = ARENA_ARRAY(scratch, uint32_t, (size_t)parting->count + 1);
	if (!ranked || !rank || !from)
		return -1;
	for (uint32_t i = 0; i < parting->count; i++)
		ranked[i] = (struct ranked){parting->parts[i].at, i};
	qsort(ranked, parting->count, sizeof *ranked, compare_ranked);
	for (uint32_t i = 0; i < parting->count; i++) {
		rank[ranked[i].number] = i;
		from[i] = ranked[i].number;
	}
	permute(parting->parts, sizeof *parting->parts, from, parting->count);
	for (uint32_t p = 0; p < parting->necks.pieces.count; p++) {
		if (parting->of_piece[p] != GEO_NONE)
			parting->of_piece[p] = rank[parting->of_piece[p]];
	}
	parting->work->sheet->parts = parting->parts;
	parting->work->sheet->part_count = parting->count;
	return 0;
}

static int hang_pieces(struct parting *parting)
{
	struct sheet_work *work = parting->work;
	parting->frames = ARENA_ARRAY(work->scratch, uint32_t, (size_t)work->sheet->card_count + 1);
	if (!parting->frames)
		return -1;
	if (frame_find(work, parting->burn, parting->arrangement, parting->intent, &parting->necks,
		       parting->frames) != 0)
		return -1;
	if (hang_find(work->scratch, &parting->necks, parting->frames, work->sheet->card_count,
		      &parting->hang) != 0)
		return -1;
	return load_measure(work->scratch, parting->arrangement, &parting->necks, &parting->hang);
}

static void mark_edges(const struct parted *parted)
{
	const struct cutlint_sheet *sheet = parted->work->sheet;
	for (uint32_t n = 0; n < sheet->neck_count; n++) {
		for (int i = 0; i < 2 && sheet->necks[n].at_edge; i++) {
			if (sheet->necks[n].parts[i] != GEO_NONE)
				parted->parts[sheet->necks[n].parts[i]].at_edge = true;
		}
	}
	for (uint32_t h = 0; h < 2 * parted->arrangement->edge_count; h++) {
		uint32_t count;
		const uint32_t *covers = geo_covers(parted->arrangement, h / 2, &count);
		if (parted->of_half[h] != GEO_NONE && burn_bounds(parted->burn, covers, count))
			parted->parts[parted->of_half[h]].at_edge = true;
	}
}

/* What only some rules need of the parts. */
static int look_further(struct parting *parting)
{
	struct sheet_work *work = parting->work;
	size_t halves = 2 * (size_t)parting->arrangement->edge_count;
	uint32_t *of_half = ARENA_ARRAY(work->scratch, uint32_t, halves + 1);
	if (!of_half)
		return -1;
	for (size_t h = 0; h < halves; h++)
		of_half[h] = parting->of_piece[parting->necks.pieces.of_half_edge[h]];
	struct parted parted = {
		work,           parting->burn, parting->arrangement, parting->intent,
		parting->parts, of_half};
	mark_edges(&parted);
	if (parted_find_sites(&parted) != 0)
		return -1;
	if ((work->needs & CUTLINT_NEEDS_CROSSINGS) && parted_find_crossings(&parted) != 0)
		return -1;
	return work->needs & CUTLINT_NEEDS_TIPS ? parted_find_tips(&parted) : 0;
}

int part_find(struct sheet_work *work, const struct burn *burn, struct geo_arrangement *arrangement,
	      const struct intent *intent, const struct face_sets *openings)
{
	struct parting parting = {.work = work,
				  .burn = burn,
				  .arrangement = arrangement,
				  .intent = intent,
				  .openings = openings};
	int status = -1;
	if (neck_find(work, burn, arrangement, intent, &parting.necks) != 0)
		goto out;
	if (hang_pieces(&parting) != 0 || make_parts(&parting) != 0)
		goto out;
	name_parts(&parting);
	if (order_parts(&parting) != 0)
		goto out;
	make_necks(&parting);
	if (look_further(&parting) != 0)
		goto out;
	if (work->picture && picture_take(work, intent, &parting.necks, parting.of_piece) != 0)
		goto out;
	status = 0;
out:
	neck_finish(&parting.necks);
	return status;
}
