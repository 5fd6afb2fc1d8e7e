/* Free ends of kept material: how wide they are, from the end inwards. */
#include <math.h>
#include <stdlib.h>

#include "sheet/parted.h"
#include "sheet/xy.h"

static const double PI = 3.14159265358979323846;

/*
 * An end turns its boundary by at least this (rad), on at most that way (mm): a corner of less than
 * 30 degrees, or a round end (half a circle of pi/2 times its width) up to 1 mm wide.
 */
static const double LEAST_TURN = 2.6179938779914944;
static const double LONGEST_END_MM = 1.6;

/* An end has at most so many corners, and no tip is followed farther. */
enum { CORNERS = 64 };
static const double FARTHEST_MM = 100;

/* The widths are looked at in steps of this, and kept where they bend by more than that (mm). */
static const double STEP_MM = 0.1;
static const double STRAIGHT_MM = 0.0005;

/* One closed boundary of a kept face, with the face on its left. */
struct rim {
	uint32_t *halves;
	struct cutlint_xy *points; /* where each half-edge starts */
	double *way;               /* to each point, in mm; one more than points */
	double *turn;              /* at each point, in rad; positive where the face is convex */
	uint32_t count, capacity;
};

/* A stretch of a rim that turns back: from point `first`, over `count` further points. */
struct end {
	uint32_t first, count;
	double length;
};

struct search {
	const struct parted *parted;
	struct rim rim;
	struct cutlint_tip *items;
	uint32_t count, capacity;
	struct cutlint_tip_width *widths;
	uint32_t width_count, width_capacity;
};

static int grow(void **items, uint32_t *capacity, size_t size)
{
	uint32_t wanted = *capacity ? 2 * *capacity : 64;
	void *grown = realloc(*items, wanted * size);
	if (!grown)
		return -1;
	*items = grown;
	*capacity = wanted;
	return 0;
}

static int grow_rim(struct rim *rim)
{
	uint32_t capacity = rim->capacity ? 2 * rim->capacity : 256;
	uint32_t *halves = realloc(rim->halves, capacity * sizeof *halves);
	rim->halves = halves ? halves : rim->halves;
	struct cutlint_xy *points = realloc(rim->points, capacity * sizeof *points);
	rim->points = points ? points : rim->points;
	double *way = realloc(rim->way, ((size_t)capacity + 1) * sizeof *way);
	rim->way = way ? way : rim->way;
	double *turn = realloc(rim->turn, capacity * sizeof *turn);
	rim->turn = turn ? turn : rim->turn;
	if (!halves || !points || !way || !turn)
		return -1;
	rim->capacity = capacity;
	return 0;
}

/* The turn at a point. Round the end of an open line the face goes all the way, outwards. */
static double turn_at(const struct rim *rim, uint32_t i)
{
	uint32_t before = i ? i - 1 : rim->count - 1, after = i + 1 < rim->count ? i + 1 : 0;
	if (rim->halves[before] == (rim->halves[i] ^ 1))
		return -PI;
	struct cutlint_xy in = xy_minus(rim->points[i], rim->points[before]);
	struct cutlint_xy out = xy_minus(rim->points[after], rim->points[i]);
	return atan2(in.x * out.y - in.y * out.x, xy_dot(in, out));
}

static int load_rim(struct search *search, uint32_t start)
{
	const struct geo_arrangement *arrangement = search->parted->arrangement;
	struct rim *rim = &search->rim;
	uint32_t half = start;
	rim->count = 0;
	do {
		if (rim->count == rim->capacity && grow_rim(rim) != 0)
			return -1;
		rim->halves[rim->count] = half;
		rim->points[rim->count++] =
			cutlint_point_mm(arrangement->nodes[geo_half_edge_from(arrangement, half)]);
		half = arrangement->next[half];
	} while (half != start);
	rim->way[0] = 0;
	for (uint32_t i = 0; i < rim->count; i++) {
		uint32_t next = i + 1 < rim->count ? i + 1 : 0;
		rim->way[i + 1] = rim->way[i] + xy_distance(rim->points[i], rim->points[next]);
		rim->turn[i] = turn_at(rim, i);
	}
	return 0;
}

