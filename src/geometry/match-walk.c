#include "geometry/match-walk.h"

#include <math.h>

/* A step within one pair of sides: how far each goes, and how far apart they end. */
struct step {
	double a, b, apart;
};

static struct geo_vector ahead(const struct geo_walk *walk, const struct geo_walker *walker,
			       double way)
{
	return geo_side_at(walk->tracks, walker->side, walker->along + walker->way * way);
}

/* What is left of the walker's side, as far as it may go. */
static double to_end(const struct geo_walk *walk, const struct geo_walker *walker)
{
	double length = walk->tracks->sides[walker->side].length;
	double rest = walker->way > 0 ? length - walker->along : walker->along;
	return fmin(rest, walker->left);
}

/* How far the walker has to go, at most `most`, to be nearest to a place. */
static double to_nearest(const struct geo_walk *walk, const struct geo_walker *walker, double most,
			 struct geo_vector place)
{
	double along = geo_side_nearest(walk->tracks, walker->side, place);
	return fmin(most, fmax(0, walker->way * (along - walker->along)));
}

static struct step make_step(const struct geo_walk *walk, double a, double b)
{
	struct geo_vector at_a = ahead(walk, &walk->a, a), at_b = ahead(walk, &walk->b, b);
	return (struct step){a, b, geo_distance(at_a, at_b)};
}

/* The part of a step that leads away, up to where the limit is reached: a quadratic equation. */
static struct step cut_step(const struct geo_walk *walk, struct step step)
{
	struct geo_vector a0 = ahead(walk, &walk->a, 0), b0 = ahead(walk, &walk->b, 0);
	struct geo_vector a1 = ahead(walk, &walk->a, step.a), b1 = ahead(walk, &walk->b, step.b);
	struct geo_vector off = {a0.x - b0.x, a0.y - b0.y};
	struct geo_vector turn = {a1.x - b1.x - off.x, a1.y - b1.y - off.y};
	double p = turn.x * turn.x + turn.y * turn.y;
	double q = off.x * turn.x + off.y * turn.y;
	double r = off.x * off.x + off.y * off.y - walk->apart * walk->apart;
	double share = p > 0 ? (sqrt(fmax(0, q * q - p * r)) - q) / p : 0;
	share = fmin(1, fmax(0, share));
	return make_step(walk, share * step.a, share * step.b);
}

/* Enters the next side where the walker stands at the end of one. False at the end of a chain. */
static bool enter_next(const struct geo_walk *walk, struct geo_walker *walker)
{
	const struct geo_side *side = &walk->tracks->sides[walker->side];
	const struct geo_track *track = &walk->tracks->chains[side->chain];
	double rest = walker->way > 0 ? side->length - walker->along : walker->along;
	if (rest > 0)
		return true;
	uint32_t place = walker->side - track->first;
	uint32_t end = walker->way > 0 ? track->count - 1 : 0;
	if (place == end && !track->closed)
		return false;
	uint32_t next = place == end      ? track->count - 1 - end
			: walker->way > 0 ? place + 1
					  : place - 1;
	walker->side = track->first + next;
	walker->along = walker->way > 0 ? 0 : walk->tracks->sides[walker->side].length;
	return true;
}

static void go(const struct geo_walk *walk, struct geo_walker *walker, double way)
{
	double length = walk->tracks->sides[walker->side].length;
	bool whole = way >= (walker->way > 0 ? length - walker->along : walker->along);
	walker->along += walker->way * way;
	if (whole)
		walker->along = walker->way > 0 ? length : 0;
	walker->travelled += way;
	walker->left -= way;
}

/* Returns whether the step was taken to its end. */
static bool take(struct geo_walk *walk, struct step step)
{
	bool whole = true;
	if (!(step.apart <= walk->apart)) {
		step = cut_step(walk, step);
		whole = false;
	}
	double sum = step.a + step.b;
	if (sum > walk->together) {
		step = make_step(walk, step.a * walk->together / sum,
				 step.b * walk->together / sum);
		whole = false;
	}
	go(walk, &walk->a, step.a);
	go(walk, &walk->b, step.b);
	walk->together -= sum;
	walk->most = fmax(walk->most, fmin(step.apart, walk->apart));
	return whole;
}

/* To the end of a's side or to that of b's, whichever leaves them closer; of two steps that both
 * part them, the one that gets farther. */
static struct step choose(const struct geo_walk *walk)
{
	double rest_a = to_end(walk, &walk->a), rest_b = to_end(walk, &walk->b);
	struct geo_vector end_a = ahead(walk, &walk->a, rest_a);
	struct geo_vector end_b = ahead(walk, &walk->b, rest_b);
	struct step by_a = make_step(walk, rest_a, to_nearest(walk, &walk->b, rest_b, end_a));
	struct step by_b = make_step(walk, to_nearest(walk, &walk->a, rest_a, end_b), rest_b);
	if (by_a.apart <= walk->apart || by_b.apart <= walk->apart)
		return by_a.apart <= by_b.apart ? by_a : by_b;
	struct step cut_a = cut_step(walk, by_a), cut_b = cut_step(walk, by_b);
	return cut_a.a + cut_a.b >= cut_b.a + cut_b.b ? by_a : by_b;
}

/* One that stands while the other goes on to the end of the walk is no longer together with it,
 * only still near: such an end is taken back. */
void geo_walk_on(struct geo_walk *walk)
{
	struct geo_walk sure = *walk;
	bool whole = true;
	while (whole && walk->a.left > 0 && walk->b.left > 0 && walk->together > 0 &&
	       enter_next(walk, &walk->a) && enter_next(walk, &walk->b)) {
		double a = walk->a.travelled, b = walk->b.travelled;
		whole = take(walk, choose(walk));
		if (walk->a.travelled > a && walk->b.travelled > b)
			sure = *walk;
	}
	if (walk->a.left > 0 && walk->b.left > 0 && walk->together > 0)
		*walk = sure;
}

static bool is_closed(const struct geo_walk *walk, const struct geo_walker *walker)
{
	return walk->tracks->chains[walk->tracks->sides[walker->side].chain].closed;
}

void geo_walk_round(struct geo_walk *walk)
{
	bool a_is_done = walk->a.left <= 0;
	struct geo_walker *stays = a_is_done ? &walk->a : &walk->b;
	struct geo_walker goes = a_is_done ? walk->b : walk->a;
	if (stays->left > 0 || !is_closed(walk, stays) || !is_closed(walk, &goes))
		return;
	struct geo_vector at = ahead(walk, stays, 0);
	double most = walk->most;
	while (goes.left > 0 && enter_next(walk, &goes)) {
		go(walk, &goes, to_end(walk, &goes));
		most = fmax(most, geo_distance(at, ahead(walk, &goes, 0)));
		if (most > walk->apart)
			return;
	}
	walk->most = most;
	*(a_is_done ? &walk->b : &walk->a) = goes;
}
