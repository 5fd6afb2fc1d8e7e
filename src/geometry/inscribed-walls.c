#include "geometry/inscribed-walls.h"

#include <math.h>

static double dot(struct geo_vector a, struct geo_vector b)
{
	return a.x * b.x + a.y * b.y;
}

struct geo_sight geo_wall_see(const struct geo_wall *wall, struct geo_vector at)
{
	struct geo_sight sight = {.wall = wall, .foot = geo_wall_foot(wall, at.x, at.y)};
	double dx = at.x - sight.foot.x, dy = at.y - sight.foot.y;
	sight.distance = sqrt(dx * dx + dy * dy);
	double scale = sight.distance > 0 ? 1 / sight.distance : 0;
	sight.away = (struct geo_vector){dx * scale, dy * scale};
	return sight;
}

bool geo_wall_between(const struct geo_wall *wall, struct geo_vector p, struct geo_vector q)
{
	double px = q.x - p.x, py = q.y - p.y;
	double ex = wall->x + wall->dx, ey = wall->y + wall->dy;
	bool start = px * (wall->y - p.y) - py * (wall->x - p.x) > 0;
	bool end = px * (ey - p.y) - py * (ex - p.x) > 0;
	if (start == end)
		return false;
	bool from = wall->dx * (p.y - wall->y) - wall->dy * (p.x - wall->x) > 0;
	bool to = wall->dx * (q.y - wall->y) - wall->dy * (q.x - wall->x) > 0;
	return from != to;
}

int geo_walls_nearest(const struct geo_walls *walls, struct geo_vector at, struct geo_sight out[3])
{
	int found = 0;
	for (size_t i = 0; i < walls->count; i++) {
		const struct geo_wall *wall = geo_walls_at(walls, i);
		if (found == 3 &&
		    geo_wall_square(wall, at.x, at.y) >= out[2].distance * out[2].distance)
			continue;
		struct geo_sight sight = geo_wall_see(wall, at);
		int place = 0;
		bool same = false;
		for (int k = 0; k < found; k++) {
			same = same || (fabs(out[k].foot.x - sight.foot.x) < 1e-3 &&
					fabs(out[k].foot.y - sight.foot.y) < 1e-3);
			if (out[k].distance <= sight.distance)
				place = k + 1;
		}
		if (same || place == 3)
			continue;
		int last = found < 3 ? found++ : 2;
		for (int k = last; k > place; k--)
			out[k] = out[k - 1];
		out[place] = sight;
	}
	return found;
}

/* How far one may go in direction `along`, while the least distance grows at `rate` for certain. */
static double free_way(const struct geo_walls *walls, struct geo_vector at, double least,
		       struct geo_vector along, double rate)
{
	double way = INFINITY;
	for (size_t i = 0; i < walls->count; i++) {
		const struct geo_wall *wall = geo_walls_at(walls, i);
		double reach = least + way * (rate + 1);
		if (geo_wall_square(wall, at.x, at.y) >= reach * reach)
			continue;
		struct geo_sight sight = geo_wall_see(wall, at);
		double closing = rate - dot(sight.away, along);
		if (closing > 1e-12)
			way = fmin(way, fmax(0, sight.distance - least) / closing);
	}
	return way;
}

/* The step to the point at the same distance from three walls, taking them as straight; Newton's.
 */
static bool step_to_vertex(const struct geo_sight sight[3], struct geo_vector *out)
{
	double ax = sight[1].away.x - sight[0].away.x, ay = sight[1].away.y - sight[0].away.y;
	double bx = sight[2].away.x - sight[0].away.x, by = sight[2].away.y - sight[0].away.y;
	double a = sight[0].distance - sight[1].distance, b = sight[0].distance - sight[2].distance;
	double determinant = ax * by - ay * bx;
	if (fabs(determinant) < 1e-9)
		return false;
	*out = (struct geo_vector){(a * by - b * ay) / determinant,
				   (ax * b - bx * a) / determinant};
	return true;
}

double geo_walls_least(const struct geo_walls *walls, struct geo_vector at)
{
	double least = INFINITY;
	for (size_t i = 0; i < walls->count; i++)
		least = fmin(least, geo_wall_square(geo_walls_at(walls, i), at.x, at.y));
	return sqrt(least);
}

/* Away from the nearest wall, or along the middle between the two nearest. */
static bool step_along(const struct geo_walls *walls, struct geo_vector at,
		       const struct geo_sight sight[3], bool between, struct geo_vector *out)
{
	struct geo_vector along = sight[0].away;
	double rate = 1;
	if (between) {
		along.x += sight[1].away.x;
		along.y += sight[1].away.y;
		double length = sqrt(dot(along, along));
		if (length < 1e-6)
			return false;
		along = (struct geo_vector){along.x / length, along.y / length};
		rate = dot(along, sight[0].away);
	}
	double way = free_way(walls, at, sight[0].distance, along, rate);
	*out = (struct geo_vector){way * along.x, way * along.y};
	return isfinite(way);
}

bool geo_walls_climb(const struct geo_walls *walls, struct geo_vector middle, double half,
		     struct geo_vector *at)
{
	struct geo_sight sight[3];
	int found = geo_walls_nearest(walls, *at, sight);
	if (found < 2)
		return false;
	double level = sight[0].distance * (1 + 1e-9) + 1e-4;
	struct geo_vector step;
	bool meets = found == 3 && sight[2].distance < level;
	if (meets ? !step_to_vertex(sight, &step)
		  : !step_along(walls, *at, sight, sight[1].distance < level, &step))
		return false;
	struct geo_vector next = {at->x + step.x, at->y + step.y};
	if (fabs(next.x - middle.x) > half || fabs(next.y - middle.y) > half ||
	    !(geo_walls_least(walls, next) > sight[0].distance))
		return false;
	*at = next;
	return true;
}
