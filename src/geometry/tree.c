#include "geometry/tree.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/box.h"
#include "geometry/least.h"

/* More than the rounding of a distance in nm. */
#define SLACK 1

/* Segments under a box of the lowest level, and boxes under each of a higher one. */
enum { FAN = 4, LEVELS_MOST = 17 };

/*
 * All that lies under a box lies between two lines along its segments' common direction: low <=
 * across · place <= high. Of long segments side by side the boxes overlap, but not the slabs.
 */
struct slab {
	float across_x, across_y; /* square to the direction, of length 1 */
	float low, high;
};

/* More than what numbers of a slab lose, in nm: 2^-23 of 2^32, and the same again. */
#define SLAB_SLACK 1024

struct geo_tree {
	const struct geo_segment *segments;
	uint32_t *order; /* the segments' numbers along the curve */
	uint32_t count;
	struct geo_box *boxes;        /* level by level, the lowest first */
	struct slab *slabs;           /* of each box */
	uint32_t first[LEVELS_MOST];  /* of each level: into boxes */
	uint32_t counts[LEVELS_MOST]; /* of each level: its boxes */
	uint32_t level_count;
};

static struct geo_box box_of(const struct geo_segment *segment)
{
	return geo_box_of(segment->from, segment->to);
}

static struct geo_box box_of_all(const struct geo_tree *tree)
{
	struct geo_box all = {0, 0, 0, 0};
	for (uint32_t i = 0; i < tree->count; i++) {
		struct geo_box box = box_of(&tree->segments[i]);
		if (i == 0)
			all = box;
		else
			geo_box_join(&all, box);
	}
	return all;
}

/* A segment's place along the curve. */
struct keyed {
	uint32_t key, number;
};

/* Places along each axis that the curve tells apart; what shares one keeps the order it has. */
enum { CURVE_BITS = 16 };

/* How far along a Hilbert curve a place lies: quadrant by quadrant, each turned in its own way. */
static uint32_t along_curve(uint32_t x, uint32_t y)
{
	uint32_t along = 0;
	for (uint32_t bit = UINT32_C(1) << (CURVE_BITS - 1); bit > 0; bit >>= 1) {
		bool right = (x & bit) != 0, low = (y & bit) != 0;
		along = 4 * along + (right ? (low ? 2 : 3) : (low ? 1 : 0));
		if (low)
			continue;
		if (right) {
			x = ~x;
			y = ~y;
		}
		uint32_t swapped = x;
		x = y;
		y = swapped;
	}
	return along;
}

static int compare_keys(const void *left, const void *right)
{
	const struct keyed *a = left, *b = right;
	if (a->key != b->key)
		return a->key < b->key ? -1 : 1;
	return a->number < b->number ? -1 : a->number > b->number;
}

/* The place of a middle between two places among those from `least` on. */
static uint32_t place_on_axis(int32_t a, int32_t b, int32_t least, double scale)
{
	return (uint32_t)((((double)a + b) / 2 - least) * scale);
}

static int sort(struct geo_tree *tree, const struct geo_box *all)
{
	double wide = (double)all->right - all->left, high = (double)all->high - all->low;
	double scale = ((1 << CURVE_BITS) - 1) / geo_greater(1, geo_greater(wide, high));
	struct keyed *keyed = malloc(((size_t)tree->count + 1) * sizeof(*keyed));
	if (!keyed)
		return -1;
	for (uint32_t i = 0; i < tree->count; i++) {
		const struct geo_segment *segment = &tree->segments[i];
		keyed[i].number = i;
		keyed[i].key =
			along_curve(place_on_axis(segment->from.x, segment->to.x, all->left, scale),
				    place_on_axis(segment->from.y, segment->to.y, all->low, scale));
	}
	qsort(keyed, tree->count, sizeof(*keyed), compare_keys);
	for (uint32_t i = 0; i < tree->count; i++)
		tree->order[i] = keyed[i].number;
	free(keyed);
	return 0;
}

static void fill_lowest(struct geo_tree *tree)
{
	for (uint32_t i = 0; i < tree->count; i++) {
		struct geo_box box = box_of(&tree->segments[tree->order[i]]);
		if (i % FAN == 0)
			tree->boxes[i / FAN] = box;
		else
			geo_box_join(&tree->boxes[i / FAN], box);
	}
}

