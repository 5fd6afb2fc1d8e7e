#include "geometry/neck-walk.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "geometry/neck-bisector.h"

/* Rounding, in nm: of places on the axis, and of what seems to reach into a disk that it touches.
 */
#define CLOSE 1e-3
#define TOUCH 1e-4

/* Steps without progress, after which a walk that rounding leads in circles is given up. */
#define STANDSTILL 64

/* Forks in one walk, after which it is given up: the width does not rise soon. */
#define FORKS 256

/* Where a walk stands: between two features, at a place that is equally far from both. */
struct pose {
	neck_feature left, right;
	struct geo_vector x;
	neck_feature dropped; /* the feature that was passed last: it can't come back at once */
	uint32_t branch;      /* 0 up to the first junction, then 1 or 2 */
	uint32_t still;       /* steps without progress */
	double walked;
};

/* What ends a stretch between the same two features. */
enum event { REACHED_HIGH, REACHED_LOW, LEFT_LEAVES, RIGHT_LEAVES, THIRD, STOPPED };

struct stretch {
	struct neck_bisector bisector;
	double to;
	enum event event;
	neck_feature third;
};

struct neck_walker {
	const struct neck_walls *walls;
	const struct geo_neck_search *search;
	struct neck_candidates *candidates;
	uint32_t *table; /* candidates by their pair of features; open addressing */
	uint32_t table_mask;
	uint32_t *near; /* edges near the walk, of its face, as half-edges towards the walk */
	uint32_t near_count, near_room;
	struct pose *stack;
	uint32_t stack_count, stack_room;
	bool failed;

	/* The walk at hand. */
	uint32_t candidate, face;
	struct cutlint_point origin;
	double low, high, flat; /* radii: fallen, risen, no longer the same */
	double stop;            /* where to stop, along the axis; INFINITY for a whole walk */
	struct neck_side *side;
	struct pose stopped;
	bool has_stopped;
	struct geo_vector junction;
	double junction_at;
	neck_feature forks[FORKS][3];
	uint32_t fork_count;
	bool risen[3]; /* by branch */
	struct neck_side ends[3];
	bool met;
};

static uint64_t pair_hash(neck_feature a, neck_feature b)
{
	uint64_t key = a < b ? (uint64_t)a << 32 | b : (uint64_t)b << 32 | a;
	key *= 0x9E3779B97F4A7C15U;
	return key ^ key >> 29;
}

static bool same_pair(const struct neck_candidate *candidate, neck_feature a, neck_feature b)
{
	return (candidate->a == a && candidate->b == b) || (candidate->a == b && candidate->b == a);
}

/* The candidate of a pair, or GEO_NONE. */
static uint32_t find(const struct neck_walker *walker, neck_feature a, neck_feature b)
{
	uint32_t at = (uint32_t)pair_hash(a, b) & walker->table_mask;
	for (; walker->table[at] != GEO_NONE; at = (at + 1) & walker->table_mask)
		if (same_pair(&walker->candidates->items[walker->table[at]], a, b))
			return walker->table[at];
	return GEO_NONE;
}

/* Of two strips between the same edges, seen from either, the first stands for both. */
static void fill_table(struct neck_walker *walker)
{
	for (uint32_t i = 0; i < walker->candidates->count; i++) {
		struct neck_candidate *candidate = &walker->candidates->items[i];
		if (find(walker, candidate->a, candidate->b) != GEO_NONE) {
			candidate->dead = true;
			continue;
		}
		uint32_t at = (uint32_t)pair_hash(candidate->a, candidate->b) & walker->table_mask;
		while (walker->table[at] != GEO_NONE)
			at = (at + 1) & walker->table_mask;
		walker->table[at] = i;
	}
}

struct neck_walker *neck_walker_create(const struct neck_walls *walls,
				       const struct geo_neck_search *search,
				       struct neck_candidates *candidates)
{
	struct neck_walker *walker = calloc(1, sizeof *walker);
	if (!walker)
		return NULL;
	uint32_t size = 16;
	while (size / 2 < candidates->count)
		size *= 2;
	walker->walls = walls;
	walker->search = search;
	walker->candidates = candidates;
	walker->table = malloc((size_t)size * sizeof *walker->table);
	walker->table_mask = size - 1;
	if (!walker->table) {
		neck_walker_destroy(walker);
		return NULL;
	}
	memset(walker->table, 0xff, (size_t)size * sizeof *walker->table);
	fill_table(walker);
	return walker;
}

