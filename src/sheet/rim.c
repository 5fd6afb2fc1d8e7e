#include "sheet/rim.h"

#include <math.h>
#include <stdbool.h>
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

/* The ways into a point and out of it. */
struct corner {
	struct cutlint_xy in, out;
};

static struct corner corner_at(const struct rim *rim, uint32_t i)
{
	return (struct corner){xy_minus(rim->points[i], rim->points[rim_before(rim, i)]),
			       xy_minus(rim->points[rim_next(rim, i)], rim->points[i])};
}

static bool is_end_of_line(const struct rim *rim, uint32_t i)
{
	return rim->halves[rim_before(rim, i)] == (rim->halves[i] ^ 1);
}

/* Round the end of an open line the face goes all the way, outwards. */
double rim_turn(struct rim *rim, uint32_t i)
{
	if (!isnan(rim->turn[i]))
		return rim->turn[i];
	struct corner at = corner_at(rim, i);
	rim->turn[i] = is_end_of_line(rim, i)
			       ? -PI
			       : atan2(xy_cross(at.in, at.out), xy_dot(at.in, at.out));
	return rim->turn[i];
}

bool rim_is_convex(const struct rim *rim, uint32_t i)
{
	struct corner at = corner_at(rim, i);
	double sine = xy_cross(at.in, at.out);
	if (sine < 0 || is_end_of_line(rim, i))
		return false;
	return sine > 0 || xy_dot(at.in, at.out) < 0;
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
		rim->turn[i] = NAN;
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

static double in_trip(const struct rim *rim, double way)
{
	double trip = rim_trip(rim);
	return way < 0 ? way + trip : way >= trip ? way - trip : way;
}

/* The place on the side that starts at a point. */
static struct cutlint_xy place_on(const struct rim *rim, uint32_t point, double way, uint32_t *half)
{
	struct cutlint_xy a = rim->points[point];
	struct cutlint_xy b = rim->points[rim_next(rim, point)];
	double length = rim_side(rim, point);
	double t = length > 0 ? fmin(1, fmax(0, (way - rim->way[point]) / length)) : 0;
	*half = rim->halves[point];
	return (struct cutlint_xy){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

/* The last point that is not beyond the way. */
static uint32_t point_before(const struct rim *rim, double way)
{
	uint32_t low = 0, high = rim->count;
	while (high - low > 1) {
		uint32_t middle = low + (high - low) / 2;
		if (rim->way[middle] <= way)
			low = middle;
		else
			high = middle;
	}
	return low;
}

static bool is_before(const struct rim *rim, uint32_t point, double way)
{
	return (point == 0 || rim->way[point] <= way) &&
	       (point + 1 == rim->count || rim->way[point + 1] > way);
}

struct cutlint_xy rim_place(const struct rim *rim, double way, uint32_t *point, uint32_t *half)
{
	way = in_trip(rim, way);
	uint32_t near[] = {*point, rim_next(rim, *point), rim_before(rim, *point)};
	for (int i = 0; i < 3; i++) {
		*point = near[i];
		if (is_before(rim, *point, way))
			return place_on(rim, *point, way, half);
	}
	*point = point_before(rim, way);
	return place_on(rim, *point, way, half);
}
