/* edges.h - where colours meet in a picture, in pixels and their parts. */
#ifndef TESTS_PROOF_EDGES_H
#define TESTS_PROOF_EDGES_H

#include "pixels.h"

/* How much a colour differs from another: the sum over red, green and blue. */
double edges_difference(uint32_t a, uint32_t b);

/* A row, or a column. */
struct edges_line {
	const struct pixels *pixels;
	int across; /* the row's number from the top, or the column's from the left */
	bool along_column;
};

/* Where two colours meet between two pixels, either way: their shares of one pixel tell. */
double edges_where(const struct edges_line *line, int from, int to, uint32_t before,
		   uint32_t after);

/* The middle of the dark line between two colours, to half a pixel. */
double edges_border(const struct edges_line *line, int from, int to, uint32_t before,
		    uint32_t after);

/* Columns and rows, from the first to before the last. */
struct edges_block {
	int left, top, right, bottom;
};

/* The column in the middle of what differs from `ground` in a block. */
double edges_middle(const struct pixels *pixels, const struct edges_block *block, uint32_t ground);

#endif