void neck_walker_destroy(struct neck_walker *walker)
{
	if (!walker)
		return;
	free(walker->table);
	free(walker->near);
	free(walker->stack);
	free(walker);
}

static bool note_edge(void *user, uint32_t segment)
{
	struct neck_walker *walker = user;
	const struct geo_arrangement *arrangement = walker->walls->arrangement;
	uint32_t half = 2 * walker->walls->edges[segment];
	if (arrangement->face[half] != walker->face && arrangement->face[half + 1] != walker->face)
		return true;
	if (walker->near_count == walker->near_room) {
		uint32_t room = walker->near_room * 2 + 64;
		uint32_t *near = realloc(walker->near, room * sizeof *near);
		walker->failed = !near;
		if (!near)
			return false;
		walker->near = near;
		walker->near_room = room;
	}
	walker->near[walker->near_count++] = half;
	return true;
}

/* Collects the edges that could come as near as both walls along the stretch. */
static void look_around(struct neck_walker *walker, const struct stretch *stretch)
{
	const struct neck_bisector *bisector = &stretch->bisector;
	struct geo_vector a = neck_bisector_at(bisector, bisector->from);
	struct geo_vector b = neck_bisector_at(bisector, stretch->to);
	double r = neck_bisector_radius(bisector, bisector->from);
	double s = neck_bisector_radius(bisector, stretch->to);
	/* A parabola bends away from its chord by less than its radius changes. */
	double least = fmin(r, s);
	if (bisector->kind == NECK_PARABOLA && bisector->from < 0 && stretch->to > 0)
		least = bisector->apart / 2;
	double bend = bisector->kind == NECK_PARABOLA ? fmax(r, s) - least : 0;
	a.x += walker->origin.x;
	a.y += walker->origin.y;
	b.x += walker->origin.x;
	b.y += walker->origin.y;
	walker->near_count = 0;
	geo_index_band(walker->walls->index, a, b, fmax(r, s) + bend, note_edge, walker);
}

/* The half-edge that comes after a feature, in the direction of the walk. */
static uint32_t edge_ahead(const struct neck_walker *walker, neck_feature feature, bool left)
{
	uint32_t half = neck_half(feature);
	if (neck_is_corner(feature))
		return left ? walker->walls->previous[half] : half;
	return left ? walker->walls->previous[half] : walker->walls->arrangement->next[half];
}

/* The corner at the end of an edge, in the direction of the walk. */
static uint32_t corner_ahead(const struct neck_walker *walker, neck_feature edge, bool left)
{
	uint32_t half = neck_half(edge);
	return left ? half : walker->walls->arrangement->next[half];
}

/* What a wall goes on with where the foot leaves a feature. */
static neck_feature feature_ahead(const struct neck_walker *walker, neck_feature feature, bool left)
{
	if (neck_is_corner(feature))
		return neck_edge(edge_ahead(walker, feature, left));
	uint32_t corner = corner_ahead(walker, feature, left);
	if (neck_convex(walker->walls, corner))
		return neck_edge(edge_ahead(walker, feature, left));
	return neck_corner(corner);
}

static double leaving(const struct neck_walker *walker, const struct pose *pose,
		      const struct neck_bisector *bisector, bool left)
{
	neck_feature feature = left ? pose->left : pose->right;
	struct geo_vector way = {0, 0};
	if (neck_is_corner(feature)) {
		uint32_t next = edge_ahead(walker, feature, left);
		struct neck_shape edge = neck_shape(walker->walls, neck_edge(next), walker->origin);
		double turn = left ? -1 : 1;
		way = (struct geo_vector){turn * edge.along.x, turn * edge.along.y};
	}
	struct neck_polynomial f = neck_bisector_leaves(bisector, left, way);
	return neck_turns_negative(&f, bisector->from, TOUCH);
}

/* Of two edges one of which follows the other: no disk touches both at a corner that is reflex. */
static bool follows(const struct neck_walker *walker, uint32_t half, uint32_t next)
{
	return walker->walls->arrangement->next[half] == next && !neck_convex(walker->walls, next);
}

