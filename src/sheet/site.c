/* Places where bridges could hold a loose part. */
#include <math.h>

#include "sheet/held.h"
#include "sheet/parted.h"
#include "sheet/xy.h"

/* Sites of one part, and how far apart they must lie as seen from its middle (rad): a quarter and a
 * sixth of a turn, choices of this project. */
enum { SITES = 3 };
static const double APART[SITES] = {0, 1.5707963267948966, 1.0471975511965976};

/* Where a site may be. */
struct candidate {
	struct held_place place;
	double bearing; /* of its place on the part, from the part's middle */
};

/* How far two bearings are apart, 0 to pi. */
static double between(double a, double b)
{
	double turn = fabs(a - b);
	return fmin(turn, 2 * acos(-1) - turn);
}

/* The wall at a half-edge, named after the first of its lines in the file. */
static struct cutlint_wall wall_at(const struct parted *parted, uint32_t half, struct geo_vector at)
{
	uint32_t count;
	const uint32_t *covers = geo_covers(parted->arrangement, half / 2, &count);
	return parted_wall(parted, covers[0], sheet_mm(at));
}

static void add_site(const struct parted *parted, const struct held_place *place,
		     struct cutlint_site *sites)
{
	struct cutlint_sheet *sheet = parted->work->sheet;
	sites[sheet->site_count++] = (struct cutlint_site){
		wall_at(parted, place->half, place->on_part),
		wall_at(parted, place->kept, place->on_kept), place->distance / SHEET_NM};
}

/* The box of where some half-edges start, in nm. */
static struct cutlint_box box_of(const struct parted *parted, const uint32_t *halves,
				 uint32_t count)
{
	struct cutlint_box box = cutlint_box_empty();
	for (uint32_t i = 0; i < count; i++) {
		struct geo_vector at = parted_start(parted, halves[i]);
		cutlint_box_add(&box, (struct cutlint_xy){at.x, at.y});
	}
	return box;
}

/* Loose sides grouped by part: items[first[p]] to items[first[p + 1]]. */
struct sides {
	uint32_t *first, *items;
};

static bool is_loose_side(const struct parted *parted, uint32_t half)
{
	return parted_kind(parted, half) == CUTLINT_PART_LOOSE &&
	       parted->of_half[half ^ 1] != parted->of_half[half];
}

static int group_sides(const struct parted *parted, struct sides *sides)
{
	struct arena *scratch = parted->work->scratch;
	uint32_t parts = parted->work->sheet->part_count;
	uint32_t halves = 2 * parted->arrangement->edge_count;
	sides->first = ARENA_ARRAY(scratch, uint32_t, (size_t)parts + 2);
	uint32_t *next = ARENA_ARRAY(scratch, uint32_t, (size_t)parts + 1);
	if (!sides->first || !next)
		return -1;
	for (uint32_t h = 0; h < halves; h++) {
		if (is_loose_side(parted, h))
			sides->first[parted->of_half[h] + 1]++;
	}
	for (uint32_t p = 0; p < parts; p++) {
		sides->first[p + 1] += sides->first[p];
		next[p] = sides->first[p];
	}
	sides->items = ARENA_ARRAY(scratch, uint32_t, (size_t)sides->first[parts] + 1);
	if (!sides->items)
		return -1;
	for (uint32_t h = 0; h < halves; h++) {
		if (is_loose_side(parted, h))
			sides->items[next[parted->of_half[h]]++] = h;
	}
	return 0;
}

/* The farther end of some half-edges from a place, in nm. */
static double farthest(const struct parted *parted, const uint32_t *halves, uint32_t count,
		       struct geo_vector from)
{
	double most = 0;
	for (uint32_t i = 0; i < 2 * count; i++) {
		struct geo_vector at = parted_start(parted, halves[i / 2] ^ (i & 1));
		double across = at.x - from.x, down = at.y - from.y;
		most = fmax(most, across * across + down * down);
	}
	return sqrt(most);
}

/*
 * The sides of one part, some that follow each other together: most are farther from all that is
 * held than the sites are, and are not looked at one by one.
 */
enum { TOGETHER = 8 };

struct work {
	const struct parted *parted;
	struct held *held;
	const uint32_t *halves;
	uint32_t count;
	struct geo_vector middle;
	struct candidate *candidates; /* of each side, once its group has been looked at */
	double *least; /* of each group: no side is nearer; -1 once it has been looked at */
	const struct candidate *chosen[SITES];
	uint32_t chosen_count;
};

static uint32_t group_count(const struct work *work)
{
	return (work->count + TOGETHER - 1) / TOGETHER;
}

static uint32_t group_size(const struct work *work, uint32_t group)
{
	uint32_t left = work->count - group * TOGETHER;
	return left < TOGETHER ? left : TOGETHER;
}

static void bound_group(struct work *work, uint32_t group)
{
	const double slack = 10; /* nm, over what rounding takes */
	const uint32_t *halves = &work->halves[group * TOGETHER];
	uint32_t count = group_size(work, group);
	struct geo_vector at = parted_start(work->parted, halves[count / 2]);
	double reach = farthest(work->parted, halves, count, at) + slack;
	work->least[group] = fmax(0, held_distance(work->held, at) - reach);
}

