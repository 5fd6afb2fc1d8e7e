#include "sheet/hang.h"

#include "sheet/sets.h"

/* Sound bridges as a graph: links[first[p]] to links[first[p + 1]] are the necks at piece p. */
struct links {
	const struct sheet_necks *necks;
	uint32_t *first, *items;
};

struct visit {
	uint32_t piece;
	uint32_t next;    /* the next link to look at */
	uint32_t entered; /* the neck by which the walk came; GEO_NONE at a frame */
};

struct walk {
	const struct links *links;
	struct hang *hang;
	uint32_t *order, *low; /* 0: not yet seen */
	struct visit *visits;
	uint32_t depth, time;
};

static int build_links(struct arena *arena, const struct sheet_necks *necks, struct links *links)
{
	uint32_t pieces = necks->pieces.count;
	links->necks = necks;
	links->first = ARENA_ARRAY(arena, uint32_t, (size_t)pieces + 2);
	links->items = ARENA_ARRAY(arena, uint32_t, 2 * (size_t)necks->count + 1);
	uint32_t *next = ARENA_ARRAY(arena, uint32_t, (size_t)pieces + 1);
	if (!links->first || !links->items || !next)
		return -1;
	for (uint32_t n = 0; n < necks->count; n++) {
		for (int i = 0; i < 2 && necks->items[n].sound; i++)
			links->first[necks->items[n].pieces[i] + 1]++;
	}
	for (uint32_t p = 0; p < pieces; p++) {
		links->first[p + 1] += links->first[p];
		next[p] = links->first[p];
	}
	for (uint32_t n = 0; n < necks->count; n++) {
		for (int i = 0; i < 2 && necks->items[n].sound; i++)
			links->items[next[necks->items[n].pieces[i]]++] = n;
	}
	return 0;
}

static void enter(struct walk *walk, uint32_t piece, uint32_t neck)
{
	walk->order[piece] = walk->low[piece] = ++walk->time;
	walk->hang->hangs[piece] = true;
	walk->visits[walk->depth++] = (struct visit){piece, walk->links->first[piece], neck};
}

static void lower(struct walk *walk, uint32_t piece, uint32_t to)
{
	if (to < walk->low[piece])
		walk->low[piece] = to;
}

/* Goes back from a piece to the one before; the bridge between is alone if nothing goes round. */
static void leave(struct walk *walk)
{
	struct visit *visit = &walk->visits[--walk->depth];
	if (walk->depth == 0)
		return;
	uint32_t before = walk->visits[walk->depth - 1].piece;
	lower(walk, before, walk->low[visit->piece]);
	if (walk->low[visit->piece] > walk->order[before])
		walk->hang->away[visit->entered] = visit->piece;
}

static void walk_from(struct walk *walk, uint32_t frame)
{
	if (walk->order[frame])
		return;
	enter(walk, frame, GEO_NONE);
	while (walk->depth > 0) {
		struct visit *visit = &walk->visits[walk->depth - 1];
		if (visit->next == walk->links->first[visit->piece + 1]) {
			leave(walk);
			continue;
		}
		uint32_t neck = walk->links->items[visit->next++];
		if (neck == visit->entered)
			continue;
		const uint32_t *pieces = walk->links->necks->items[neck].pieces;
		uint32_t other = pieces[0] == visit->piece ? pieces[1] : pieces[0];
		if (walk->order[other])
			lower(walk, visit->piece, walk->order[other]);
		else
			enter(walk, other, neck);
	}
}

static void count_bridges(const struct sheet_necks *necks, struct hang *hang)
{
	for (uint32_t n = 0; n < necks->count; n++) {
		const struct sheet_neck *neck = &necks->items[n];
		for (int i = 0; i < 2 && neck->sound; i++) {
			uint32_t piece = neck->pieces[i];
			bool holds = hang->away[n] == GEO_NONE || hang->away[n] == piece;
			hang->bridges[piece]++;
			hang->holding[piece] += holds && hang->hangs[piece] ? 1 : 0;
		}
	}
}

int hang_find(struct arena *arena, const struct sheet_necks *necks, const uint32_t *frames,
	      uint32_t frame_count, struct hang *out)
{
	size_t pieces = necks->pieces.count;
	struct links links;
	struct walk walk = {.links = &links, .hang = out};
	out->hangs = ARENA_ARRAY(arena, bool, pieces + 1);
	out->group = sets_create(arena, necks->pieces.count);
	out->away = ARENA_ARRAY(arena, uint32_t, (size_t)necks->count + 1);
	out->bridges = ARENA_ARRAY(arena, uint32_t, pieces + 1);
	out->holding = ARENA_ARRAY(arena, uint32_t, pieces + 1);
	walk.order = ARENA_ARRAY(arena, uint32_t, pieces + 1);
	walk.low = ARENA_ARRAY(arena, uint32_t, pieces + 1);
	walk.visits = ARENA_ARRAY(arena, struct visit, pieces + 1);
	if (!out->hangs || !out->group || !out->away || !out->bridges || !out->holding ||
	    !walk.order || !walk.low || !walk.visits || build_links(arena, necks, &links) != 0)
		return -1;

	for (uint32_t n = 0; n < necks->count; n++) {
		out->away[n] = GEO_NONE;
		if (necks->items[n].sound)
			sets_join(out->group, necks->items[n].pieces[0], necks->items[n].pieces[1]);
	}
	for (uint32_t i = 0; i < frame_count; i++) {
		if (frames[i] != GEO_NONE)
			walk_from(&walk, frames[i]);
	}
	for (uint32_t p = 0; p < pieces; p++)
		out->group[p] = sets_find(out->group, p);
	count_bridges(necks, out);
	return 0;
}