/* Whether a feature belongs to the wall right there, so that its distance only touches. */
static bool adjoins(const struct neck_walker *walker, neck_feature wall, neck_feature other)
{
	const struct geo_arrangement *arrangement = walker->walls->arrangement;
	uint32_t half = neck_half(wall), with = neck_half(other);
	if (neck_is_corner(wall) && neck_is_corner(other))
		return geo_half_edge_from(arrangement, half) ==
		       geo_half_edge_from(arrangement, with);
	if (neck_is_corner(wall))
		return with == half || with == walker->walls->previous[half];
	if (!neck_is_corner(other))
		return wall == other || follows(walker, half, with) || follows(walker, with, half);
	uint32_t node = geo_half_edge_from(arrangement, with);
	return node == geo_half_edge_from(arrangement, half) ||
	       node == geo_half_edge_to(arrangement, half);
}

static void offer(const struct neck_walker *walker, const struct pose *pose,
		  struct stretch *stretch, neck_feature feature, double t)
{
	bool sooner = t < stretch->to ||
		      (t == stretch->to && stretch->event == THIRD && feature < stretch->third);
	if (!sooner || adjoins(walker, pose->left, feature) ||
	    adjoins(walker, pose->right, feature))
		return;
	if (feature == pose->dropped && t <= stretch->bisector.from + CLOSE)
		return;
	stretch->to = t;
	stretch->event = THIRD;
	stretch->third = feature;
}

static void offer_corner(const struct neck_walker *walker, const struct pose *pose,
			 struct stretch *stretch, uint32_t half)
{
	struct geo_vector at =
		neck_place(walker->walls, geo_half_edge_from(walker->walls->arrangement, half),
			   walker->origin);
	struct neck_polynomial f = neck_bisector_to_point(&stretch->bisector, at);
	double slack = 2 * TOUCH * neck_bisector_radius(&stretch->bisector, stretch->bisector.from);
	double t = neck_turns_negative(&f, stretch->bisector.from, slack);
	if (t <= stretch->to)
		offer(walker, pose, stretch, neck_corner(half), t);
}

static void offer_edge(const struct neck_walker *walker, const struct pose *pose,
		       struct stretch *stretch, uint32_t half)
{
	const struct neck_bisector *bisector = &stretch->bisector;
	struct neck_shape edge = neck_shape(walker->walls, neck_edge(half), walker->origin);
	struct neck_polynomial f = neck_bisector_to_edge(bisector, &edge);
	double slack = TOUCH;
	if (bisector->kind == NECK_POINTS)
		slack *= 2 * neck_bisector_radius(bisector, bisector->from);
	double t = neck_turns_negative(&f, bisector->from, slack);
	for (int again = 0; again < 2 && t <= stretch->to; again++) {
		struct geo_vector x = neck_minus(neck_bisector_at(bisector, t), edge.at);
		double foot = neck_dot(x, edge.along);
		if (foot >= -TOUCH && foot <= edge.length + TOUCH && neck_dot(x, edge.normal) > 0) {
			offer(walker, pose, stretch, neck_edge(half), t);
			return;
		}
		/* Its line touched at once, but beside the edge: the edge itself may come later. */
		double later = neck_turns_negative(&f, nextafter(t + CLOSE, INFINITY), -INFINITY);
		t = later;
	}
}

static void offer_near(const struct neck_walker *walker, const struct pose *pose,
		       struct stretch *stretch)
{
	const struct geo_arrangement *arrangement = walker->walls->arrangement;
	struct geo_vector x = neck_bisector_at(&stretch->bisector, stretch->bisector.from);
	for (uint32_t i = 0; i < walker->near_count; i++) {
		uint32_t half = walker->near[i];
		struct geo_vector a = neck_place(
			walker->walls, geo_half_edge_from(arrangement, half), walker->origin);
		struct geo_vector b = neck_place(walker->walls, geo_half_edge_to(arrangement, half),
						 walker->origin);
		uint32_t towards =
			half + (neck_cross(neck_minus(b, a), neck_minus(x, a)) < 0 ? 1 : 0);
		if (arrangement->face[towards] == walker->face)
			offer_edge(walker, pose, stretch, towards);
		if (arrangement->face[half] == walker->face)
			offer_corner(walker, pose, stretch, half);
		if (arrangement->face[half + 1] == walker->face)
			offer_corner(walker, pose, stretch, half + 1);
	}
}

