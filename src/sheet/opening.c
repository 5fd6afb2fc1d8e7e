#include "sheet/opening.h"

#include "sheet/faces.h"
#include "sheet/sets.h"

static int allocate_sets(struct arena *arena, uint32_t faces, struct face_sets *out)
{
	out->count = 0;
	out->of = ARENA_ARRAY(arena, uint32_t, (size_t)faces + 1);
	out->members = ARENA_ARRAY(arena, uint32_t, (size_t)faces + 1);
	out->first = ARENA_ARRAY(arena, uint32_t, (size_t)faces + 2);
	return out->of && out->members && out->first ? 0 : -1;
}

/* Numbers the sets by their lowest faces and groups their members. */
static int number_sets(struct arena *arena, uint32_t *joined, const struct intent *intent,
		       uint32_t faces, struct face_sets *out)
{
	uint32_t *next = ARENA_ARRAY(arena, uint32_t, (size_t)faces + 1);
	if (!next)
		return -1;
	for (uint32_t f = 0; f < faces; f++) {
		out->of[f] = GEO_NONE;
		if (intent->kinds[f] != FACE_WINDOW)
			continue;
		uint32_t root = sets_find(joined, f);
		out->of[f] = root == f ? out->count++ : out->of[root];
		out->first[out->of[f] + 1]++;
	}
	for (uint32_t s = 0; s < out->count; s++) {
		out->first[s + 1] += out->first[s];
		next[s] = out->first[s];
	}
	for (uint32_t f = 0; f < faces; f++) {
		if (out->of[f] != GEO_NONE)
			out->members[next[out->of[f]]++] = f;
	}
	return 0;
}

int opening_find(struct sheet_work *work, const struct geo_arrangement *arrangement,
		 const struct intent *intent, struct face_sets *out)
{
	uint32_t faces = arrangement->face_count;
	uint32_t *joined = sets_create(work->scratch, faces);
	if (!joined || allocate_sets(work->scratch, faces, out) != 0)
		return -1;
	for (uint32_t e = 0; e < arrangement->edge_count; e++) {
		uint32_t a = arrangement->face[2 * e], b = arrangement->face[2 * e + 1];
		if (a != b && intent->kinds[a] == FACE_WINDOW && intent->kinds[b] == FACE_WINDOW &&
		    intent->cards[a] == intent->cards[b])
			sets_join(joined, a, b);
	}
	return number_sets(work->scratch, joined, intent, faces, out);
}

int opening_single(struct sheet_work *work, const struct geo_arrangement *arrangement,
		   struct face_sets *out)
{
	uint32_t faces = arrangement->face_count;
	if (allocate_sets(work->scratch, faces, out) != 0)
		return -1;
	for (uint32_t f = 0; f < faces; f++) {
		out->of[f] = out->members[f] = f;
		out->first[f + 1] = f + 1;
	}
	out->count = faces;
	return 0;
}
