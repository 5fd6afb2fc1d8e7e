/* Free ends of kept material: how wide they are, from the end inwards. */
#include <math.h>
#include <stdlib.h>

#include "base/list.h"
#include "sheet/parted.h"
#include "sheet/rim.h"
#include "sheet/xy.h"

/*
 * An end turns its boundary by at least this (rad), on at most that way (mm): a corner of less than
 * 30 degrees, or a round end (half a circle of pi/2 times its width) up to 1 mm wide. Choices of
 * this project.
 */
static const double LEAST_TURN = 2.6179938779914944;
static const double LONGEST_END_MM = 1.6;

/* Turns that differ by less (rad) are equal: points lie on whole nanometres. */
static const double EVEN_TURN = 1e-3;

/* An end has at most so many corners, and no tip is followed farther. Choices of this project. */
enum { CORNERS = 64 };
static const double FARTHEST_MM = 100;

/* The widths are looked at in steps of this, and kept where they bend by more than that (mm). */
static const double STEP_MM = 0.1;
static const double STRAIGHT_MM = 0.0005;

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
	double flattest, steepest; /* slopes of lines that go by all widths since the last fixed */
};

/* The shortest end that starts at a point; false without one. */
static bool end_from(struct rim *rim, uint32_t first, struct end *end)
{
	double turned = 0, length = 0;
	uint32_t point = first;
	for (uint32_t count = 0; count < CORNERS && count < rim->count; count++) {
		turned += rim_turn(rim, point);
		if (turned <= 0)
			return false;
		if (turned >= LEAST_TURN) {
			*end = (struct end){first, count, length};
			return true;
		}
		length += rim_side(rim, point);
		if (length > LONGEST_END_MM)
			return false;
		point = rim_next(rim, point);
	}
	return false;
}

/* Both ways on as far as the boundary turns on, by at most half of its length. */
static struct end widen(struct rim *rim, const struct end *shortest)
{
	struct end end = *shortest;
	end.first %= rim->count;
	double most = end.length / 2, added = 0;
	while (end.count + 2 < rim->count) {
		uint32_t before = rim_before(rim, end.first);
		added += rim_side(rim, before);
		if (added > most || !(rim_turn(rim, before) > 0))
			break;
		end.first = before;
		end.length += rim_side(rim, before);
		end.count++;
	}
	added = 0;
	while (end.count + 2 < rim->count) {
		uint32_t last = (end.first + end.count) % rim->count;
		added += rim_side(rim, last);
		if (added > most || !(rim_turn(rim, rim_next(rim, last)) > 0))
			break;
		end.length += rim_side(rim, last);
		end.count++;
	}
	return end;
}

/* How far along an end half of its turn is done; in the middle of a side that parts it evenly. */
static double middle_of(struct rim *rim, const struct end *end)
{
	double whole = 0, turned = 0, along = 0, from = -1;
	for (uint32_t i = 0; i <= end->count; i++)
		whole += rim_turn(rim, (end->first + i) % rim->count);
	for (uint32_t i = 0; i <= end->count; i++) {
		uint32_t point = (end->first + i) % rim->count;
		turned += rim_turn(rim, point);
		if (from < 0 && turned >= whole / 2 - EVEN_TURN)
			from = along;
		if (turned > whole / 2 + EVEN_TURN)
			break;
		along += i < end->count ? rim_side(rim, point) : 0;
	}
	return (from + along) / 2;
}

/*
 * Whether a line from the last width that is fixed goes by all those since, and through this one,
 * and the tip's middle runs straight from there to here.
 */
static bool goes_straight(struct search *search, struct cutlint_tip_width width)
{
	struct cutlint_tip_width fixed = search->widths[search->width_count - 2];
	double span = width.along_mm - fixed.along_mm, rise = width.drawn_mm - fixed.drawn_mm;
	double straight = xy_distance(xy_middle(fixed.sides[0], fixed.sides[1]),
				      xy_middle(width.sides[0], width.sides[1]));
	return span > 0 && rise >= search->flattest * span && rise <= search->steepest * span &&
	       straight >= span - STRAIGHT_MM;
}

static void narrow_slopes(struct search *search, struct cutlint_tip_width width)
{
	struct cutlint_tip_width fixed = search->widths[search->width_count - 2];
	double span = width.along_mm - fixed.along_mm, rise = width.drawn_mm - fixed.drawn_mm;
	search->flattest =
		span > 0 ? fmax(search->flattest, (rise - STRAIGHT_MM) / span) : INFINITY;
	search->steepest =
		span > 0 ? fmin(search->steepest, (rise + STRAIGHT_MM) / span) : -INFINITY;
}

/* Leaves out those before it through which the line to it goes. */
static int add_width(struct search *search, struct cutlint_tip_width width)
{
	if (search->width_count >= 2 && goes_straight(search, width)) {
		search->widths[search->width_count - 1] = width;
		narrow_slopes(search, width);
		return 0;
	}
	if (!LIST_ADD(search->widths, search->width_count, search->width_capacity, width))
		return -1;
	search->flattest = -INFINITY;
	search->steepest = INFINITY;
	if (search->width_count >= 2)
		narrow_slopes(search, width);
	return 0;
}