static double round_trip(const struct rim *rim)
{
	return rim->way[rim->count];
}

/* The shortest end that starts at a point; false without one. */
static bool end_from(const struct rim *rim, uint32_t first, struct end *end)
{
	double turned = 0, length = 0;
	uint32_t point = first;
	for (uint32_t count = 0; count < CORNERS && count < rim->count; count++) {
		turned += rim->turn[point];
		if (turned <= 0)
			return false;
		if (turned >= LEAST_TURN) {
			*end = (struct end){first, count, length};
			return true;
		}
		length += rim->way[point + 1] - rim->way[point];
		if (length > LONGEST_END_MM)
			return false;
		point = point + 1 < rim->count ? point + 1 : 0;
	}
	return false;
}

/* The place so far round the rim; `way` may lie one trip off on both sides. */
static struct cutlint_xy place_at(const struct rim *rim, double way, uint32_t *half)
{
	double trip = round_trip(rim);
	way = way < 0 ? way + trip : way >= trip ? way - trip : way;
	uint32_t low = 0, high = rim->count;
	while (high - low > 1) {
		uint32_t middle = low + (high - low) / 2;
		if (rim->way[middle] <= way)
			low = middle;
		else
			high = middle;
	}
	struct cutlint_xy a = rim->points[low];
	struct cutlint_xy b = rim->points[low + 1 < rim->count ? low + 1 : 0];
	double length = rim->way[low + 1] - rim->way[low];
	double t = length > 0 ? fmin(1, fmax(0, (way - rim->way[low]) / length)) : 0;
	*half = rim->halves[low];
	return (struct cutlint_xy){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

static int add_width(struct search *search, struct cutlint_tip_width width)
{
	struct cutlint_tip_width *widths = search->widths;
	uint32_t count = search->width_count;
	if (count >= 2) {
		struct cutlint_tip_width a = widths[count - 2], b = widths[count - 1];
		double span = width.along_mm - a.along_mm;
		double share = span > 0 ? (b.along_mm - a.along_mm) / span : 0;
		double straight = a.drawn_mm + share * (width.drawn_mm - a.drawn_mm);
		if (span > 0 && fabs(straight - b.drawn_mm) <= STRAIGHT_MM) {
			widths[count - 1] = width;
			return 0;
		}
	}
	if (count == search->width_capacity &&
	    grow((void **)&search->widths, &search->width_capacity, sizeof *widths) != 0)
		return -1;
	search->widths[search->width_count++] = width;
	return 0;
}

/* Goes along both sides at once, from the middle of the end. */
static int follow(struct search *search, double middle)
{
	const struct rim *rim = &search->rim;
	double limit = search->parted->work->limit_mm + search->parted->work->job->kerf_mm;
	double farthest = fmin(FARTHEST_MM, round_trip(rim) / 2), along = 0;
	uint32_t half;
	struct cutlint_xy last = place_at(rim, middle, &half);
	search->width_count = 0;
	if (add_width(search, (struct cutlint_tip_width){0, 0}) != 0)
		return -1;
	for (double way = STEP_MM / 10; way < farthest; way += fmin(STEP_MM, way)) {
		struct cutlint_xy a = place_at(rim, middle - way, &half);
		struct cutlint_xy b = place_at(rim, middle + way, &half);
		struct cutlint_xy centre = {(a.x + b.x) / 2, (a.y + b.y) / 2};
		double drawn = xy_distance(a, b);
		along += xy_distance(last, centre);
		last = centre;
		if (add_width(search, (struct cutlint_tip_width){along, drawn}) != 0)
			return -1;
		if (drawn > limit)
			break;
	}
	return 0;
}

/* What the burn takes off at a half-edge. */
static double burn_at(const struct parted *parted, uint32_t half)
{
	uint32_t count;
	const uint32_t *covers = geo_covers(parted->arrangement, half / 2, &count);
	for (uint32_t i = 0; i < count; i++) {
		if (burn_chain_of(parted->burn, covers[i])->burned)
			return parted->work->job->kerf_mm / 2;
	}
	return 0;
}

static int keep(struct search *search, const struct end *end)
{
	const struct parted *parted = search->parted;
	const struct rim *rim = &search->rim;
	double middle = rim->way[end->first] + end->length / 2;
	uint32_t last = (end->first + end->count) % rim->count;
	uint32_t before = end->first ? end->first - 1 : rim->count - 1;
	uint32_t half;
	struct cutlint_tip tip = {.at = place_at(rim, middle, &half)};
	tip.burn_mm = burn_at(parted, rim->halves[before]) + burn_at(parted, rim->halves[last]);
	tip.part = parted->of_half[half];
	if (tip.part == GEO_NONE || !parted_is_held(parted, half))
		return 0;

	uint32_t count;
	const uint32_t *covers = geo_covers(parted->arrangement, half / 2, &count);
	tip.outline = burn_chain_of(parted->burn, covers[0])->outline;
	tip.vertex = burn_vertex(parted->burn, parted->work->design, covers[0]);
	if (follow(search, middle) != 0)
		return -1;
	struct cutlint_tip_width *widths = ARENA_ARRAY(
		parted->work->arena, struct cutlint_tip_width, (size_t)search->width_count + 1);
	if (!widths || (search->count == search->capacity &&
			grow((void **)&search->items, &search->capacity, sizeof tip) != 0))
		return -1;
	for (uint32_t i = 0; i < search->width_count; i++)
		widths[i] = search->widths[i];
	tip.widths = widths;
	tip.width_count = search->width_count;
	search->items[search->count++] = tip;
	return 0;
}

/* Of ends that overlap, the shortest; of equals the first. */
static int look_round(struct search *search)
{
	struct end best = {0}, end;
	bool any = false;
	for (uint32_t i = 0; i < search->rim.count; i++) {
		if (!(search->rim.turn[i] > 0) || !end_from(&search->rim, i, &end))
			continue;
		bool overlaps = any && i <= best.first + best.count;
		if (any && !overlaps && keep(search, &best) != 0)
			return -1;
		if (!overlaps || end.length < best.length)
			best = end;
		any = true;
	}
	return any ? keep(search, &best) : 0;
}

static int look_at_face(struct search *search, uint32_t face)
{
	const struct geo_arrangement *arrangement = search->parted->arrangement;
	const struct geo_face *found = &arrangement->faces[face];
	for (uint32_t i = 0; i <= found->inner_count; i++) {
		uint32_t start = i < found->inner_count
					 ? arrangement->inners[found->first_inner + i]
					 : found->outer;
		if (start == GEO_NONE)
			continue;
		if (load_rim(search, start) != 0 || look_round(search) != 0)
			return -1;
	}
	return 0;
}

static int compare_tips(const void *left, const void *right)
{
	const struct cutlint_tip *a = left, *b = right;
	if (a->vertex != b->vertex)
		return a->vertex < b->vertex ? -1 : 1;
	if (a->at.y != b->at.y)
		return a->at.y < b->at.y ? -1 : 1;
	return a->at.x < b->at.x ? -1 : a->at.x > b->at.x;
}

static int hand_over(struct search *search)
{
	struct sheet_work *work = search->parted->work;
	struct cutlint_tip *tips =
		ARENA_ARRAY(work->arena, struct cutlint_tip, (size_t)search->count + 1);
	if (!tips)
		return -1;
	for (uint32_t i = 0; i < search->count; i++)
		tips[i] = search->items[i];
	qsort(tips, search->count, sizeof *tips, compare_tips);
	work->sheet->tips = tips;
	work->sheet->tip_count = search->count;
	return 0;
}

int parted_find_tips(const struct parted *parted)
{
	struct search search = {.parted = parted};
	int status = 0;
	for (uint32_t f = 0; f < parted->arrangement->face_count && status == 0; f++) {
		if (parted->intent->kinds[f] == FACE_KEPT)
			status = look_at_face(&search, f);
	}
	if (status == 0)
		status = hand_over(&search);
	free(search.items);
	free(search.widths);
	free(search.rim.halves);
	free(search.rim.points);
	free(search.rim.way);
	free(search.rim.turn);
	return status;
}
