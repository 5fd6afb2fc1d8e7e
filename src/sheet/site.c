/* Places where bridges could hold a loose part. */
#include <math.h>

#include "geometry/distance.h"
#include "geometry/index.h"
#include "sheet/parted.h"
#include "sheet/xy.h"

/* Sites of one part, and how far apart they must lie as seen from its middle (rad). */
enum { SITES = 3 };
static const double APART[SITES] = {0, 1.5707963267948966, 1.0471975511965976};

/* The middle of a side is a better place for a bridge than its end, if it is as near by this. */
static const double ALIKE = 1.02;

/* The nearest place of a held part's boundary to one side of a loose part's. */
struct candidate {
	uint32_t half, kept; /* half-edges: of the loose part, and of the held one */
	struct geo_vector on_part, on_kept;
	double distance; /* nm; INFINITY without one */
	double bearing;  /* of on_part, from the part's middle */
};

struct search {
	const struct parted *parted;
	struct geo_segment *segments; /* of held parts */
	uint32_t *halves;             /* of each of them */
	struct geo_index *index;
	/* The query: a loose side, or one point for its middle. */
	struct geo_vector from, to;
	struct candidate *best;
	uint32_t last; /* what was nearest to the last query, likely near to this one; GEO_NONE */
	/* What alone can be nearest to any place of the part at work, if that is worth a list. */
	bool listed;
	uint32_t *near, near_count;
	uint32_t *stamps, stamp; /* of each segment: the last list that has it */
};

static struct geo_vector node_at(const struct parted *parted, uint32_t node)
{
	return sheet_vector(parted->arrangement->nodes[node]);
}

static struct geo_segment segment_of(const struct parted *parted, uint32_t half)
{
	const struct geo_arrangement *arrangement = parted->arrangement;
	return (struct geo_segment){arrangement->nodes[geo_half_edge_from(arrangement, half)],
				    arrangement->nodes[geo_half_edge_to(arrangement, half)]};
}

/* How far two spans of one coordinate lie apart; 0 where they meet. */
static double gap(double a, double b, double c, double d)
{
	double low_a = a < b ? a : b, high_a = a < b ? b : a;
	double low_c = c < d ? c : d, high_c = c < d ? d : c;
	double apart = low_a > high_c ? low_a - high_c : low_c - high_a;
	return apart > 0 ? apart : 0;
}

/* Whether a segment's box is farther from the query's than the best found. */
static bool is_farther(const struct search *search, const struct geo_segment *segment)
{
	const double slack = 1; /* nm, over what rounding takes */
	double across = gap(search->from.x, search->to.x, segment->from.x, segment->to.x);
	double down = gap(search->from.y, search->to.y, segment->from.y, segment->to.y);
	double most = search->best->distance + slack;
	return across * across + down * down > most * most;
}

static void compare(struct search *search, uint32_t number)
{
	const struct geo_segment *segment = &search->segments[number];
	struct candidate *best = search->best;
	struct geo_vector a, b;
	if (is_farther(search, segment))
		return;
	double distance =
		geo_segment_distance(search->from, search->to, sheet_vector(segment->from),
				     sheet_vector(segment->to), &a, &b);
	if (distance > best->distance ||
	    (distance == best->distance && search->halves[number] >= best->kept))
		return;
	best->distance = distance;
	best->kept = search->halves[number];
	search->last = number;
	best->on_part = a;
	best->on_kept = b;
}

static void visit_near(void *user, uint32_t number, double *reach)
{
	struct search *search = user;
	compare(search, number);
	*reach = fmin(*reach, search->best->distance);
}

static bool visit_band(void *user, uint32_t number)
{
	compare(user, number);
	return true;
}

static void begin(struct search *search, struct geo_vector from, struct geo_vector to,
		  struct candidate *best)
{
	search->from = from;
	search->to = to;
	search->best = best;
	if (search->last != GEO_NONE)
		compare(search, search->last);
}

static void compare_list(struct search *search)
{
	for (uint32_t i = 0; i < search->near_count; i++)
		compare(search, search->near[i]);
}

static struct candidate query_point(struct search *search, uint32_t half, struct geo_vector at)
{
	struct candidate best = {.half = half, .kept = GEO_NONE, .distance = INFINITY};
	begin(search, at, at, &best);
	if (search->listed)
		compare_list(search);
	else
		geo_index_near(search->index, at, best.distance, visit_near, search);
	return best;
}