static void bound(struct stretch *stretch, enum event event, double t)
{
	if (t >= stretch->to)
		return;
	stretch->to = t;
	stretch->event = event;
}

/* Where along the curve the distance `left` has been walked, by bisection. */
static double walked_at(const struct neck_bisector *bisector, double to, double left)
{
	double low = bisector->from, high = to;
	if (!(left < neck_bisector_length(bisector, low, high)))
		return INFINITY;
	for (int i = 0; i < 60; i++) {
		double t = (low + high) / 2;
		if (neck_bisector_length(bisector, bisector->from, t) < left)
			low = t;
		else
			high = t;
	}
	return low;
}

/* How far the walk can go between the same two features. False where they have no bisector. */
static bool measure(struct neck_walker *walker, const struct pose *pose, struct stretch *stretch)
{
	struct neck_shape left = neck_shape(walker->walls, pose->left, walker->origin);
	struct neck_shape right = neck_shape(walker->walls, pose->right, walker->origin);
	if (!neck_bisector_init(&stretch->bisector, &left, &right, pose->x))
		return false;
	stretch->to = INFINITY;
	stretch->event = REACHED_HIGH;
	bound(stretch, REACHED_HIGH, neck_bisector_above(&stretch->bisector, walker->high));
	bound(stretch, REACHED_LOW, neck_bisector_below(&stretch->bisector, walker->low));
	bound(stretch, LEFT_LEAVES, leaving(walker, pose, &stretch->bisector, true));
	bound(stretch, RIGHT_LEAVES, leaving(walker, pose, &stretch->bisector, false));
	if (stretch->to == INFINITY)
		return false;
	look_around(walker, stretch);
	offer_near(walker, pose, stretch);
	bound(stretch, STOPPED,
	      walked_at(&stretch->bisector, stretch->to, walker->stop - pose->walked));
	return !walker->failed;
}

/* Where a candidate between these two features lies on their bisector. */
static double place_of(const struct neck_walker *walker, const struct neck_candidate *candidate,
		       const struct neck_bisector *bisector)
{
	if (bisector->kind != NECK_LINES)
		return 0;
	struct geo_vector p, q;
	struct cutlint_point origin;
	neck_feet(walker->walls, candidate, &origin, &p, &q);
	struct geo_vector middle = {(p.x + q.x) / 2 + ((double)origin.x - walker->origin.x),
				    (p.y + q.y) / 2 + ((double)origin.y - walker->origin.y)};
	return neck_dot(neck_minus(middle, bisector->at[0]), bisector->at[1]);
}

static bool is_strip(const struct neck_walker *walker, uint32_t candidate)
{
	return !neck_is_corner(walker->candidates->items[candidate].a);
}

/* Another candidate on the way: the earlier one wins; one between corners wins over a strip. */
static bool meets(struct neck_walker *walker, const struct pose *pose,
		  const struct stretch *stretch)
{
	uint32_t other = find(walker, pose->left, pose->right);
	if (other == GEO_NONE)
		return false;
	struct neck_candidate *candidate = &walker->candidates->items[other];
	double t = place_of(walker, candidate, &stretch->bisector);
	if (t < stretch->bisector.from - CLOSE || t > stretch->to + CLOSE)
		return false;
	if (other == walker->candidate) {
		walker->side->closed |= pose->walked > CLOSE;
		return walker->side->closed;
	}
	bool strips = is_strip(walker, walker->candidate), strip = is_strip(walker, other);
	bool wins = strips == strip ? other < walker->candidate : strips;
	if (!wins && pose->branch == 0)
		candidate->dead = true;
	return wins;
}

static void push(struct neck_walker *walker, const struct pose *pose)
{
	if (walker->stack_count == walker->stack_room) {
		uint32_t room = walker->stack_room * 2 + 16;
		struct pose *stack = realloc(walker->stack, room * sizeof *stack);
		walker->failed = !stack;
		if (!stack)
			return;
		walker->stack = stack;
		walker->stack_room = room;
	}
	walker->stack[walker->stack_count++] = *pose;
}

/* A branch between two edges that meet in a convex corner only leads into that corner. */
static bool is_spur(const struct neck_walker *walker, neck_feature left, neck_feature right)
{
	return !neck_is_corner(left) && !neck_is_corner(right) &&
	       walker->walls->arrangement->next[neck_half(right)] == neck_half(left);
}

