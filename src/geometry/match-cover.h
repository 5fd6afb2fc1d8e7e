/* match-cover.h - the parts of a chain that are known to lie on another line. */
#ifndef GEOMETRY_MATCH_COVER_H
#define GEOMETRY_MATCH_COVER_H

#include <stddef.h>

struct geo_interval {
	double from, to;
};

/* Ascending, apart from each other. Start from {0}; free the items. */
struct geo_cover {
	struct geo_interval *items;
	size_t count, capacity;
};

/* 0, or -1 where memory ran out. */
int geo_cover_add(struct geo_cover *cover, double from, double to);

/* The longest part of an interval that nothing covers; from == to where all is covered. */
struct geo_interval geo_cover_gap(const struct geo_cover *cover, double from, double to);

#endif
