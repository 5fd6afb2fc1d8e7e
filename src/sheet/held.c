#include "sheet/held.h"

#include <math.h>

#include "geometry/distance.h"
#include "geometry/least.h"
#include "sheet/xy.h"

/* The middle of a side is a better place for a bridge than its end, if it is as near by this: a
 * choice of this project. */
static const double ALIKE = 1.02;

static struct geo_segment segment_of(const struct parted *parted, uint32_t half)
{
	const struct geo_arrangement *arrangement = parted->arrangement;
	return (struct geo_segment){arrangement->nodes[geo_half_edge_from(arrangement, half)],
				    arrangement->nodes[geo_half_edge_to(arrangement, half)]};
}

/* Whether a segment lies on one side of the query's line, farther off than `most`. */
static bool is_beside(const struct held *held, const struct geo_segment *segment, double most)
{
	double dx = held->to.x - held->from.x, dy = held->to.y - held->from.y;
	double from = dx * (segment->from.y - held->from.y) - dy * (segment->from.x - held->from.x);
	double to = dx * (segment->to.y - held->from.y) - dy * (segment->to.x - held->from.x);
	double least = most * held->length;
	return (from > least && to > least) || (from < -least && to < -least);
}

/* Whether a segment is farther from the query than the best found, by its box or its side. */
static bool is_farther(const struct held *held, const struct geo_segment *segment)
{
	const double slack = 1; /* nm, over what rounding takes */
	struct geo_vector from = held->from, to = held->to;
	double across = geo_apart(geo_lesser(from.x, to.x), geo_greater(from.x, to.x),
				  segment->from.x, segment->to.x);
	double down = geo_apart(geo_lesser(from.y, to.y), geo_greater(from.y, to.y),
				segment->from.y, segment->to.y);
	double most = held->best.distance + slack;
	return across * across + down * down > most * most ||
	       (held->length > 0 && is_beside(held, segment, most));
}

static void compare(struct held *held, uint32_t number)
{
	const struct geo_segment *segment = &held->segments[number];
	struct held_place *best = &held->best;
	struct geo_vector a, b;
	if (is_farther(held, segment))
		return;
	double distance = geo_segment_distance(held->from, held->to, sheet_vector(segment->from),
					       sheet_vector(segment->to), &a, &b);
	if (distance > best->distance ||
	    (distance == best->distance && held->halves[number] >= best->kept))
		return;
	best->distance = distance;
	best->kept = held->halves[number];
	held->last = number;
	best->on_part = a;
	best->on_kept = b;
}

static void visit_near(void *user, uint32_t number, double *reach)
{
	struct held *held = user;
	compare(held, number);
	*reach = fmin(*reach, held->best.distance);
}

static bool visit_band(void *user, uint32_t number)
{
	compare(user, number);
	return true;
}

static void begin(struct held *held, uint32_t half, struct geo_vector from, struct geo_vector to)
{
	held->from = from;
	held->to = to;
	held->length = hypot(to.x - from.x, to.y - from.y);
	held->best = (struct held_place){.half = half, .kept = GEO_NONE, .distance = INFINITY};
	if (held->last != GEO_NONE)
		compare(held, held->last);
}

/* No place of the query is nearer to a segment than the middle is, but for its way from there. */
static void compare_list(struct held *held)
{
	const double slack = 1; /* nm, over what rounding takes */
	double from = hypot(held->from.x - held->middle.x, held->from.y - held->middle.y);
	double to = hypot(held->to.x - held->middle.x, held->to.y - held->middle.y);
	double way = (from > to ? from : to) + slack;
	for (uint32_t i = 0; i < held->near_count; i++) {
		if (held->away[i] - way <= held->best.distance)
			compare(held, held->near[i]);
	}
}

static struct held_place query_point(struct held *held, uint32_t half, struct geo_vector at)
{
	begin(held, half, at, at);
	if (held->listed)
		compare_list(held);
	else
		geo_index_near(held->index, at, held->best.distance, visit_near, held);
	return held->best;
}

