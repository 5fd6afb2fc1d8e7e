#include "sheet/picture.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "sheet/neck.h"

/* A ring of the pieces that is shown, with what it is sorted by. */
struct shown {
	uint32_t rank; /* windows, burned away, loose */
	uint32_t key;  /* the part; of what is burned away the piece */
	uint32_t ring;
};

struct taking {
	struct sheet_work *work;
	const struct intent *intent;
	const struct sheet_necks *necks;
	const uint32_t *of_piece;
	struct shown *shown;
	uint32_t shown_count;
	struct cutlint_point *points;
	struct picture_ring *rings;
	struct picture_region *regions;
	uint32_t point_count, ring_count, region_count;
};

static const enum cutlint_part_kind KINDS[] = {CUTLINT_PART_WINDOW, CUTLINT_PART_WASTE,
					       CUTLINT_PART_LOOSE};
enum { RANK_WINDOW, RANK_BURNED, RANK_LOOSE, RANK_NONE };

static uint32_t rank_of(const struct taking *taking, uint32_t piece)
{
	uint32_t face = taking->necks->pieces.items[piece].face;
	uint32_t part = taking->of_piece[piece];
	switch (taking->intent->kinds[face]) {
	case FACE_WINDOW:
		return RANK_WINDOW;
	case FACE_WASTE:
		return taking->intent->cards[face] != CUTLINT_NONE ? RANK_BURNED : RANK_NONE;
	default:
		break;
	}
	bool loose =
		part != CUTLINT_NONE && taking->work->sheet->parts[part].kind == CUTLINT_PART_LOOSE;
	return loose ? RANK_LOOSE : RANK_NONE;
}

static int compare_shown(const void *left, const void *right)
{
	const struct shown *a = left, *b = right;
	if (a->rank != b->rank)
		return a->rank < b->rank ? -1 : 1;
	if (a->key != b->key)
		return a->key < b->key ? -1 : 1;
	return a->ring < b->ring ? -1 : a->ring > b->ring;
}

static int collect(struct taking *taking)
{
	const struct geo_rings *rings = &taking->necks->rings;
	taking->shown = ARENA_ARRAY(taking->work->scratch, struct shown, (size_t)rings->count + 1);
	if (!taking->shown)
		return -1;
	for (uint32_t i = 0; i < rings->count; i++) {
		uint32_t piece = rings->pieces[i], rank = rank_of(taking, piece);
		if (rank == RANK_NONE)
			continue;
		uint32_t key = rank == RANK_BURNED ? piece : taking->of_piece[piece];
		taking->shown[taking->shown_count++] = (struct shown){rank, key, i};
	}
	qsort(taking->shown, taking->shown_count, sizeof *taking->shown, compare_shown);
	return 0;
}

static int make_room(struct taking *taking)
{
	const struct geo_rings *rings = &taking->necks->rings;
	const struct cutlint_sheet *sheet = taking->work->sheet;
	size_t points = 0, count = (size_t)taking->shown_count + sheet->card_count;
	for (uint32_t i = 0; i < sheet->card_count; i++)
		points += taking->work->regions[i].count;
	for (uint32_t i = 0; i < taking->shown_count; i++) {
		uint32_t ring = taking->shown[i].ring;
		points += rings->first[ring + 1] - rings->first[ring];
	}
	taking->points = ARENA_ARRAY(taking->work->arena, struct cutlint_point, points + 1);
	taking->rings = ARENA_ARRAY(taking->work->arena, struct picture_ring, count + 1);
	taking->regions = ARENA_ARRAY(taking->work->arena, struct picture_region, count + 1);
	return taking->points && taking->rings && taking->regions ? 0 : -1;
}

static struct picture_region *add_region(struct taking *taking, enum cutlint_part_kind kind,
					 uint32_t card, uint32_t part)
{
	struct picture_region *region = &taking->regions[taking->region_count++];
	*region = (struct picture_region){
		.kind = kind, .card = card, .part = part, .first_ring = taking->ring_count};
	return region;
}

static void add_cards(struct taking *taking)
{
	for (uint32_t i = 0; i < taking->work->sheet->card_count; i++) {
		const struct region *region = &taking->work->regions[i];
		add_region(taking, CUTLINT_PART_FRAME, i, CUTLINT_NONE)->ring_count = 1;
		taking->rings[taking->ring_count++] =
			(struct picture_ring){taking->point_count, region->count};
		for (uint32_t k = 0; k < region->count; k++)
			taking->points[taking->point_count++] = (struct cutlint_point){
				(int32_t)lround(region->points[k].x * SHEET_NM),
				(int32_t)lround(region->points[k].y * SHEET_NM)};
	}
}

static void add_ring(struct taking *taking, uint32_t ring)
{
	const struct geo_rings *rings = &taking->necks->rings;
	uint32_t count = rings->first[ring + 1] - rings->first[ring];
	taking->rings[taking->ring_count++] = (struct picture_ring){taking->point_count, count};
	memcpy(&taking->points[taking->point_count], &rings->points[rings->first[ring]],
	       count * sizeof(*taking->points));
	taking->point_count += count;
}

static void add_pieces(struct taking *taking)
{
	const struct geo_piece *pieces = taking->necks->pieces.items;
	struct picture_region *region = NULL;
	for (uint32_t i = 0; i < taking->shown_count; i++) {
		const struct shown *shown = &taking->shown[i];
		bool same = i > 0 && shown[-1].rank == shown->rank && shown[-1].key == shown->key;
		uint32_t piece = taking->necks->rings.pieces[shown->ring];
		if (!same)
			region = add_region(taking, KINDS[shown->rank],
					    taking->intent->cards[pieces[piece].face],
					    taking->of_piece[piece]);
		add_ring(taking, shown->ring);
		region->ring_count++;
	}
}

int picture_take(struct sheet_work *work, const struct intent *intent,
		 const struct sheet_necks *necks, const uint32_t *of_piece)
{
	struct taking taking = {
		.work = work, .intent = intent, .necks = necks, .of_piece = of_piece};
	if (collect(&taking) != 0 || make_room(&taking) != 0)
		return -1;
	add_cards(&taking);
	add_pieces(&taking);
	*work->picture = (struct sheet_picture){.points = taking.points,
						.rings = taking.rings,
						.regions = taking.regions,
						.point_count = taking.point_count,
						.ring_count = taking.ring_count,
						.region_count = taking.region_count};
	return 0;
}
