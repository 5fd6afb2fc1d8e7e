#include "geometry/neck-walk.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/list.h"
#include "geometry/neck-pairs.h"
#include "geometry/neck-stretch.h"

/* Steps without progress, after which a walk that rounding leads in circles is given up. */
#define STANDSTILL 64

/* Forks in one walk, after which it is given up: the width does not rise soon. */
#define FORKS 64

struct neck_walker {
	struct neck_scene scene;
	const struct geo_neck_search *search;
	struct neck_candidates *candidates;
	struct neck_pairs pairs; /* of the candidates */
	struct neck_pose *stack;
	uint32_t stack_count, stack_room;

	/* The walk at hand. */
	uint32_t candidate;
	double flat; /* the radius from which on it is no longer the same */
	struct neck_side *side;
	struct neck_pose stopped, fallen;
	bool has_stopped;
	bool to_fork; /* up to the first junction only */
	struct geo_vector junction;
	double junction_at;
	neck_feature forks[FORKS][3];
	uint32_t fork_count;
	bool risen[3]; /* by branch */
	struct neck_side ends[3];
	bool met;
};

struct neck_walker *neck_walker_create(struct neck_walls *walls,
				       const struct geo_neck_search *search,
				       struct neck_candidates *candidates)
{
	struct neck_walker *walker = calloc(1, sizeof *walker);
	if (!walker)
		return NULL;
	walker->scene.walls = walls;
	walker->scene.known.reach = -1;
	walker->search = search;
	walker->candidates = candidates;
	if (neck_pairs_init(&walker->pairs, candidates) < 0) {
		neck_walker_destroy(walker);
		return NULL;
	}
	return walker;
}

void neck_walker_destroy(struct neck_walker *walker)
{
	if (!walker)
		return;
	neck_pairs_finish(&walker->pairs);
	neck_scene_finish(&walker->scene);
	free(walker->stack);
	free(walker);
}

/* Where a candidate between these two features lies on their bisector. */
static double place_of(const struct neck_walker *walker, const struct neck_candidate *candidate,
		       const struct neck_bisector *bisector)
{
	if (bisector->kind != NECK_LINES)
		return 0;
	struct geo_vector p, q;
	struct cutlint_point origin;
	neck_feet(walker->scene.walls, candidate, &origin, &p, &q);
	struct geo_vector middle = {(p.x + q.x) / 2 + ((double)origin.x - walker->scene.origin.x),
				    (p.y + q.y) / 2 + ((double)origin.y - walker->scene.origin.y)};
	return neck_dot(neck_minus(middle, bisector->at[0]), bisector->at[1]);
}

static bool is_strip(const struct neck_candidate *candidate)
{
	return !neck_is_corner(candidate->a);
}

/* Whether another candidate wins: the first one does; one between corners wins over a strip. */
static bool outlasts(const struct neck_walker *walker, const struct neck_candidate *other)
{
	const struct neck_candidate *own = &walker->candidates->items[walker->candidate];
	if (is_strip(own) != is_strip(other))
		return is_strip(own);
	return neck_candidate_compare(other, own) < 0;
}

/*
 * Another candidate on the way that wins ends the walk. A loser needs no walk of its own, whatever
 * the order of walks: that would fall to the winner, or meet it, before it has risen.
 */
static bool meets(struct neck_walker *walker, const struct neck_pose *pose,
		  const struct neck_stretch *stretch)
{
	uint32_t other = neck_pairs_find(&walker->pairs, pose->left, pose->right);
	if (other == GEO_NONE)
		return false;
	struct neck_candidate *candidate = &walker->candidates->items[other];
	bool own = other == walker->candidate, wins = own || outlasts(walker, candidate);
	if (!wins && (candidate->dead || pose->branch != 0))
		return false;
	double t = place_of(walker, candidate, &stretch->bisector);
	if (t < stretch->bisector.from - NECK_CLOSE || t > stretch->to + NECK_CLOSE)
		return false;
	if (own) {
		walker->side->closed |= pose->walked > NECK_CLOSE;
		return walker->side->closed;
	}
	candidate->dead |= !wins;
	return wins;
}