/* What is near one end bounds how far round the side one has to look. */
static struct candidate query_side(struct search *search, uint32_t half, struct geo_vector from,
				   struct geo_vector to)
{
	struct candidate best = {.half = half, .kept = GEO_NONE, .distance = INFINITY};
	begin(search, from, to, &best);
	if (search->listed) {
		compare_list(search);
		return best;
	}
	geo_index_near(search->index, from, best.distance, visit_near, search);
	geo_index_near(search->index, to, best.distance, visit_near, search);
	geo_index_band(search->index, from, to, best.distance, visit_band, search);
	return best;
}

static struct candidate look_from(struct search *search, uint32_t half)
{
	const struct geo_arrangement *arrangement = search->parted->arrangement;
	struct geo_vector from = node_at(search->parted, geo_half_edge_from(arrangement, half));
	struct geo_vector to = node_at(search->parted, geo_half_edge_to(arrangement, half));
	struct geo_vector middle = {(from.x + to.x) / 2, (from.y + to.y) / 2};
	struct candidate from_middle = query_point(search, half, middle);
	struct candidate side = query_side(search, half, from, to);
	return from_middle.distance <= side.distance * ALIKE ? from_middle : side;
}

/* How far two bearings are apart, 0 to pi. */
static double between(double a, double b)
{
	double turn = fabs(a - b);
	return fmin(turn, 2 * acos(-1) - turn);
}

static const struct candidate *choose(const struct candidate *candidates, uint32_t count,
				      const struct candidate *const *chosen, uint32_t chosen_count)
{
	const struct candidate *best = NULL;
	for (uint32_t i = 0; i < count; i++) {
		bool apart = isfinite(candidates[i].distance);
		for (uint32_t k = 0; k < chosen_count && apart; k++)
			apart = between(candidates[i].bearing, chosen[k]->bearing) >=
				APART[chosen_count] - 1e-9;
		if (apart && (!best || candidates[i].distance < best->distance))
			best = &candidates[i];
	}
	return best;
}

/* The wall at a half-edge, named after the first of its lines in the file. */
static struct cutlint_wall wall_at(const struct parted *parted, uint32_t half, struct geo_vector at)
{
	uint32_t count;
	const uint32_t *covers = geo_covers(parted->arrangement, half / 2, &count);
	return (struct cutlint_wall){burn_chain_of(parted->burn, covers[0])->outline,
				     burn_vertex(parted->burn, parted->work->design, covers[0]),
				     sheet_mm(at)};
}

static void add_site(const struct parted *parted, const struct candidate *candidate,
		     struct cutlint_site *sites)
{
	struct cutlint_sheet *sheet = parted->work->sheet;
	sites[sheet->site_count++] =
		(struct cutlint_site){wall_at(parted, candidate->half, candidate->on_part),
				      wall_at(parted, candidate->kept, candidate->on_kept),
				      candidate->distance / SHEET_NM};
}

/* The box of where some half-edges start, in nm. */
static struct cutlint_box box_of(const struct parted *parted, const uint32_t *halves,
				 uint32_t count)
{
	struct cutlint_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
	for (uint32_t i = 0; i < count; i++) {
		struct geo_vector at =
			node_at(parted, geo_half_edge_from(parted->arrangement, halves[i]));
		box.left = fmin(box.left, at.x);
		box.right = fmax(box.right, at.x);
		box.top = fmin(box.top, at.y);
		box.bottom = fmax(box.bottom, at.y);
	}
	return box;
}

