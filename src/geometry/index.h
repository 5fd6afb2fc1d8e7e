/*
 * index.h - finds the segments near a place, at a cost that follows the local density.
 *
 * A static index over numbered segments. Long segments are entered piece by piece along their
 * course, never by their bounding box, and crowded regions are divided further, so that neither a
 * tiny dense motif on a large sheet nor a fan of long lines makes it slow.
 */
#ifndef GEOMETRY_INDEX_H
#define GEOMETRY_INDEX_H

#include <stdbool.h>
#include <stdint.h>

#include "geometry/lines.h"

/* A segment given by its ends; the owner's number for it is its place in the array. */
struct geo_segment {
	struct cutlint_point from, to;
};

struct geo_index;

/* Borrows `segments`. NULL where memory ran out. */
struct geo_index *geo_index_create(const struct geo_segment *segments, uint32_t count);
void geo_index_destroy(struct geo_index *index);

/*
 * Calls `visit` for every segment that comes within the closed box, and possibly for some that do
 * not; a segment may be visited more than once. Stops when `visit` returns false.
 */
typedef bool geo_visit(void *user, uint32_t segment);
void geo_index_box(const struct geo_index *index, double left, double top, double right,
		   double bottom, geo_visit *visit, void *user);

/*
 * The same for the square of side 2 × apart round a place, if it lies within one cell, as most
 * small ones do: its segments, *count of them, in one look and without a call for each. False where
 * it lies in several, or near the edge.
 */
bool geo_index_cell(const struct geo_index *index, struct geo_vector at, double apart,
		    const uint32_t **segments, uint32_t *count);

/*
 * Visits cells in order of distance from `at`, so that a search for the nearest can stop: `visit`
 * gets each segment of a cell and `*reach`, the distance up to which the search still goes, which
 * it may lower. A segment may be visited more than once.
 */
typedef void geo_visit_near(void *user, uint32_t segment, double *reach);
void geo_index_near(const struct geo_index *index, struct geo_vector at, double reach,
		    geo_visit_near *visit, void *user);

/* As geo_index_box, for every segment that comes within `apart` of the line from `from` to `to`. */
void geo_index_band(const struct geo_index *index, struct geo_vector from, struct geo_vector to,
		    double apart, geo_visit *visit, void *user);

/*
 * The places that lie from `apex` at most 45° off one axis: with `along` the distance on that axis
 * (y if steep, else x; towards lesser values if `back`), those whose other coordinate is
 * apex + s × along with s from `low` to `high`, -1 to 1.
 */
struct geo_cone {
	struct geo_vector apex;
	bool steep, back;
	double low, high;
};

/* The segments of one cell, and the distance up to which the search still goes; see below. */
typedef void geo_visit_run(void *user, const uint32_t *segments, uint32_t count, double *reach);

/*
 * Visits the cells that a cone passes in order of the distance along its axis; `*reach` bounds that
 * distance. A cell in which no segment has one of `flags` is left out, but only the first few.
 */
void geo_index_cone(const struct geo_index *index, const struct geo_cone *cone, double reach,
		    uint64_t flags, geo_visit_run *visit, void *user);

/* For `flags` where all cells are wanted; needs no geo_index_flag before. */
#define GEO_ALL UINT64_MAX

/*
 * Gives each segment flags of the owner's own: one number a segment, which is not kept. 0, or -1
 * where memory ran out.
 */
int geo_index_flag(struct geo_index *index, const uint64_t *flags);
void geo_index_unflag(struct geo_index *index);

/*
 * Calls `visit` for each pair of segments that share a cell, lower number first; a pair may come
 * more than once, and pairs whose boxes are apart are left out. Stops when `visit` returns false.
 */
typedef bool geo_visit_pair(void *user, uint32_t a, uint32_t b);
bool geo_index_pairs(const struct geo_index *index, geo_visit_pair *visit, void *user);

#endif