/* What is near one end bounds how far round the side one has to look. */
static struct held_place query_side(struct held *held, uint32_t half, struct geo_vector from,
				    struct geo_vector to)
{
	begin(held, half, from, to);
	if (held->listed) {
		compare_list(held);
		return held->best;
	}
	geo_index_near(held->index, from, held->best.distance, visit_near, held);
	geo_index_near(held->index, to, held->best.distance, visit_near, held);
	geo_index_band(held->index, from, to, held->best.distance, visit_band, held);
	return held->best;
}

struct held_place held_from(struct held *held, uint32_t half)
{
	struct geo_vector from = parted_start(held->parted, half);
	struct geo_vector to = parted_start(held->parted, half ^ 1);
	struct geo_vector middle = {(from.x + to.x) / 2, (from.y + to.y) / 2};
	struct held_place from_middle = query_point(held, half, middle);
	from_middle.in_middle = true;
	double half_length = hypot(to.x - from.x, to.y - from.y) / 2;
	/* No place of the side is nearer than by half its length. */
	if (from_middle.distance <= (from_middle.distance - half_length) * ALIKE)
		return from_middle;
	struct held_place side = query_side(held, half, from, to);
	return from_middle.distance <= side.distance * ALIKE ? from_middle : side;
}

/* A list that is being made for all places within a distance of a centre. */
struct listing {
	struct held *held;
	struct geo_vector centre;
	double radius, nearest;
};

static void list_near(void *user, uint32_t number, double *reach)
{
	struct listing *listing = user;
	struct held *held = listing->held;
	const struct geo_segment *segment = &held->segments[number];
	struct geo_vector at = geo_nearest_on_segment(sheet_vector(segment->from),
						      sheet_vector(segment->to), listing->centre);
	double distance = hypot(at.x - listing->centre.x, at.y - listing->centre.y);
	const double slack = 10; /* nm, over what rounding takes */
	listing->nearest = fmin(listing->nearest, distance);
	*reach = fmin(*reach, listing->nearest + 2 * listing->radius + slack);
	if (distance > *reach || held->stamps[number] == held->stamp)
		return;
	held->stamps[number] = held->stamp;
	held->away[held->near_count] = distance;
	held->near[held->near_count++] = number;
}

int held_init(struct held *held, const struct parted *parted)
{
	*held = (struct held){.parted = parted, .last = GEO_NONE};
	uint32_t halves = 2 * parted->arrangement->edge_count, count = 0;
	for (uint32_t h = 0; h < halves; h++)
		count += parted_is_held(parted, h) ? 1 : 0;
	held->segments = ARENA_ARRAY(parted->work->scratch, struct geo_segment, (size_t)count + 1);
	held->halves = ARENA_ARRAY(parted->work->scratch, uint32_t, (size_t)count + 1);
	held->near = ARENA_ARRAY(parted->work->scratch, uint32_t, (size_t)count + 1);
	held->away = ARENA_ARRAY(parted->work->scratch, double, (size_t)count + 1);
	held->stamps = ARENA_ARRAY(parted->work->scratch, uint32_t, (size_t)count + 1);
	if (!held->segments || !held->halves || !held->near || !held->away || !held->stamps)
		return -1;
	count = 0;
	for (uint32_t h = 0; h < halves; h++) {
		if (!parted_is_held(parted, h))
			continue;
		held->segments[count] = segment_of(parted, h);
		held->halves[count++] = h;
	}
	held->index = geo_index_create(held->segments, count);
	return held->index ? 0 : -1;
}

void held_finish(struct held *held)
{
	geo_index_destroy(held->index);
}

double held_distance(struct held *held, struct geo_vector at)
{
	return query_point(held, GEO_NONE, at).distance;
}

/*
 * A part that is small beside its distance from all that is held has the same few segments near to
 * all its sides: no other can be nearest. Else the index is asked at every side.
 */
void held_turn_to(struct held *held, struct geo_vector middle, double radius)
{
	struct listing listing = {
		.held = held, .centre = middle, .radius = radius, .nearest = INFINITY};
	held->middle = middle;
	held->near_count = 0;
	held->stamp++;
	geo_index_near(held->index, middle, INFINITY, list_near, &listing);
	held->listed = listing.nearest > radius;
}
