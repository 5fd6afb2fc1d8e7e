#include "sheet/frame.h"

/* So many places along a fold are looked at. */
enum { PROBES = 15 };

struct search {
	struct sheet_work *work;
	const struct burn *burn;
	const struct geo_arrangement *arrangement;
	const struct intent *intent;
	const struct sheet_necks *necks;
	bool *face_on_edge, *piece_on_edge;
	uint32_t *faces; /* of each card: its frame's face */
};

static bool is_card_edge(const struct search *search, uint32_t half)
{
	uint32_t count;
	const uint32_t *covers = geo_covers(search->arrangement, half / 2, &count);
	return burn_bounds(search->burn, covers, count);
}

/* A long edge bounds many pieces: those at its start, and those on both sides of its necks. */
static void mark_edges(struct search *search)
{
	for (uint32_t n = 0; n < search->necks->count; n++) {
		const struct sheet_neck *neck = &search->necks->items[n];
		for (int i = 0; i < 2 && search->necks->necks[n].at_edge; i++)
			search->piece_on_edge[neck->pieces[i]] = true;
	}
	for (uint32_t h = 0; h < 2 * search->arrangement->edge_count; h++) {
		uint32_t face = search->arrangement->face[h];
		if (search->intent->kinds[face] != FACE_KEPT || !is_card_edge(search, h))
			continue;
		search->face_on_edge[face] = true;
		search->piece_on_edge[search->necks->pieces.of_half_edge[h]] = true;
	}
}

/* The largest kept face of each card on its edge. */
static void choose_largest(struct search *search)
{
	const struct geo_face *faces = search->arrangement->faces;
	for (uint32_t f = 0; f < search->arrangement->face_count; f++) {
		uint32_t card = search->intent->cards[f];
		if (!search->face_on_edge[f] || card == CUTLINT_NONE)
			continue;
		uint32_t best = search->faces[card];
		if (best == GEO_NONE || faces[f].area > faces[best].area)
			search->faces[card] = f;
	}
}

/* The kept face on the edge in which most of the probes along a fold lie; GEO_NONE without one. */
static uint32_t probe_fold(const struct search *search, const struct cutlint_fold *fold)
{
	uint32_t found[PROBES], best = GEO_NONE;
	int most = 0;
	for (int i = 0; i < PROBES; i++) {
		double t = (i + 0.5) / PROBES;
		struct cutlint_xy at = {fold->from.x + t * (fold->to.x - fold->from.x),
					fold->from.y + t * (fold->to.y - fold->from.y)};
		found[i] = geo_face_at(search->arrangement, sheet_nm(at));
		int same = 0;
		for (int j = 0; j <= i; j++)
			same += found[j] == found[i] ? 1 : 0;
		if (search->face_on_edge[found[i]] && same > most) {
			most = same;
			best = found[i];
		}
	}
	return best;
}

static void prefer_folded(struct search *search)
{
	for (uint32_t c = 0; c < search->work->sheet->card_count; c++) {
		uint32_t fold = search->work->cards[c].fold;
		if (fold == CUTLINT_NONE)
			continue;
		uint32_t face = probe_fold(search, &search->work->folds[fold]);
		if (face != GEO_NONE && search->intent->cards[face] == c)
			search->faces[c] = face;
	}
}

/* The largest piece on the edge of each frame's face. */
static void choose_pieces(const struct search *search, uint32_t *of_card)
{
	const struct geo_piece *items = search->necks->pieces.items;
	for (uint32_t p = 0; p < search->necks->pieces.count; p++) {
		uint32_t card = search->intent->cards[items[p].face];
		if (!search->piece_on_edge[p] || search->faces[card] != items[p].face)
			continue;
		if (of_card[card] == GEO_NONE || items[p].area > items[of_card[card]].area)
			of_card[card] = p;
	}
}

int frame_find(struct sheet_work *work, const struct burn *burn,
	       const struct geo_arrangement *arrangement, const struct intent *intent,
	       const struct sheet_necks *necks, uint32_t *frames)
{
	struct arena *scratch = work->scratch;
	uint32_t cards = work->sheet->card_count;
	struct search search = {work, burn, arrangement, intent, necks, NULL, NULL, NULL};
	search.face_on_edge = ARENA_ARRAY(scratch, bool, (size_t)arrangement->face_count + 1);
	search.piece_on_edge = ARENA_ARRAY(scratch, bool, (size_t)necks->pieces.count + 1);
	search.faces = ARENA_ARRAY(scratch, uint32_t, (size_t)cards + 1);
	if (!search.face_on_edge || !search.piece_on_edge || !search.faces)
		return -1;
	for (uint32_t c = 0; c < cards; c++)
		search.faces[c] = frames[c] = GEO_NONE;
	mark_edges(&search);
	choose_largest(&search);
	prefer_folded(&search);
	choose_pieces(&search, frames);
	return 0;
}