static void end_branch(struct neck_walker *walker, const struct pose *pose, bool rises)
{
	struct neck_side *end = &walker->ends[pose->branch];
	if (rises && !walker->risen[pose->branch]) {
		walker->risen[pose->branch] = true;
		end->length = pose->walked;
		end->end = pose->x;
	}
	if (!rises && pose->branch == 0) {
		end->length = pose->walked;
		end->end = pose->x;
	}
}

/* Whether the walk has been at this fork before: it has gone round an island. */
static bool seen_fork(struct neck_walker *walker, const struct pose *pose, neck_feature third)
{
	neck_feature f[3] = {pose->left, pose->right, third};
	for (int i = 0; i < 3; i++)
		for (int k = 0; k < 2; k++)
			if (f[k] > f[k + 1]) {
				neck_feature swap = f[k];
				f[k] = f[k + 1];
				f[k + 1] = swap;
			}
	for (uint32_t i = 0; i < walker->fork_count; i++)
		if (memcmp(walker->forks[i], f, sizeof f) == 0)
			return true;
	if (walker->fork_count == FORKS)
		return true;
	memcpy(walker->forks[walker->fork_count++], f, sizeof f);
	return false;
}

/* A third wall comes as near: the axis forks, with the third on the right and on the left. */
static void fork_axis(struct neck_walker *walker, struct pose *pose, neck_feature third)
{
	struct pose left = *pose, right = *pose;
	left.right = third;
	left.dropped = pose->right;
	right.left = third;
	right.dropped = pose->left;
	bool left_ends = is_spur(walker, left.left, left.right);
	bool right_ends = is_spur(walker, right.left, right.right);
	if (!left_ends && !right_ends && seen_fork(walker, pose, third)) {
		end_branch(walker, pose, false);
		return;
	}
	if (!left_ends && !right_ends && pose->branch == 0) {
		walker->junction = pose->x;
		walker->junction_at = pose->walked;
		left.branch = 1;
		right.branch = 2;
	}
	if (!right_ends)
		push(walker, &right);
	if (!left_ends)
		push(walker, &left);
	if (left_ends && right_ends)
		end_branch(walker, pose, false);
}

/* How much of the way the width has stayed the same. */
static void note_flat(struct neck_walker *walker, const struct pose *pose,
		      const struct stretch *stretch)
{
	if (pose->branch != 0 || walker->side->flat < INFINITY)
		return;
	double t = neck_bisector_above(&stretch->bisector, walker->flat);
	if (t <= stretch->to)
		walker->side->flat = pose->walked + neck_bisector_length(&stretch->bisector,
									 stretch->bisector.from, t);
}

/* Goes on by one stretch. True while this branch goes on between two walls. */
static bool step(struct neck_walker *walker, struct pose *pose)
{
	struct stretch stretch;
	if (!measure(walker, pose, &stretch)) {
		end_branch(walker, pose, false);
		return false;
	}
	if (meets(walker, pose, &stretch)) {
		walker->met |= !walker->side->closed;
		end_branch(walker, pose, false);
		return false;
	}
	note_flat(walker, pose, &stretch);
	double length = neck_bisector_length(&stretch.bisector, stretch.bisector.from, stretch.to);
	pose->still = length > CLOSE ? 0 : pose->still + 1;
	pose->walked += length;
	pose->x = neck_bisector_at(&stretch.bisector, stretch.to);
	neck_feature left = pose->left, right = pose->right;
	switch (stretch.event) {
	case REACHED_HIGH:
	case REACHED_LOW:
		end_branch(walker, pose, stretch.event == REACHED_HIGH);
		return false;
	case LEFT_LEAVES:
		pose->left = feature_ahead(walker, left, true);
		pose->dropped = left;
		return true;
	case RIGHT_LEAVES:
		pose->right = feature_ahead(walker, right, false);
		pose->dropped = right;
		return true;
	case THIRD:
		fork_axis(walker, pose, stretch.third);
		return false;
	case STOPPED:
		walker->stopped = *pose;
		walker->has_stopped = true;
		return false;
	}
	return false;
}

