#include "sheet/intent.h"

#include "sheet/faces.h"
#include "sheet/runs.h"

/* What covers the face that the walk stands on. */
struct cover {
	int32_t *windings; /* of each filled shape */
	bool *nested;      /* of each unfilled closed line, by its first outline: inside it */
	bool *in_card;     /* of each card */
	struct runs runs;
	uint32_t nested_count, card_count;
	uint32_t card_bits; /* all cards that hold the face, by exclusive or */
};

struct traversal {
	struct sheet_work *work;
	const struct burn *burn;
	const struct geo_arrangement *arrangement;
	struct cover cover;
	struct intent *intent;
	bool *overlapped; /* of each face: it can be left through two different windows' lines */
	uint32_t chain;   /* see burn_chain_near */
};

static bool winds_inside(const struct traversal *traversal, uint32_t shape, int32_t winding)
{
	bool evenodd = traversal->work->design->shapes[shape].fill_rule == CUTLINT_FILL_EVENODD;
	return evenodd ? (winding & 1) != 0 : winding != 0;
}

/*
 * +1 where a segment runs along a half-edge, -1 where against it. Snap rounding keeps a segment's
 * course monotone in x and in y, so that the products never have mixed signs.
 */
static int direction(const struct traversal *traversal, const struct geo_chain *chain,
		     uint32_t segment, uint32_t half)
{
	const struct geo_arrangement *arrangement = traversal->arrangement;
	const struct geo_lines *lines = &traversal->burn->lines;
	struct cutlint_point a = lines->points[segment];
	struct cutlint_point b = lines->points[geo_chain_next(chain, segment)];
	struct cutlint_point from = arrangement->nodes[geo_half_edge_from(arrangement, half)];
	struct cutlint_point to = arrangement->nodes[geo_half_edge_to(arrangement, half)];
	double dot = ((double)b.x - a.x) * ((double)to.x - from.x) +
		     ((double)b.y - a.y) * ((double)to.y - from.y);
	return dot > 0 ? 1 : -1;
}

static void cross_fill(struct traversal *traversal, uint32_t shape, int turn)
{
	struct cover *cover = &traversal->cover;
	bool before = winds_inside(traversal, shape, cover->windings[shape]);
	cover->windings[shape] += turn;
	bool after = winds_inside(traversal, shape, cover->windings[shape]);
	if (before != after)
		runs_set(&cover->runs, shape, after);
}

static void cross_nested(struct cover *cover, uint32_t unit)
{
	cover->nested[unit] = !cover->nested[unit];
	cover->nested_count += cover->nested[unit] ? 1u : -1u;
}

static void cross_card(struct cover *cover, uint32_t card)
{
	cover->in_card[card] = !cover->in_card[card];
	cover->card_count += cover->in_card[card] ? 1u : -1u;
	cover->card_bits ^= card;
}

/* Steps from the face left of a half-edge to the one right of it. */
static void cross(struct traversal *traversal, uint32_t half)
{
	uint32_t count;
	const uint32_t *covers = geo_covers(traversal->arrangement, half / 2, &count);
	for (uint32_t i = 0; i < count; i++) {
		const struct burn_chain *chain =
			burn_chain_near(traversal->burn, covers[i], &traversal->chain);
		if (chain->meaning == BURN_FILLS)
			cross_fill(traversal, chain->unit,
				   direction(traversal,
					     &traversal->burn->lines.chains[traversal->chain],
					     covers[i], half));
		else if (chain->meaning == BURN_TOGGLES)
			cross_nested(&traversal->cover, chain->unit);
		else if (chain->meaning == BURN_BOUNDS)
			cross_card(&traversal->cover, chain->unit);
	}
}

/* The card that holds the face; of cards that overlap the first. */
static uint32_t card_here(const struct traversal *traversal)
{
	const struct cover *cover = &traversal->cover;
	if (cover->card_count == 0)
		return CUTLINT_NONE;
	if (cover->card_count == 1)
		return cover->card_bits;
	uint32_t card = 0;
	while (!cover->in_card[card])
		card++;
	return card;
}

/*
 * The fill or unfilled line that is left where a half-edge of the face is crossed: shapes by their
 * number, lines after all shapes; CUTLINT_NONE where nothing is left.
 */
static uint32_t unit_left(struct traversal *traversal, uint32_t half)
{
	const struct cover *cover = &traversal->cover;
	uint32_t count;
	const uint32_t *covers = geo_covers(traversal->arrangement, half / 2, &count);
	for (uint32_t i = 0; i < count; i++) {
		const struct burn_chain *chain =
			burn_chain_near(traversal->burn, covers[i], &traversal->chain);
		uint32_t unit = chain->unit;
		if (chain->meaning == BURN_TOGGLES && cover->nested[unit])
			return traversal->work->design->shape_count + unit;
		if (chain->meaning != BURN_FILLS)
			continue;
		int32_t winding = cover->windings[unit];
		if (!winds_inside(traversal, unit, winding))
			continue;
		int turn = direction(traversal, &traversal->burn->lines.chains[traversal->chain],
				     covers[i], half);
		if (!winds_inside(traversal, unit, winding + turn))
			return unit;
	}
	return CUTLINT_NONE;
}

