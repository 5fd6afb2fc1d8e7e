/* box.h - boxes of points in whole nm. A box holds its edges. */
#ifndef GEOMETRY_BOX_H
#define GEOMETRY_BOX_H

#include <stdbool.h>
#include <stdint.h>

#include "geometry/lines.h"

struct geo_box {
	int32_t left, low, right, high; /* x from left to right, y from low to high */
};

/* Of a segment by its ends. */
static inline struct geo_box geo_box_of(struct cutlint_point a, struct cutlint_point b)
{
	return (struct geo_box){a.x < b.x ? a.x : b.x, a.y < b.y ? a.y : b.y, a.x < b.x ? b.x : a.x,
				a.y < b.y ? b.y : a.y};
}

/* Widens a box so that it holds another one. */
static inline void geo_box_join(struct geo_box *box, struct geo_box by)
{
	box->left = by.left < box->left ? by.left : box->left;
	box->low = by.low < box->low ? by.low : box->low;
	box->right = by.right > box->right ? by.right : box->right;
	box->high = by.high > box->high ? by.high : box->high;
}

static inline bool geo_boxes_meet(const struct geo_box *a, const struct geo_box *b)
{
	return a->left <= b->right && b->left <= a->right && a->low <= b->high && b->low <= a->high;
}

/* Whether a segment's box holds a place; it need not be made for that. */
static inline bool geo_boxed_by(struct cutlint_point a, struct cutlint_point b,
				struct cutlint_point at)
{
	return (a.x <= at.x || b.x <= at.x) && (a.x >= at.x || b.x >= at.x) &&
	       (a.y <= at.y || b.y <= at.y) && (a.y >= at.y || b.y >= at.y);
}

static inline bool geo_box_holds(struct geo_box box, struct cutlint_point at)
{
	return box.left <= at.x && at.x <= box.right && box.low <= at.y && at.y <= box.high;
}

#endif
