#include "geometry/cuts.h"

#include <math.h>
#include <stdlib.h>

/*
 * Feet this near to each other along a half-edge, or to its end, are one place: far more than the
 * rounding of a foot that was worked out in doubles, far less than the shortest edge. In nm.
 */
#define ONE_PLACE 0.0625

static const double two_pi = 6.28318530717958647692;

static struct geo_vector from_of(const struct geo_arrangement *arrangement, uint32_t half)
{
	struct cutlint_point at = arrangement->nodes[geo_half_edge_from(arrangement, half)];
	return (struct geo_vector){at.x, at.y};
}

static struct geo_vector minus(struct geo_vector a, struct geo_vector b)
{
	return (struct geo_vector){a.x - b.x, a.y - b.y};
}

static double cross(struct geo_vector a, struct geo_vector b)
{
	return a.x * b.y - a.y * b.x;
}

static double dot(struct geo_vector a, struct geo_vector b)
{
	return a.x * b.x + a.y * b.y;
}

/* The way along a half-edge. */
static struct geo_vector way(const struct geo_arrangement *arrangement, uint32_t half)
{
	return minus(from_of(arrangement, half ^ 1), from_of(arrangement, half));
}

double geo_along(const struct geo_arrangement *arrangement, uint32_t half_edge,
		 struct geo_vector at)
{
	struct geo_vector run = way(arrangement, half_edge);
	double length = hypot(run.x, run.y);
	double along = dot(minus(at, from_of(arrangement, half_edge)), run) / length;
	return fmin(fmax(along, 0), length);
}

/* Whether a direction lies within the corner from a half-edge to the next one round its face. */
static bool in_corner(const struct geo_arrangement *arrangement, uint32_t arriving,
		      struct geo_vector direction)
{
	uint32_t leaving = arrangement->next[arriving];
	if (leaving == (arriving ^ 1))
		return true;
	struct geo_vector first = way(arrangement, leaving);
	struct geo_vector last = way(arrangement, arriving ^ 1);
	if (cross(first, last) > 0)
		return cross(first, direction) > 0 && cross(direction, last) > 0;
	return !(cross(last, direction) >= 0 && cross(direction, first) >= 0);
}

/* The half-edge of the face that ends in the node, with the corner that holds the direction; one
 * whose corner does not where rounding hides which it is. */
static uint32_t corner_of(const struct geo_arrangement *arrangement, uint32_t leaving,
			  struct geo_vector direction)
{
	uint32_t face = arrangement->face[leaving], start = leaving ^ 1, found = GEO_NONE;
	uint32_t arriving = start;
	do {
		if (arrangement->face[arriving] == face) {
			if (in_corner(arrangement, arriving, direction))
				return arriving;
			if (arrangement->next[arriving] == leaving)
				found = arriving;
		}
		arriving = arrangement->next[arriving] ^ 1;
	} while (arriving != start);
	return found;
}

static struct geo_stop make_stop(const struct geo_arrangement *arrangement,
				 const struct geo_neck *neck, uint32_t foot)
{
	uint32_t half = neck->feet[foot & 1].half_edge;
	struct geo_vector run = way(arrangement, half);
	struct geo_stop stop = {.at = neck->feet[foot & 1].at, .half_edge = half, .foot = foot};
	struct geo_vector direction = minus(neck->feet[~foot & 1].at, stop.at);
	double length = hypot(run.x, run.y);
	stop.along = geo_along(arrangement, half, stop.at);
	bool at_start = stop.along <= ONE_PLACE, at_end = length - stop.along <= ONE_PLACE;
	if (at_start || at_end) {
		uint32_t leaving = at_start ? half : arrangement->next[half];
		stop.half_edge = corner_of(arrangement, leaving, direction);
		stop.at = from_of(arrangement, leaving);
		run = way(arrangement, stop.half_edge);
		stop.along = hypot(run.x, run.y);
	}
	struct geo_vector back = {-run.x, -run.y};
	stop.turn = atan2(cross(direction, back), dot(direction, back));
	if (stop.turn < 0)
		stop.turn += two_pi;
	return stop;
}

static int by_place(const void *a, const void *b)
{
	const struct geo_stop *left = a, *right = b;
	if (left->half_edge != right->half_edge)
		return left->half_edge < right->half_edge ? -1 : 1;
	if (left->along != right->along)
		return left->along < right->along ? -1 : 1;
	if (left->turn != right->turn)
		return left->turn < right->turn ? -1 : 1;
	/* Two cuts along one line: in opposite order at their other ends, so that they don't
	 * cross. */
	bool later = left->foot > right->foot;
	return later == !(left->foot & 1) ? 1 : -1;
}

/* Sorts the stops, with those of one place in the order of their turns. */
static void sort_stops(struct geo_cuts *cuts)
{
	qsort(cuts->stops, cuts->count, sizeof(*cuts->stops), by_place);
	for (uint32_t i = 1; i < cuts->count; i++) {
		struct geo_stop *before = &cuts->stops[i - 1], *stop = &cuts->stops[i];
		if (stop->half_edge == before->half_edge && stop->along - before->along < ONE_PLACE)
			stop->along = before->along;
	}
	qsort(cuts->stops, cuts->count, sizeof(*cuts->stops), by_place);
	for (uint32_t i = 0; i < cuts->count; i++) {
		uint32_t half = cuts->stops[i].half_edge;
		cuts->of_foot[cuts->stops[i].foot] = i;
		cuts->marks[half / 8] = (uint8_t)(cuts->marks[half / 8] | 1 << half % 8);
	}
}

static bool cuts_through(const struct geo_arrangement *arrangement, const struct geo_neck *neck)
{
	return neck->kind == GEO_NECK && arrangement->face[neck->feet[0].half_edge] == neck->face &&
	       arrangement->face[neck->feet[1].half_edge] == neck->face;
}

int geo_cuts_init(struct geo_cuts *cuts, const struct geo_arrangement *arrangement,
		  const struct geo_necks *necks, const bool *chosen)
{
	*cuts = (struct geo_cuts){0};
	cuts->stops = malloc((size_t)necks->count * 2 * sizeof(*cuts->stops) + 1);
	cuts->of_foot = malloc((size_t)necks->count * 2 * sizeof(*cuts->of_foot) + 1);
	cuts->marks = calloc(arrangement->edge_count / 4 + 1, 1);
	if (!cuts->stops || !cuts->of_foot || !cuts->marks)
		return -1;
	for (uint32_t i = 0; i < necks->count; i++) {
		cuts->of_foot[2 * i] = cuts->of_foot[2 * i + 1] = GEO_NONE;
		if (!chosen[i] || !cuts_through(arrangement, &necks->items[i]))
			continue;
		for (uint32_t side = 0; side < 2; side++)
			cuts->stops[cuts->count++] =
				make_stop(arrangement, &necks->items[i], 2 * i + side);
	}
	sort_stops(cuts);
	return 0;
}

void geo_cuts_finish(struct geo_cuts *cuts)
{
	free(cuts->stops);
	free(cuts->of_foot);
	free(cuts->marks);
	*cuts = (struct geo_cuts){0};
}

uint32_t geo_cuts_first(const struct geo_cuts *cuts, uint32_t half_edge)
{
	uint32_t low = 0, high = cuts->count;
	while (low < high) {
		uint32_t middle = low + (high - low) / 2;
		if (cuts->stops[middle].half_edge < half_edge)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}