static bool is_overlapped(struct traversal *traversal, uint32_t face)
{
	struct face_walk walk = face_walk_start(traversal->arrangement, face);
	uint32_t half, first = CUTLINT_NONE;
	while (face_walk_next(traversal->arrangement, &walk, &half)) {
		uint32_t unit = unit_left(traversal, half);
		if (unit == CUTLINT_NONE)
			continue;
		if (first != CUTLINT_NONE && unit != first)
			return true;
		first = unit;
	}
	return false;
}

static void judge(struct traversal *traversal, uint32_t face)
{
	const struct cover *cover = &traversal->cover;
	uint32_t card = card_here(traversal);
	traversal->intent->cards[face] = card;
	if (card == CUTLINT_NONE) {
		traversal->intent->kinds[face] = FACE_WASTE;
		return;
	}
	uint32_t covering = runs_count(&cover->runs) + cover->nested_count;
	bool window = (covering & 1) != 0;
	traversal->intent->kinds[face] = window ? FACE_WINDOW : FACE_KEPT;
	traversal->overlapped[face] = !window && covering && is_overlapped(traversal, face);
}

/* One face on the way from the first to the current one. */
struct step {
	struct face_walk walk;
	uint32_t entered; /* the half-edge that was crossed, in the face before */
};

static int walk_faces(struct traversal *traversal)
{
	const struct geo_arrangement *arrangement = traversal->arrangement;
	struct arena *scratch = traversal->work->scratch;
	size_t faces = arrangement->face_count;
	struct step *steps = ARENA_ARRAY(scratch, struct step, faces + 1);
	bool *seen = ARENA_ARRAY(scratch, bool, faces + 1);
	if (!steps || !seen)
		return -1;

	uint32_t depth = 1;
	steps[0] = (struct step){face_walk_start(arrangement, 0), GEO_NONE};
	seen[0] = true;
	judge(traversal, 0);
	while (depth > 0) {
		struct step *top = &steps[depth - 1];
		uint32_t half;
		if (!face_walk_next(arrangement, &top->walk, &half)) {
			if (--depth > 0)
				cross(traversal, top->entered ^ 1);
			continue;
		}
		uint32_t face = arrangement->face[half ^ 1];
		if (seen[face])
			continue;
		seen[face] = true;
		cross(traversal, half);
		judge(traversal, face);
		steps[depth++] = (struct step){face_walk_start(arrangement, face), half};
	}
	return 0;
}

/* What lies in two windows with windows all round it falls out with them. */
static void drop_lenses(struct traversal *traversal)
{
	const struct geo_arrangement *arrangement = traversal->arrangement;
	uint8_t *kinds = traversal->intent->kinds;
	for (uint32_t face = 0; face < arrangement->face_count; face++) {
		bool held = !traversal->overlapped[face];
		struct face_walk walk = face_walk_start(arrangement, face);
		uint32_t half;
		while (!held && face_walk_next(arrangement, &walk, &half)) {
			uint32_t other = arrangement->face[half ^ 1];
			held = other != face &&
			       (kinds[other] != FACE_WINDOW || traversal->overlapped[other]);
		}
		if (!held)
			kinds[face] = FACE_WINDOW;
	}
}

static int init_cover(struct traversal *traversal)
{
	struct sheet_work *work = traversal->work;
	struct cover *cover = &traversal->cover;
	size_t shapes = work->design->shape_count, outlines = work->design->outline_count;
	cover->windings = ARENA_ARRAY(work->scratch, int32_t, shapes + 1);
	cover->nested = ARENA_ARRAY(work->scratch, bool, outlines + 1);
	cover->in_card = ARENA_ARRAY(work->scratch, bool, (size_t)work->sheet->card_count + 1);
	if (!cover->windings || !cover->nested || !cover->in_card)
		return -1;
	return runs_init(&cover->runs, work->scratch, work->design);
}

int intent_find(struct sheet_work *work, const struct burn *burn,
		const struct geo_arrangement *arrangement, struct intent *out)
{
	size_t faces = arrangement->face_count;
	struct traversal traversal = {
		.work = work, .burn = burn, .arrangement = arrangement, .intent = out};
	out->kinds = ARENA_ARRAY(work->scratch, uint8_t, faces + 1);
	out->cards = ARENA_ARRAY(work->scratch, uint32_t, faces + 1);
	traversal.overlapped = ARENA_ARRAY(work->scratch, bool, faces + 1);
	if (!out->kinds || !out->cards || !traversal.overlapped || init_cover(&traversal) != 0)
		return -1;
	if (walk_faces(&traversal) != 0)
		return -1;
	drop_lenses(&traversal);
	return 0;
}
