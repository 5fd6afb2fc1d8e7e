/* box.h - upright boxes: empty ones, their growth, and what they hold. */
#ifndef CUTLINT_BOX_H
#define CUTLINT_BOX_H

#include <math.h>
#include <stdbool.h>

#include "cutlint/point.h"

/* A box that holds nothing, to be grown. */
static inline struct cutlint_box cutlint_box_empty(void)
{
	return (struct cutlint_box){INFINITY, INFINITY, -INFINITY, -INFINITY};
}

/* Grows a box so that it holds another one, too. */
static inline void cutlint_box_join(struct cutlint_box *box, struct cutlint_box other)
{
	box->left = fmin(box->left, other.left);
	box->top = fmin(box->top, other.top);
	box->right = fmax(box->right, other.right);
	box->bottom = fmax(box->bottom, other.bottom);
}

/* Grows a box so that it holds a place, too. */
static inline void cutlint_box_add(struct cutlint_box *box, struct cutlint_xy at)
{
	cutlint_box_join(box, (struct cutlint_box){at.x, at.y, at.x, at.y});
}

static inline struct cutlint_xy cutlint_box_middle(struct cutlint_box box)
{
	return (struct cutlint_xy){(box.left + box.right) / 2, (box.top + box.bottom) / 2};
}

/* Its edges belong to it. */
static inline bool cutlint_box_contains(struct cutlint_box box, struct cutlint_xy at)
{
	return at.x >= box.left && at.x <= box.right && at.y >= box.top && at.y <= box.bottom;
}

#endif
