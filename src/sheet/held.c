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

static struct held_place query(struct held *held, uint32_t half, struct geo_vector from,
			       struct geo_vector to)
{
	held->from = from;
	held->to = to;
	held->length = hypot(to.x - from.x, to.y - from.y);
	held->best = (struct held_place){.half = half, .kept = GEO_NONE, .distance = INFINITY};
	if (held->last != GEO_NONE)
		compare(held, held->last);
	geo_tree_near(held->tree, from, to, held->best.distance, visit_near, held);
	return held->best;
}

struct held_place held_from(struct held *held, uint32_t half)
{
	struct geo_vector from = parted_start(held->parted, half);
	struct geo_vector to = parted_start(held->parted, half ^ 1);
	struct geo_vector middle = {(from.x + to.x) / 2, (from.y + to.y) / 2};
	struct held_place from_middle = query(held, half, middle, middle);
	from_middle.in_middle = true;
	double half_length = hypot(to.x - from.x, to.y - from.y) / 2;
	/* No place of the side is nearer than by half its length. */
	if (from_middle.distance <= (from_middle.distance - half_length) * ALIKE)
		return from_middle;
	struct held_place side = query(held, half, from, to);
	return from_middle.distance <= side.distance * ALIKE ? from_middle : side;
}

int held_init(struct held *held, const struct parted *parted)
{
	*held = (struct held){.parted = parted, .last = GEO_NONE};
	uint32_t halves = 2 * parted->arrangement->edge_count, count = 0;
	for (uint32_t h = 0; h < halves; h++)
		count += parted_is_held(parted, h) ? 1 : 0;
	held->segments = ARENA_ARRAY(parted->work->scratch, struct geo_segment, (size_t)count + 1);
	held->halves = ARENA_ARRAY(parted->work->scratch, uint32_t, (size_t)count + 1);
	if (!held->segments || !held->halves)
		return -1;
	count = 0;
	for (uint32_t h = 0; h < halves; h++) {
		if (!parted_is_held(parted, h))
			continue;
		held->segments[count] = segment_of(parted, h);
		held->halves[count++] = h;
	}
	held->tree = geo_tree_create(held->segments, count);
	return held->tree ? 0 : -1;
}

void held_finish(struct held *held)
{
	geo_tree_destroy(held->tree);
}

double held_distance(struct held *held, struct geo_vector at)
{
	return query(held, GEO_NONE, at, at).distance;
}
