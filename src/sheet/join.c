#include <math.h>
#include <stdlib.h>

#include "sheet/loop.h"
#include "sheet/sets.h"

/* A point with its cell. Two points of one cell are always within reach of each other. */
struct seat {
	int64_t column, row;
	struct cutlint_point at;
	uint32_t point;
};

static int compare_cells(const struct seat *a, const struct seat *b)
{
	if (a->column != b->column)
		return a->column < b->column ? -1 : 1;
	if (a->row != b->row)
		return a->row < b->row ? -1 : 1;
	return 0;
}

static int compare_seats(const void *left, const void *right)
{
	const struct seat *a = left, *b = right;
	int cells = compare_cells(a, b);
	if (cells)
		return cells;
	if (a->at.x != b->at.x)
		return a->at.x < b->at.x ? -1 : 1;
	if (a->at.y != b->at.y)
		return a->at.y < b->at.y ? -1 : 1;
	return a->point < b->point ? -1 : a->point > b->point;
}

/* The first seat of a cell, or of the next one. */
static uint32_t cell_start(const struct seat *seats, uint32_t count, int64_t column, int64_t row)
{
	struct seat wanted = {.column = column, .row = row};
	uint32_t low = 0, high = count;
	while (low < high) {
		uint32_t middle = low + (high - low) / 2;
		if (compare_cells(&seats[middle], &wanted) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

static uint32_t cell_end(const struct seat *seats, uint32_t count, uint32_t start)
{
	uint32_t end = start;
	while (end < count && compare_cells(&seats[end], &seats[start]) == 0)
		end++;
	return end;
}

static bool within(const struct seat *a, const struct seat *b, double reach)
{
	return hypot((double)a->at.x - b->at.x, (double)a->at.y - b->at.y) <= reach;
}

/* Whether any seat of one cell is within reach of one of another; equal points are tried once. */
static bool cells_touch(const struct seat *a, uint32_t a_count, const struct seat *b,
			uint32_t b_count, double reach)
{
	for (uint32_t i = 0; i < a_count; i++) {
		if (i && a[i].at.x == a[i - 1].at.x && a[i].at.y == a[i - 1].at.y)
			continue;
		for (uint32_t j = 0; j < b_count; j++) {
			if (within(&a[i], &b[j], reach))
				return true;
		}
	}
	return false;
}

static void join_neighbours(const struct seat *seats, uint32_t count, uint32_t start, uint32_t end,
			    double reach, uint32_t *sets)
{
	for (int64_t column = 0; column <= 2; column++) {
		for (int64_t row = column ? -2 : 1; row <= 2; row++) {
			uint32_t other = cell_start(seats, count, seats[start].column + column,
						    seats[start].row + row);
			struct seat wanted = {.column = seats[start].column + column,
					      .row = seats[start].row + row};
			if (other == count || compare_cells(&seats[other], &wanted) != 0 ||
			    sets_find(sets, seats[start].point) ==
				    sets_find(sets, seats[other].point))
				continue;
			uint32_t other_end = cell_end(seats, count, other);
			if (cells_touch(seats + start, end - start, seats + other,
					other_end - other, reach))
				sets_join(sets, seats[start].point, seats[other].point);
		}
	}
}

uint32_t *sheet_join_points(struct arena *arena, const struct cutlint_point *points, uint32_t count,
			    double reach)
{
	struct seat *seats = ARENA_ARRAY(arena, struct seat, (size_t)count + 1);
	uint32_t *sets = sets_create(arena, count);
	if (!seats || !sets)
		return NULL;

	/* A cell's diagonal is the reach; cells of one nanometre hold equal points only. */
	double cell = fmax(1, reach / sqrt(2));
	for (uint32_t i = 0; i < count; i++)
		seats[i] = (struct seat){(int64_t)floor(points[i].x / cell),
					 (int64_t)floor(points[i].y / cell), points[i], i};
	qsort(seats, count, sizeof *seats, compare_seats);
	for (uint32_t start = 0, end; start < count; start = end) {
		end = cell_end(seats, count, start);
		for (uint32_t i = start + 1; i < end; i++)
			sets_join(sets, seats[start].point, seats[i].point);
	}
	for (uint32_t start = 0, end; start < count; start = end) {
		end = cell_end(seats, count, start);
		join_neighbours(seats, count, start, end, reach, sets);
	}
	for (uint32_t i = 0; i < count; i++)
		sets[i] = sets_find(sets, i);
	return sets;
}