static void push(struct neck_walker *walker, const struct neck_pose *pose)
{
	walker->scene.failed |=
		!LIST_ADD(walker->stack, walker->stack_count, walker->stack_room, *pose);
}

/* A branch between two edges that meet in a convex corner only leads into that corner. */
static bool is_spur(const struct neck_walker *walker, neck_feature left, neck_feature right)
{
	return !neck_is_corner(left) && !neck_is_corner(right) &&
	       walker->scene.walls->arrangement->next[neck_half(right)] == neck_half(left);
}

static void end_branch(struct neck_walker *walker, const struct neck_pose *pose, bool rises)
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
static bool seen_fork(struct neck_walker *walker, const struct neck_pose *pose, neck_feature third)
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
static void fork_axis(struct neck_walker *walker, struct neck_pose *pose, neck_feature third)
{
	struct neck_pose left = *pose, right = *pose;
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
		if (walker->to_fork)
			return;
	}
	if (!right_ends)
		push(walker, &right);
	if (!left_ends)
		push(walker, &left);
	if (left_ends && right_ends)
		end_branch(walker, pose, false);
}

/* How much of the way the width has stayed the same. */
static void note_flat(struct neck_walker *walker, const struct neck_pose *pose,
		      const struct neck_stretch *stretch)
{
	if (pose->branch != 0 || walker->side->flat < INFINITY)
		return;
	double t = neck_bisector_above(&stretch->bisector, walker->flat);
	if (t <= stretch->to)
		walker->side->flat = pose->walked + neck_bisector_length(&stretch->bisector,
									 stretch->bisector.from, t);
}