static void look_at_group(struct work *work, uint32_t group)
{
	uint32_t first = group * TOGETHER, count = group_size(work, group);
	work->least[group] = -1;
	for (uint32_t i = first; i < first + count; i++) {
		struct candidate *candidate = &work->candidates[i];
		candidate->place = held_from(work->held, work->halves[i]);
		candidate->bearing = atan2(candidate->place.on_part.y - work->middle.y,
					   candidate->place.on_part.x - work->middle.x);
	}
}

static bool is_apart(const struct work *work, const struct candidate *candidate)
{
	bool apart = isfinite(candidate->place.distance);
	for (uint32_t k = 0; k < work->chosen_count && apart; k++)
		apart = between(candidate->bearing, work->chosen[k]->bearing) >=
			APART[work->chosen_count] - 1e-9;
	return apart;
}

/* Distances that differ by less (nm) are equal. */
static const double EQUAL = 1;

/* The nearer one of two; of equals one in the middle of its side, else the first. */
static const struct candidate *better(const struct candidate *a, const struct candidate *b)
{
	if (!a || !b)
		return a ? a : b;
	double lead = b->place.distance - a->place.distance;
	if (fabs(lead) > EQUAL)
		return lead > 0 ? a : b;
	if (a->place.in_middle != b->place.in_middle)
		return a->place.in_middle ? a : b;
	return a < b ? a : b;
}

static const struct candidate *best_of_group(const struct work *work, uint32_t group)
{
	const struct candidate *best = NULL;
	uint32_t first = group * TOGETHER, count = group_size(work, group);
	for (uint32_t i = first; i < first + count; i++) {
		if (is_apart(work, &work->candidates[i]))
			best = better(best, &work->candidates[i]);
	}
	return best;
}

/* The nearest one that lies apart from those chosen: of those looked at, then of all. */
static const struct candidate *choose(struct work *work)
{
	const struct candidate *best = NULL;
	for (uint32_t g = 0; g < group_count(work); g++) {
		if (work->least[g] < 0)
			best = better(best, best_of_group(work, g));
	}
	for (uint32_t g = 0; g < group_count(work); g++) {
		if (work->least[g] < 0 || (best && work->least[g] > best->place.distance + EQUAL))
			continue;
		look_at_group(work, g);
		best = better(best, best_of_group(work, g));
	}
	return best;
}

static void bound_groups(struct work *work)
{
	uint32_t nearest = 0;
	for (uint32_t g = 0; g < group_count(work); g++) {
		bound_group(work, g);
		if (work->least[g] < work->least[nearest])
			nearest = g;
	}
	look_at_group(work, nearest);
}

static void find_for(struct work *work, const struct sides *sides, uint32_t part,
		     struct cutlint_site *sites)
{
	const struct parted *parted = work->parted;
	work->halves = &sides->items[sides->first[part]];
	work->count = sides->first[part + 1] - sides->first[part];
	work->chosen_count = 0;
	parted->parts[part].first_site = parted->work->sheet->site_count;
	if (work->count == 0)
		return;
	struct cutlint_xy middle = cutlint_box_middle(box_of(parted, work->halves, work->count));
	work->middle = (struct geo_vector){middle.x, middle.y};
	bound_groups(work);
	while (work->chosen_count < SITES) {
		const struct candidate *best = choose(work);
		if (!best)
			break;
		work->chosen[work->chosen_count++] = best;
		add_site(parted, &best->place, sites);
	}
	parted->parts[part].site_count = work->chosen_count;
}

/* Room for the part that has the most sides. */
static int take_candidates(struct work *work, const struct sides *sides)
{
	struct arena *scratch = work->parted->work->scratch;
	for (uint32_t p = 0; p < work->parted->work->sheet->part_count; p++) {
		uint32_t count = sides->first[p + 1] - sides->first[p];
		work->count = count > work->count ? count : work->count;
	}
	work->candidates = ARENA_ARRAY(scratch, struct candidate, (size_t)work->count + 1);
	work->least = ARENA_ARRAY(scratch, double, (size_t)group_count(work) + 1);
	return work->candidates && work->least ? 0 : -1;
}

int parted_find_sites(const struct parted *parted)
{
	struct cutlint_sheet *sheet = parted->work->sheet;
	uint32_t loose = 0;
	for (uint32_t p = 0; p < sheet->part_count; p++)
		loose += parted->parts[p].kind == CUTLINT_PART_LOOSE ? 1 : 0;
	struct cutlint_site *sites =
		ARENA_ARRAY(parted->work->arena, struct cutlint_site, SITES * (size_t)loose + 1);
	struct sides sides;
	struct held held;
	if (!sites)
		return -1;
	sheet->sites = sites;
	if (loose == 0)
		return 0;
	struct work work = {.parted = parted, .held = &held};
	if (group_sides(parted, &sides) != 0 || take_candidates(&work, &sides) != 0)
		return -1;
	int status = held_init(&held, parted);
	for (uint32_t p = 0; p < sheet->part_count && status == 0; p++) {
		if (parted->parts[p].kind == CUTLINT_PART_LOOSE)
			find_for(&work, &sides, p, sites);
	}
	held_finish(&held);
	return status;
}
