#include "sheet/load.h"

#include <math.h>

#include "sheet/sets.h"
#include "sheet/xy.h"

#define DIRECTIONS 16

static const double PI = 3.14159265358979323846;

/* What hangs on a bridge: its area in nm², and its outermost points. */
struct load {
	double area;
	struct geo_vector outermost[DIRECTIONS];
	bool any;
};

/*
 * Pieces that stay together whichever single bridge breaks are a group. The groups that hang on one
 * bridge each form trees, with the frames as their roots.
 */
struct groups {
	const struct sheet_necks *necks;
	const struct hang *hang;
	uint32_t *of;      /* sets of pieces */
	uint32_t *number;  /* of each set that hangs on one bridge: its place in loads, else NONE */
	uint32_t *above;   /* of each load: that of the group which it hangs on, or NONE */
	uint32_t *by;      /* of each load: the neck that it hangs by */
	uint32_t *waiting; /* of each load: how many that hang on it are not added yet */
	struct load *loads;
	uint32_t count;
	double cosine[DIRECTIONS], sine[DIRECTIONS];
};

static uint32_t load_of(struct groups *groups, uint32_t piece)
{
	return groups->number[sets_find(groups->of, piece)];
}

static void add_point(const struct groups *groups, struct load *load, struct geo_vector at)
{
	for (int i = 0; i < DIRECTIONS; i++) {
		struct geo_vector best = load->outermost[i];
		double gain =
			(at.x - best.x) * groups->cosine[i] + (at.y - best.y) * groups->sine[i];
		if (!load->any || gain > 0)
			load->outermost[i] = at;
	}
	load->any = true;
}

static uint32_t away(const struct groups *groups, uint32_t neck)
{
	return groups->necks->items[neck].sound ? groups->hang->away[neck] : GEO_NONE;
}

static int form_groups(struct arena *arena, struct groups *groups)
{
	const struct sheet_necks *necks = groups->necks;
	uint32_t pieces = necks->pieces.count;
	groups->of = sets_create(arena, pieces);
	groups->number = ARENA_ARRAY(arena, uint32_t, (size_t)pieces + 1);
	groups->by = ARENA_ARRAY(arena, uint32_t, (size_t)necks->count + 1);
	if (!groups->of || !groups->number || !groups->by)
		return -1;
	for (uint32_t p = 0; p < pieces; p++)
		groups->number[p] = GEO_NONE;
	for (uint32_t n = 0; n < necks->count; n++) {
		const uint32_t *ends = necks->items[n].pieces;
		if (necks->items[n].sound && away(groups, n) == GEO_NONE)
			sets_join(groups->of, ends[0], ends[1]);
	}
	for (uint32_t n = 0; n < necks->count; n++) {
		if (away(groups, n) == GEO_NONE)
			continue;
		groups->by[groups->count] = n;
		groups->number[sets_find(groups->of, away(groups, n))] = groups->count++;
	}
	return 0;
}

static int build_trees(struct arena *arena, struct groups *groups)
{
	groups->loads = ARENA_ARRAY(arena, struct load, (size_t)groups->count + 1);
	groups->above = ARENA_ARRAY(arena, uint32_t, (size_t)groups->count + 1);
	groups->waiting = ARENA_ARRAY(arena, uint32_t, (size_t)groups->count + 1);
	if (!groups->loads || !groups->above || !groups->waiting)
		return -1;
	for (uint32_t i = 0; i < groups->count; i++) {
		const struct sheet_neck *neck = &groups->necks->items[groups->by[i]];
		uint32_t held = away(groups, groups->by[i]);
		uint32_t other = neck->pieces[0] == held ? neck->pieces[1] : neck->pieces[0];
		groups->above[i] = load_of(groups, other);
		if (groups->above[i] != GEO_NONE)
			groups->waiting[groups->above[i]]++;
	}
	return 0;
}

static void add_pieces(struct groups *groups, const struct geo_arrangement *arrangement)
{
	const struct geo_pieces *pieces = &groups->necks->pieces;
	for (uint32_t p = 0; p < pieces->count; p++) {
		uint32_t load = load_of(groups, p);
		if (load != GEO_NONE)
			groups->loads[load].area += pieces->items[p].area;
	}
	for (uint32_t h = 0; h < 2 * arrangement->edge_count; h++) {
		uint32_t load = load_of(groups, pieces->of_half_edge[h]);
		if (load == GEO_NONE)
			continue;
		struct cutlint_point at = arrangement->nodes[geo_half_edge_from(arrangement, h)];
		add_point(groups, &groups->loads[load], (struct geo_vector){at.x, at.y});
	}
}

static void set_neck(const struct groups *groups, uint32_t number, struct cutlint_neck *neck)
{
	const struct load *load = &groups->loads[number];
	const struct cutlint_wall *walls = neck->walls;
	struct cutlint_xy middle = xy_middle(walls[0].at, walls[1].at);
	neck->load_mm2 = load->area / (SHEET_NM * SHEET_NM);
	for (int i = 0; i < DIRECTIONS && load->any; i++) {
		struct cutlint_xy place = sheet_mm(load->outermost[i]);
		double reach = xy_distance(middle, place);
		if (reach <= neck->reach_mm)
			continue;
		neck->reach_mm = reach;
		neck->farthest = place;
	}
}

/* From the outermost groups inwards: each load is whole when all that hangs on it was added. */
static void add_up(struct groups *groups, struct sheet_necks *necks)
{
	for (uint32_t start = 0; start < groups->count; start++) {
		uint32_t i = start;
		while (i != GEO_NONE && groups->waiting[i] == 0) {
			groups->waiting[i] = GEO_NONE;
			set_neck(groups, i, &necks->necks[groups->by[i]]);
			uint32_t above = groups->above[i];
			if (above == GEO_NONE)
				break;
			groups->loads[above].area += groups->loads[i].area;
			for (int k = 0; k < DIRECTIONS && groups->loads[i].any; k++)
				add_point(groups, &groups->loads[above],
					  groups->loads[i].outermost[k]);
			groups->waiting[above]--;
			i = above;
		}
	}
}

int load_measure(struct arena *arena, const struct geo_arrangement *arrangement,
		 struct sheet_necks *necks, const struct hang *hang)
{
	struct groups groups = {.necks = necks, .hang = hang};
	if (form_groups(arena, &groups) != 0)
		return -1;
	if (groups.count == 0)
		return 0;
	if (build_trees(arena, &groups) != 0)
		return -1;
	for (int i = 0; i < DIRECTIONS; i++) {
		groups.cosine[i] = cos(2 * PI * i / DIRECTIONS);
		groups.sine[i] = sin(2 * PI * i / DIRECTIONS);
	}
	add_pieces(&groups, arrangement);
	add_up(&groups, necks);
	return 0;
}