static void fill(struct geo_tree *tree, uint32_t level)
{
	const struct geo_box *below = &tree->boxes[tree->first[level - 1]];
	struct geo_box *boxes = &tree->boxes[tree->first[level]];
	for (uint32_t i = 0; i < tree->counts[level - 1]; i++) {
		if (i % FAN == 0)
			boxes[i / FAN] = below[i];
		else
			geo_box_join(&boxes[i / FAN], below[i]);
	}
}

/* Turns a sum of vectors with doubled angles, so that opposite ones are alike, into a direction. */
static void set_across(struct slab *slab, double x, double y)
{
	double angle = atan2(y, x) / 2;
	slab->across_x = (float)-sin(angle);
	slab->across_y = (float)cos(angle);
}

static void direct_lowest(struct geo_tree *tree, uint32_t box)
{
	double x = 0, y = 0;
	for (uint32_t i = box * FAN; i < tree->count && i < (box + 1) * FAN; i++) {
		const struct geo_segment *s = &tree->segments[tree->order[i]];
		double dx = (double)s->to.x - s->from.x, dy = (double)s->to.y - s->from.y;
		double length2 = dx * dx + dy * dy;
		if (length2 == 0)
			continue;
		x += (dx * dx - dy * dy) / sqrt(length2);
		y += 2 * dx * dy / sqrt(length2);
	}
	set_across(&tree->slabs[box], x, y);
}

static void direct(struct geo_tree *tree, uint32_t level, uint32_t box)
{
	const struct slab *below = &tree->slabs[tree->first[level - 1]];
	double x = 0, y = 0;
	for (uint32_t i = box * FAN; i < tree->counts[level - 1] && i < (box + 1) * FAN; i++) {
		double ax = below[i].across_x, ay = below[i].across_y;
		x += ay * ay - ax * ax;
		y -= 2 * ax * ay;
	}
	set_across(&tree->slabs[tree->first[level] + box], x, y);
}

static double project(const struct slab *slab, double x, double y)
{
	return slab->across_x * x + slab->across_y * y;
}

/* From all segments under the box; `under` of them at most. */
static void bound_slab(struct geo_tree *tree, struct slab *slab, uint64_t first, uint64_t under)
{
	double low = INFINITY, high = -INFINITY;
	for (uint64_t i = first; i < tree->count && i - first < under; i++) {
		const struct geo_segment *s = &tree->segments[tree->order[i]];
		double a = project(slab, s->from.x, s->from.y), b = project(slab, s->to.x, s->to.y);
		low = geo_lesser(low, geo_lesser(a, b));
		high = geo_greater(high, geo_greater(a, b));
	}
	slab->low = (float)(low - SLAB_SLACK);
	slab->high = (float)(high + SLAB_SLACK);
}

static void fill_slabs(struct geo_tree *tree)
{
	uint64_t under = FAN;
	for (uint32_t level = 0; level < tree->level_count; level++) {
		for (uint32_t i = 0; i < tree->counts[level]; i++) {
			if (level == 0)
				direct_lowest(tree, i);
			else
				direct(tree, level, i);
			bound_slab(tree, &tree->slabs[tree->first[level] + i], i * under, under);
		}
		under *= FAN;
	}
}

/* Returns how many boxes there are on all levels. */
static uint32_t lay_out(struct geo_tree *tree)
{
	uint32_t total = 0, below = tree->count;
	do {
		uint32_t count = below / FAN + (below % FAN > 0 ? 1 : 0);
		tree->first[tree->level_count] = total;
		tree->counts[tree->level_count++] = count;
		total += count;
		below = count;
	} while (below > 1);
	return total;
}

static int build(struct geo_tree *tree)
{
	uint32_t total = lay_out(tree);
	tree->order = malloc(((size_t)tree->count + 1) * sizeof(*tree->order));
	tree->boxes = malloc(((size_t)total + 1) * sizeof(*tree->boxes));
	const struct geo_box all = box_of_all(tree);
	tree->slabs = malloc(((size_t)total + 1) * sizeof(*tree->slabs));
	if (!tree->order || !tree->boxes || !tree->slabs || sort(tree, &all) < 0)
		return -1;
	fill_lowest(tree);
	for (uint32_t level = 1; level < tree->level_count; level++)
		fill(tree, level);
	fill_slabs(tree);
	return 0;
}

