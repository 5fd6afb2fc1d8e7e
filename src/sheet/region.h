/* region.h - polygons in mm: what a card is bounded by. */
#ifndef SHEET_REGION_H
#define SHEET_REGION_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "cutlint/box.h"

/* A closed polygon, its first point not repeated. */
struct region {
	struct cutlint_xy *points;
	uint32_t count;
};

/* Its area in mm², whatever its direction: the shoelace formula. */
double region_area(const struct region *region);

struct cutlint_box region_box(const struct region *region);

/* Even-odd. */
bool region_contains(const struct region *region, struct cutlint_xy at);

/* A point inside it: in the middle of the widest stretch half way down its box. */
struct cutlint_xy region_inside(const struct region *region);

/*
 * The part of a region on one side of the line through `from` and `to`, by clipping against a
 * half-plane (I. E. Sutherland and G. W. Hodgman, "Reentrant polygon clipping", CACM 17, 1974). Of
 * a region that is not convex it may join pieces by sides along the line, which have no area.
 * Left is as seen on the screen, walking from `from` to `to`. Returns 0, or -1 without memory.
 */
int region_clip(struct arena *arena, const struct region *region, struct cutlint_xy from,
		struct cutlint_xy to, bool left, struct region *out);

/*
 * The stretch of the line through `from` and `to` that lies in the region and holds the middle
 * between them, as distances in mm from `from`. False if the middle lies outside.
 */
bool region_stretch(const struct region *region, struct cutlint_xy from, struct cutlint_xy to,
		    double *enters, double *leaves);

/* How far a point lies left of the line from `from` to `to` as seen on the screen, in mm. */
double region_left_of(struct cutlint_xy from, struct cutlint_xy to, struct cutlint_xy at);

#endif
