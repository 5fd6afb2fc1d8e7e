#include "edges.h"

#include <math.h>

#include "unit.h"

double edges_difference(uint32_t a, uint32_t b)
{
	double sum = 0;
	for (int shift = 0; shift < 24; shift += 8)
		sum += fabs((double)(a >> shift & 0xff) - (double)(b >> shift & 0xff));
	return sum;
}

static uint32_t on(const struct edges_line *line, int at)
{
	return line->along_column ? pixels_at(line->pixels, line->across, at)
				  : pixels_at(line->pixels, at, line->across);
}

/* The first pixel on the way from one to another, either way, that has no more this colour. */
static int leaving(const struct edges_line *line, int from, int to, uint32_t colour)
{
	int step = from < to ? 1 : -1, at = from;
	while (at != to && on(line, at) == colour)
		at += step;
	assert_true(at != from && at != to);
	return at;
}

double edges_where(const struct edges_line *line, int from, int to, uint32_t before, uint32_t after)
{
	int at = leaving(line, from, to, before);
	double share = edges_difference(on(line, at), before) / edges_difference(after, before);
	return from < to ? at + 1 - fmin(1, share) : at + fmin(1, share);
}

double edges_border(const struct edges_line *line, int from, int to, uint32_t before,
		    uint32_t after)
{
	return (leaving(line, from, to, before) + leaving(line, to, from, after) + 1) / 2.0;
}

double edges_middle(const struct pixels *pixels, const struct edges_block *block, uint32_t ground)
{
	double sum = 0, moment = 0;
	for (int y = block->top; y < block->bottom; y++) {
		for (int x = block->left; x < block->right; x++) {
			double weight = edges_difference(pixels_at(pixels, x, y), ground);
			sum += weight;
			moment += weight * (x + 0.5);
		}
	}
	assert_true(sum > 0);
	return moment / sum;
}