struct geo_tree *geo_tree_create(const struct geo_segment *segments, uint32_t count)
{
	struct geo_tree *tree = calloc(1, sizeof(*tree));
	if (!tree)
		return NULL;
	tree->segments = segments;
	tree->count = count;
	if (build(tree) == 0)
		return tree;
	geo_tree_destroy(tree);
	return NULL;
}

void geo_tree_destroy(struct geo_tree *tree)
{
	if (!tree)
		return;
	free(tree->order);
	free(tree->boxes);
	free(tree->slabs);
	free(tree);
}

struct near {
	const struct geo_tree *tree;
	double left, top, right, bottom; /* of the line */
	struct geo_vector from, to;
	double across, down; /* the line's direction, of length 1; 0 and 0 for a point */
	double reach;
	geo_visit_near *visit;
	void *user;
};

/* At least how far what is under a box is from the line: as far as their boxes, as the box on one
 * side of the line, and as the line on one side of the box's slab. */
static double distance(const struct near *near, uint32_t number)
{
	const struct geo_box *box = &near->tree->boxes[number];
	const struct slab *slab = &near->tree->slabs[number];
	double x = geo_apart(near->left, near->right, box->left, box->right);
	double y = geo_apart(near->top, near->bottom, box->low, box->high);
	double apart = sqrt(x * x + y * y);
	double wide = (double)box->right - box->left, high = (double)box->high - box->low;
	double off = near->across * (box->low + high / 2 - near->from.y) -
		     near->down * (box->left + wide / 2 - near->from.x);
	double half = (fabs(near->across) * high + fabs(near->down) * wide) / 2;
	double beside = geo_apart(slab->low, slab->high, project(slab, near->from.x, near->from.y),
				  project(slab, near->to.x, near->to.y));
	return geo_greater(geo_greater(apart, fabs(off) - half), beside);
}

static void visit_segments(struct near *near, uint32_t box)
{
	const struct geo_tree *tree = near->tree;
	uint32_t first = box * FAN;
	uint32_t end = tree->count - first < FAN ? tree->count : first + FAN;
	for (uint32_t i = first; i < end; i++)
		near->visit(near->user, tree->order[i], &near->reach);
}

/* A box that is still to be looked into. */
struct ahead {
	double distance;
	uint32_t box;
};

/* Puts the boxes under one box in order, the nearest first. Returns how many. */
static uint32_t boxes_under(const struct near *near, uint32_t level, uint32_t box,
			    struct ahead ahead[FAN])
{
	const struct geo_tree *tree = near->tree;
	uint32_t first = box * FAN, left = tree->counts[level - 1] - first;
	uint32_t count = left < FAN ? left : FAN;
	for (uint32_t i = 0; i < count; i++) {
		uint32_t under = first + i, k = i;
		double apart = distance(near, tree->first[level - 1] + under);
		for (; k > 0 && ahead[k - 1].distance > apart; k--)
			ahead[k] = ahead[k - 1];
		ahead[k] = (struct ahead){apart, under};
	}
	return count;
}

/* There are at most LEVELS_MOST levels, so the calls go no deeper. */
static void look_into(struct near *near, uint32_t level, uint32_t box)
{
	if (level == 0) {
		visit_segments(near, box);
		return;
	}
	struct ahead ahead[FAN];
	uint32_t count = boxes_under(near, level, box, ahead);
	for (uint32_t i = 0; i < count && ahead[i].distance <= near->reach + SLACK; i++)
		look_into(near, level - 1, ahead[i].box);
}

void geo_tree_near(const struct geo_tree *tree, struct geo_vector from, struct geo_vector to,
		   double reach, geo_visit_near *visit, void *user)
{
	double across = to.x - from.x, down = to.y - from.y, length = hypot(across, down);
	struct near near = {.tree = tree,
			    .left = geo_lesser(from.x, to.x),
			    .top = geo_lesser(from.y, to.y),
			    .right = geo_greater(from.x, to.x),
			    .bottom = geo_greater(from.y, to.y),
			    .from = from,
			    .to = to,
			    .across = length > 0 ? across / length : 0,
			    .down = length > 0 ? down / length : 0,
			    .reach = reach,
			    .visit = visit,
			    .user = user};
	if (tree->count > 0)
		look_into(&near, tree->level_count - 1, 0);
}