/* Follows one branch to its end or to where it forks. */
static void follow(struct neck_walker *walker, struct pose pose)
{
	while (pose.still < STANDSTILL && !walker->failed) {
		if (!step(walker, &pose))
			return;
	}
	end_branch(walker, &pose, false);
}

/* The far end of the stretch: the trunk's own end, or a junction where both branches rise. */
static void conclude(struct neck_walker *walker)
{
	struct neck_side *side = walker->side;
	bool first = walker->risen[1], second = walker->risen[2];
	bool forked = walker->junction_at < INFINITY;
	const struct neck_side *end = &walker->ends[first ? 1 : second ? 2 : 0];
	side->length = end->length;
	side->end = end->end;
	if (forked && first == second) {
		side->length = walker->junction_at;
		side->end = walker->junction;
	}
	if (walker->risen[0] || first || second)
		side->outcome = NECK_RISES;
	else
		side->outcome = walker->met ? NECK_MET : NECK_FALLS;
	side->flat = fmin(side->flat, side->length);
	side->end.x += walker->origin.x;
	side->end.y += walker->origin.y;
}

static void begin(struct neck_walker *walker, uint32_t number, int side)
{
	const struct neck_candidate *candidate = &walker->candidates->items[number];
	const struct geo_neck_search *search = walker->search;
	struct geo_vector p, q;
	neck_feet(walker->walls, candidate, &walker->origin, &p, &q);
	double tau = fmax(search->tau_least, search->tau_share * candidate->width);
	double fall = neck_is_corner(candidate->a) ? NECK_SAME : tau;
	walker->candidate = number;
	walker->face = walker->walls->arrangement->face[neck_half(candidate->a)];
	walker->low = (candidate->width - fall) / 2;
	walker->high = (candidate->width + tau) / 2;
	walker->flat = (candidate->width + NECK_SAME) / 2;
	walker->junction_at = INFINITY;
	walker->met = false;
	walker->has_stopped = false;
	walker->stack_count = 0;
	walker->fork_count = 0;
	for (int i = 0; i < 3; i++) {
		walker->risen[i] = false;
		walker->ends[i] = (struct neck_side){0};
	}
	struct pose pose = {.left = side ? candidate->b : candidate->a,
			    .right = side ? candidate->a : candidate->b,
			    .x = {(p.x + q.x) / 2, (p.y + q.y) / 2},
			    .dropped = GEO_NONE};
	push(walker, &pose);
}

int neck_walk(struct neck_walker *walker, uint32_t candidate, int side, struct neck_side *out)
{
	*out = (struct neck_side){.flat = INFINITY};
	walker->side = out;
	walker->stop = INFINITY;
	begin(walker, candidate, side);
	while (walker->stack_count > 0 && !walker->failed && !out->closed)
		if (!walker->risen[walker->stack[--walker->stack_count].branch])
			follow(walker, walker->stack[walker->stack_count]);
	conclude(walker);
	return walker->failed ? -1 : 0;
}

static struct geo_vector foot_on(const struct neck_walker *walker, neck_feature feature,
				 struct geo_vector x)
{
	struct neck_shape shape = neck_shape(walker->walls, feature, walker->origin);
	struct geo_vector foot = shape.at;
	if (!shape.corner)
		foot = neck_along(shape.at, neck_dot(neck_minus(x, shape.at), shape.along),
				  shape.along);
	return (struct geo_vector){foot.x + walker->origin.x, foot.y + walker->origin.y};
}

int neck_walk_feet(struct neck_walker *walker, uint32_t candidate, int side, double distance,
		   struct geo_foot feet[2])
{
	struct neck_side ignored = {.flat = 0};
	walker->side = &ignored;
	walker->stop = distance;
	begin(walker, candidate, side);
	walker->stopped = walker->stack[0];
	while (walker->stack_count > 0 && !walker->failed && !walker->has_stopped)
		follow(walker, walker->stack[--walker->stack_count]);
	const struct pose *pose = &walker->stopped;
	neck_feature first = side ? pose->right : pose->left;
	neck_feature second = side ? pose->left : pose->right;
	feet[0] = (struct geo_foot){foot_on(walker, first, pose->x), neck_half(first)};
	feet[1] = (struct geo_foot){foot_on(walker, second, pose->x), neck_half(second)};
	return walker->failed ? -1 : 0;
}