static void set_bearings(struct cutlint_box box, struct candidate *candidates, uint32_t count)
{
	struct cutlint_xy middle = box_middle(box);
	for (uint32_t i = 0; i < count; i++)
		candidates[i].bearing = atan2(candidates[i].on_part.y - middle.y,
					      candidates[i].on_part.x - middle.x);
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

static int index_held(struct search *search)
{
	const struct parted *parted = search->parted;
	uint32_t halves = 2 * parted->arrangement->edge_count, count = 0;
	for (uint32_t h = 0; h < halves; h++)
		count += parted_is_held(parted, h) ? 1 : 0;
	search->segments =
		ARENA_ARRAY(parted->work->scratch, struct geo_segment, (size_t)count + 1);
	search->halves = ARENA_ARRAY(parted->work->scratch, uint32_t, (size_t)count + 1);
	search->near = ARENA_ARRAY(parted->work->scratch, uint32_t, (size_t)count + 1);
	search->stamps = ARENA_ARRAY(parted->work->scratch, uint32_t, (size_t)count + 1);
	if (!search->segments || !search->halves || !search->near || !search->stamps)
		return -1;
	count = 0;
	for (uint32_t h = 0; h < halves; h++) {
		if (!parted_is_held(parted, h))
			continue;
		search->segments[count] = segment_of(parted, h);
		search->halves[count++] = h;
	}
	search->index = geo_index_create(search->segments, count);
	return search->index ? 0 : -1;
}

/* A list that is being made for all places within a distance of a centre. */
struct listing {
	struct search *search;
	struct geo_vector centre;
	double radius, nearest;
};

static void list_near(void *user, uint32_t number, double *reach)
{
	struct listing *listing = user;
	struct search *search = listing->search;
	const struct geo_segment *segment = &search->segments[number];
	struct geo_vector at = geo_nearest_on_segment(sheet_vector(segment->from),
						      sheet_vector(segment->to), listing->centre);
	double distance = hypot(at.x - listing->centre.x, at.y - listing->centre.y);
	const double slack = 10; /* nm, over what rounding takes */
	listing->nearest = fmin(listing->nearest, distance);
	*reach = fmin(*reach, listing->nearest + 2 * listing->radius + slack);
	if (distance > *reach || search->stamps[number] == search->stamp)
		return;
	search->stamps[number] = search->stamp;
	search->near[search->near_count++] = number;
}

static double farthest(const struct parted *parted, const uint32_t *halves, uint32_t count,
		       struct geo_vector centre)
{
	double most = 0;
	for (uint32_t i = 0; i < 2 * count; i++) {
		uint32_t half = halves[i / 2] ^ (i & 1);
		struct geo_vector at =
			node_at(parted, geo_half_edge_from(parted->arrangement, half));
		double across = at.x - centre.x, down = at.y - centre.y;
		most = fmax(most, across * across + down * down);
	}
	return sqrt(most);
}

/*
 * A part that is small beside its distance from all that is held has the same few segments near to
 * all its sides: no other can be nearest. Else the index is asked at every side.
 */
static void list_for(struct search *search, const uint32_t *halves, uint32_t count,
		     struct geo_vector centre)
{
	struct listing listing = {.search = search,
				  .centre = centre,
				  .radius = farthest(search->parted, halves, count, centre),
				  .nearest = INFINITY};
	search->near_count = 0;
	search->stamp++;
	geo_index_near(search->index, listing.centre, INFINITY, list_near, &listing);
	search->listed = listing.nearest > listing.radius;
}

static int find_for(struct search *search, const struct sides *sides, uint32_t part,
		    struct cutlint_site *sites)
{
	const struct parted *parted = search->parted;
	uint32_t count = sides->first[part + 1] - sides->first[part];
	struct candidate *candidates =
		ARENA_ARRAY(parted->work->scratch, struct candidate, (size_t)count + 1);
	if (!candidates)
		return -1;
	const uint32_t *halves = &sides->items[sides->first[part]];
	struct cutlint_box box = box_of(parted, halves, count);
	struct cutlint_xy middle = box_middle(box);
	list_for(search, halves, count, (struct geo_vector){middle.x, middle.y});
	for (uint32_t i = 0; i < count; i++)
		candidates[i] = look_from(search, halves[i]);
	set_bearings(box, candidates, count);

	const struct candidate *chosen[SITES];
	uint32_t chosen_count = 0;
	parted->parts[part].first_site = parted->work->sheet->site_count;
	while (chosen_count < SITES) {
		const struct candidate *best = choose(candidates, count, chosen, chosen_count);
		if (!best)
			break;
		chosen[chosen_count++] = best;
		add_site(parted, best, sites);
	}
	parted->parts[part].site_count = chosen_count;
	return 0;
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
	struct search search = {.parted = parted, .last = GEO_NONE};
	if (!sites)
		return -1;
	sheet->sites = sites;
	if (loose == 0)
		return 0;
	if (group_sides(parted, &sides) != 0 || index_held(&search) != 0)
		return -1;
	int status = 0;
	for (uint32_t p = 0; p < sheet->part_count && status == 0; p++) {
		if (parted->parts[p].kind == CUTLINT_PART_LOOSE)
			status = find_for(&search, &sides, p, sites);
	}
	geo_index_destroy(search.index);
	return status;
}
