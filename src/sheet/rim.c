#include "sheet/rim.h"

#include <math.h>
#include <stdlib.h>

#include "sheet/xy.h"

static const double PI = 3.14159265358979323846;

static int grow(struct rim *rim)
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
	uint32_t before = rim_before(rim, i), after = rim_next(rim, i);
	if (rim->halves[before] == (rim->halves[i] ^ 1))
		return -PI;
	struct cutlint_xy in = xy_minus(rim->points[i], rim->points[before]);
	struct cutlint_xy out = xy_minus(rim->points[after], rim->points[i]);
	return atan2(in.x * out.y - in.y * out.x, xy_dot(in, out));
}

int rim_load(struct rim *rim, const struct geo_arrangement *arrangement, uint32_t start)
{
	uint32_t half = start;
	rim->count = 0;
	do {
		if (rim->count == rim->capacity && grow(rim) != 0)
			return -1;
		rim->halves[rim->count] = half;
		rim->points[rim->count++] =
			cutlint_point_mm(arrangement->nodes[geo_half_edge_from(arrangement, half)]);
		half = arrangement->next[half];
	} while (half != start);
	rim->way[0] = 0;
	for (uint32_t i = 0; i < rim->count; i++) {
		struct cutlint_xy next = rim->points[rim_next(rim, i)];
		rim->way[i + 1] = rim->way[i] + xy_distance(rim->points[i], next);
		rim->turn[i] = turn_at(rim, i);
	}
	return 0;
}

void rim_finish(struct rim *rim)
{
	free(rim->halves);
	free(rim->points);
	free(rim->way);
	free(rim->turn);
}

struct cutlint_xy rim_place(const struct rim *rim, double way, uint32_t *half)
{
	double trip = rim_trip(rim);
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
	struct cutlint_xy b = rim->points[rim_next(rim, low)];
	double length = rim->way[low + 1] - rim->way[low];
	double t = length > 0 ? fmin(1, fmax(0, (way - rim->way[low]) / length)) : 0;
	*half = rim->halves[low];
	return (struct cutlint_xy){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}
