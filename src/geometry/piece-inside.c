/*
 * A level line through a piece, between the heights of two of its corners, crosses its boundary
 * only in the midst of stretches: the middle of the widest part of the line within the piece.
 */
#include "geometry/piece-inside.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/least.h"

/* How far outside all that is drawn the point of the piece without bounds lies: 1 mm. */
#define OUTSIDE 1e6

struct line {
	double low, high;   /* of the loop round the piece */
	double under, over; /* the nearest corners' heights below and above the middle */
	double y;
	double *crossings;
	uint32_t count, capacity;
	bool failed; /* memory ran out */
};

static void take_corner(void *user, struct geo_vector from, struct geo_vector to)
{
	struct line *line = user;
	(void)to;
	if (from.y <= line->y)
		line->under = geo_greater(line->under, from.y);
	else
		line->over = geo_lesser(line->over, from.y);
}

static void take_crossing(void *user, struct geo_vector from, struct geo_vector to)
{
	struct line *line = user;
	if ((from.y > line->y) == (to.y > line->y) || line->failed)
		return;
	if (line->count == line->capacity) {
		uint32_t capacity = line->capacity * 2 + 64;
		double *crossings = realloc(line->crossings, capacity * sizeof(*crossings));
		if (!crossings) {
			line->failed = true;
			return;
		}
		line->crossings = crossings;
		line->capacity = capacity;
	}
	line->crossings[line->count++] =
		from.x + (line->y - from.y) / (to.y - from.y) * (to.x - from.x);
}

static int by_size(const void *a, const void *b)
{
	double left = *(const double *)a, right = *(const double *)b;
	return (left > right) - (left < right);
}

static double widest_middle(struct line *line)
{
	if (line->count)
		qsort(line->crossings, line->count, sizeof(*line->crossings), by_size);
	double width = -1, middle = 0;
	for (uint32_t i = 0; i + 1 < line->count; i += 2) {
		double from = line->crossings[i], to = line->crossings[i + 1];
		if (to - from <= width)
			continue;
		width = to - from;
		middle = from + width / 2;
	}
	return middle;
}

/* Of a loop all above or all below the middle, the corner nearest to it is known. */
static void take_corners(const struct geo_loops *loops, uint32_t number, struct line *line)
{
	const struct geo_loop *loop = &loops->loops[number];
	if (loop->low > line->y)
		line->over = geo_lesser(line->over, loop->low);
	else if (loop->high <= line->y)
		line->under = geo_greater(line->under, loop->high);
	else
		geo_loop_each(loops, number, take_corner, line);
}

/* The piece of these loops, the one round it among them. */
static struct geo_vector point_inside(const struct geo_loops *loops, const uint32_t *members,
				      uint32_t count, struct line *line)
{
	line->low = line->over = INFINITY;
	line->high = line->under = -INFINITY;
	line->count = 0;
	for (uint32_t i = 0; i < count; i++) {
		const struct geo_loop *loop = &loops->loops[members[i]];
		if (loop->rim)
			continue;
		line->low = geo_lesser(line->low, loop->low);
		line->high = geo_greater(line->high, loop->high);
	}
	line->y = line->low + (line->high - line->low) / 2;
	for (uint32_t i = 0; i < count; i++)
		take_corners(loops, members[i], line);
	line->y = line->under + (line->over - line->under) / 2;
	for (uint32_t i = 0; i < count; i++)
		if (loops->loops[members[i]].low <= line->y &&
		    loops->loops[members[i]].high > line->y)
			geo_loop_each(loops, members[i], take_crossing, line);
	return (struct geo_vector){widest_middle(line), line->y};
}

static struct geo_vector point_outside(const struct geo_arrangement *arrangement)
{
	struct geo_vector at = {OUTSIDE, 0};
	for (uint32_t node = 0; node < arrangement->node_count; node++)
		at.x = fmin(at.x, arrangement->nodes[node].x);
	at.x -= OUTSIDE;
	return at;
}

/* The loops grouped by piece; firsts[p] to firsts[p + 1] are those of piece p. */
static uint32_t *group_loops(const struct geo_loops *loops, uint32_t *firsts, uint32_t piece_count)
{
	uint32_t *members = malloc(loops->loop_count * sizeof(*members) + 1);
	if (!members)
		return NULL;
	for (uint32_t loop = 0; loop < loops->loop_count; loop++)
		firsts[loops->loops[loop].piece + 2]++;
	for (uint32_t piece = 0; piece < piece_count; piece++)
		firsts[piece + 2] += firsts[piece + 1];
	for (uint32_t loop = 0; loop < loops->loop_count; loop++)
		members[firsts[loops->loops[loop].piece + 1]++] = loop;
	return members;
}

int geo_pieces_fill(struct geo_pieces *pieces, const struct geo_loops *loops)
{
	struct line line = {0};
	uint32_t *firsts = calloc((size_t)pieces->count + 2, sizeof(*firsts));
	uint32_t *members = firsts ? group_loops(loops, firsts, pieces->count) : NULL;
	for (uint32_t piece = 1; members && piece < pieces->count && !line.failed; piece++)
		pieces->items[piece].inside = point_inside(
			loops, members + firsts[piece], firsts[piece + 1] - firsts[piece], &line);
	if (pieces->count)
		pieces->items[0].inside = point_outside(loops->arrangement);
	int status = members && !line.failed ? 0 : -1;
	free(line.crossings);
	free(members);
	free(firsts);
	return status;
}