/* Goes on by one stretch. True while this branch goes on between two walls. */
static bool step(struct neck_walker *walker, struct neck_pose *pose)
{
	struct neck_stretch stretch;
	if (!neck_measure(&walker->scene, pose, &stretch)) {
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
	pose->still = length > NECK_CLOSE ? 0 : pose->still + 1;
	pose->walked += length;
	pose->x = neck_bisector_at(&stretch.bisector, stretch.to);
	neck_feature left = pose->left, right = pose->right;
	switch (stretch.event) {
	case NECK_REACHED_HIGH:
		end_branch(walker, pose, true);
		return false;
	case NECK_REACHED_LOW:
		end_branch(walker, pose, false);
		if (pose->branch == 0) {
			walker->side->fell = true;
			walker->fallen = *pose;
		}
		return false;
	case NECK_LEFT_LEAVES:
		pose->left = neck_ahead(&walker->scene, left, true);
		pose->dropped = left;
		return true;
	case NECK_RIGHT_LEAVES:
		pose->right = neck_ahead(&walker->scene, right, false);
		pose->dropped = right;
		return true;
	case NECK_THIRD:
		fork_axis(walker, pose, stretch.third);
		return false;
	case NECK_STOPPED:
		walker->stopped = *pose;
		walker->has_stopped = true;
		return false;
	}
	return false;
}

/* Follows one branch to its end or to where it forks. */
static void follow(struct neck_walker *walker, struct neck_pose pose)
{
	while (pose.still < STANDSTILL && !walker->scene.failed) {
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
	side->forked = forked;
	side->stopped = walker->has_stopped;
	side->flat = fmin(side->flat, side->length);
	side->end.x += walker->scene.origin.x;
	side->end.y += walker->scene.origin.y;
}

/* Makes a walk ready to start from a pose. */
static void set_out(struct neck_walker *walker, const struct neck_pose *pose)
{
	walker->junction_at = INFINITY;
	walker->met = false;
	walker->has_stopped = false;
	walker->to_fork = false;
	walker->stack_count = 0;
	walker->fork_count = 0;
	for (int i = 0; i < 3; i++) {
		walker->risen[i] = false;
		walker->ends[i] = (struct neck_side){0};
	}
	push(walker, pose);
}

static void begin(struct neck_walker *walker, uint32_t number, int side)
{
	const struct neck_candidate *candidate = &walker->candidates->items[number];
	const struct geo_neck_search *search = walker->search;
	struct geo_vector p, q;
	struct cutlint_point origin;
	neck_feet(walker->scene.walls, candidate, &origin, &p, &q);
	neck_scene_move(&walker->scene,
			walker->scene.walls->arrangement->face[neck_half(candidate->a)], origin);
	double tau = fmax(search->tau_least, search->tau_share * candidate->width);
	double fall = neck_is_corner(candidate->a) ? NECK_SAME : fmin(tau, candidate->width / 4);
	walker->candidate = number;
	walker->scene.low = (candidate->width - fall) / 2;
	walker->scene.high = (candidate->width + tau) / 2;
	walker->flat = (candidate->width + NECK_SAME) / 2;
	struct neck_pose pose = {.left = side ? candidate->b : candidate->a,
				 .right = side ? candidate->a : candidate->b,
				 .x = {(p.x + q.x) / 2, (p.y + q.y) / 2},
				 .dropped = GEO_NONE};
	set_out(walker, &pose);
}

static int walk(struct neck_walker *walker, struct neck_side *out)
{
	while (walker->stack_count > 0 && !walker->scene.failed && !out->closed)
		if (!walker->risen[walker->stack[--walker->stack_count].branch])
			follow(walker, walker->stack[walker->stack_count]);
	conclude(walker);
	return walker->scene.failed ? -1 : 0;
}

int neck_walk(struct neck_walker *walker, uint32_t candidate, int side, struct neck_side *out)
{
	*out = (struct neck_side){.flat = INFINITY};
	walker->side = out;
	walker->scene.stop = INFINITY;
	begin(walker, candidate, side);
	return walk(walker, out);
}

int neck_walk_on(struct neck_walker *walker, double length, struct neck_side *out)
{
	struct neck_pose fallen = walker->fallen;
	*out = (struct neck_side){.flat = INFINITY};
	walker->side = out;
	walker->scene.stop = length;
	walker->scene.low = 0;
	set_out(walker, &fallen);
	walker->to_fork = true;
	return walk(walker, out);
}

static struct geo_vector foot_on(const struct neck_walker *walker, neck_feature feature,
				 struct geo_vector x)
{
	struct neck_shape shape = neck_shape(walker->scene.walls, feature, walker->scene.origin);
	struct geo_vector foot = shape.at;
	if (!shape.corner)
		foot = neck_along(shape.at, neck_dot(neck_minus(x, shape.at), shape.along),
				  shape.along);
	return (struct geo_vector){foot.x + walker->scene.origin.x,
				   foot.y + walker->scene.origin.y};
}

int neck_walk_feet(struct neck_walker *walker, uint32_t candidate, int side, double distance,
		   struct geo_foot feet[2])
{
	struct neck_side ignored = {.flat = 0};
	walker->side = &ignored;
	walker->scene.stop = distance;
	begin(walker, candidate, side);
	walker->stopped = walker->stack[0];
	while (walker->stack_count > 0 && !walker->scene.failed && !walker->has_stopped)
		follow(walker, walker->stack[--walker->stack_count]);
	const struct neck_pose *pose = &walker->stopped;
	neck_feature first = side ? pose->right : pose->left;
	neck_feature second = side ? pose->left : pose->right;
	feet[0] = (struct geo_foot){foot_on(walker, first, pose->x), neck_half(first)};
	feet[1] = (struct geo_foot){foot_on(walker, second, pose->x), neck_half(second)};
	return walker->scene.failed ? -1 : 0;
}
