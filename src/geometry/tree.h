/*
 * tree.h - finds the segments nearest to a segment, however far they are.
 *
 * A packed tree of boxes over numbered segments in the order of a Hilbert curve (I. Kamel and C.
 * Faloutsos, On Packing R-trees, CIKM 1993). The index of index.h walks cells ring by ring, so that
 * a search over a wide empty space costs the square of its width; here it costs the logarithm of
 * the count, also among long segments side by side. Takes 16 bytes a segment, and 32 while it is
 * made.
 */
#ifndef GEOMETRY_TREE_H
#define GEOMETRY_TREE_H

#include "geometry/index.h"

struct geo_tree;

/* Borrows `segments`. NULL where memory ran out. */
struct geo_tree *geo_tree_create(const struct geo_segment *segments, uint32_t count);
void geo_tree_destroy(struct geo_tree *tree);

/*
 * Visits every segment that comes within `reach` of the line from `from` to `to`, which may be one
 * point, and possibly others, what is likely nearest first: `visit` may lower `*reach`.
 */
void geo_tree_near(const struct geo_tree *tree, struct geo_vector from, struct geo_vector to,
		   double reach, geo_visit_near *visit, void *user);

#endif