/* Goes along both sides at once, from the middle of the end. */
static int follow(struct search *search, double middle)
{
	const struct rim *rim = &search->rim;
	double limit = search->parted->work->limit_mm + search->parted->work->job->kerf_mm;
	double farthest = fmin(FARTHEST_MM, rim_trip(rim) / 2), along = 0;
	uint32_t half, back = 0, on;
	struct cutlint_xy last = rim_place(rim, middle, &back, &half);
	on = back;
	search->width_count = 0;
	if (add_width(search, (struct cutlint_tip_width){0, 0, {last, last}}) != 0)
		return -1;
	for (double way = STEP_MM / 10; way < farthest; way += fmin(STEP_MM, way)) {
		struct cutlint_xy a = rim_place(rim, middle - way, &back, &half);
		struct cutlint_xy b = rim_place(rim, middle + way, &on, &half);
		struct cutlint_xy centre = xy_middle(a, b);
		double drawn = xy_distance(a, b);
		along += xy_distance(last, centre);
		last = centre;
		if (add_width(search, (struct cutlint_tip_width){along, drawn, {a, b}}) != 0)
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

static int keep(struct search *search, const struct end *shortest)
{
	const struct parted *parted = search->parted;
	struct rim *rim = &search->rim;
	struct end end = widen(rim, shortest);
	double middle = rim->way[end.first] + middle_of(rim, &end);
	uint32_t last = (end.first + end.count) % rim->count;
	uint32_t before = rim_before(rim, end.first);
	uint32_t half, point = end.first;
	struct cutlint_tip tip = {.at = rim_place(rim, middle, &point, &half)};
	tip.burn_mm = burn_at(parted, rim->halves[before]) + burn_at(parted, rim->halves[last]);
	tip.part = parted->of_half[half];
	if (tip.part == GEO_NONE || !parted_is_held(parted, half))
		return 0;

	uint32_t count;
	const uint32_t *covers = geo_covers(parted->arrangement, half / 2, &count);
	struct cutlint_wall wall = parted_wall(parted, covers[0], tip.at);
	tip.outline = wall.outline;
	tip.vertex = wall.vertex;
	if (follow(search, middle) != 0)
		return -1;
	struct cutlint_tip_width *widths = ARENA_ARRAY(
		parted->work->arena, struct cutlint_tip_width, (size_t)search->width_count + 1);
	if (!widths)
		return -1;
	for (uint32_t i = 0; i < search->width_count; i++)
		widths[i] = search->widths[i];
	tip.widths = widths;
	tip.width_count = search->width_count;
	return LIST_ADD(search->items, search->count, search->capacity, tip) ? 0 : -1;
}

static bool find_end(struct rim *rim, uint32_t first, struct end *end)
{
	return rim_is_convex(rim, first) && end_from(rim, first, end);
}

/* A point which no end that starts before it reaches; the first one without such a point. */
static uint32_t free_point(struct rim *rim)
{
	uint32_t count = rim->count, reached = 0;
	for (uint32_t i = count > CORNERS ? count - CORNERS : 0; i < 2 * count; i++) {
		struct end end;
		if (i >= count && i > reached)
			return i - count;
		if (find_end(rim, i % count, &end) && i + end.count > reached)
			reached = i + end.count;
	}
	return 0;
}

/* Of ends that overlap, the shortest; of equals the first. */
static int look_round(struct search *search)
{
	struct end best = {0}, end;
	bool any = false;
	uint32_t start = free_point(&search->rim);
	for (uint32_t i = 0; i < search->rim.count; i++) {
		if (!find_end(&search->rim, (start + i) % search->rim.count, &end))
			continue;
		end.first = start + i;
		bool overlaps = any && end.first <= best.first + best.count;
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
		if (rim_load(&search->rim, arrangement, start) != 0 || look_round(search) != 0)
			return -1;
	}
	return 0;
}

static int compare_tips(const void *left, const void *right)
{
	const struct cutlint_tip *a = left, *b = right;
	if (a->vertex != b->vertex)
		return a->vertex < b->vertex ? -1 : 1;
	return xy_compare(a->at, b->at);
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
	rim_finish(&search.rim);
	return status;
}

static struct cutlint_xy between(struct cutlint_xy a, struct cutlint_xy b, double share)
{
	return (struct cutlint_xy){a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

struct cutlint_tip_width cutlint_tip_at(const struct cutlint_tip *tip, double along_mm)
{
	uint32_t i = 1;
	while (i + 1 < tip->width_count && tip->widths[i].along_mm < along_mm)
		i++;
	const struct cutlint_tip_width *a = &tip->widths[i - 1], *b = &tip->widths[i];
	double span = b->along_mm - a->along_mm;
	double share = span > 0 ? fmin(fmax((along_mm - a->along_mm) / span, 0), 1) : 1;
	return (struct cutlint_tip_width){a->along_mm + share * span,
					  a->drawn_mm + share * (b->drawn_mm - a->drawn_mm),
					  {between(a->sides[0], b->sides[0], share),
					   between(a->sides[1], b->sides[1], share)}};
}
