#include "geometry/neck-middle.h"

#include <math.h>

#include "geometry/least.h"

/* A strip: two edges that face each other, seen from the middle of one. */
struct across {
	const struct neck_walls *walls;
	struct geo_vector to; /* the end of the edge, as seen from its middle */
	struct geo_vector normal;
	struct cutlint_point origin;
	uint32_t edge;
	double nearest, spread; /* spread: change of width along the overlap */
	uint32_t hit;
};

static void look_at(struct across *across, uint32_t segment, double *reach)
{
	uint32_t edge = across->walls->edges[segment];
	if (edge == across->edge)
		return;
	const struct geo_edge *ends = &across->walls->arrangement->edges[edge];
	struct geo_vector half = across->to;
	struct geo_vector a = neck_place(across->walls, ends->from, across->origin);
	struct geo_vector b = neck_place(across->walls, ends->to, across->origin);
	a = neck_minus(a, half);
	b = neck_minus(b, half);
	double left = neck_cross(across->normal, a), right = neck_cross(across->normal, b);
	if ((left < 0) == (right < 0))
		return;
	struct geo_vector hit = neck_along(a, left / (left - right), neck_minus(b, a));
	double away = neck_dot(hit, across->normal);
	if (away <= 0 || away >= across->nearest)
		return;
	across->nearest = away;
	struct geo_vector along = neck_minus(b, a);
	double overlap = geo_lesser(sqrt(neck_dot(half, half)) * 2, sqrt(neck_dot(along, along)));
	across->spread = fabs(neck_dot(along, across->normal)) /
			 fabs(neck_cross(along, across->normal)) * overlap;
	across->hit = 2 * edge + (left > 0);
	*reach = geo_lesser(*reach, away);
}

static void look_across(void *user, const uint32_t *segments, uint32_t count, double *reach)
{
	for (uint32_t i = 0; i < count; i++)
		look_at(user, segments[i], reach);
}

static bool may_be_strip(const struct geo_neck_search *search, const struct across *across,
			 double reach)
{
	if (across->hit == GEO_NONE || across->nearest > reach)
		return false;
	return across->spread <=
	       geo_greater(search->tau_least, search->tau_share * across->nearest);
}

bool neck_probe_middle(const struct neck_walls *walls, const struct geo_neck_search *search,
		       uint32_t half, struct neck_candidates *out)
{
	const struct geo_arrangement *arrangement = walls->arrangement;
	struct cutlint_point at = arrangement->nodes[geo_half_edge_from(arrangement, half)];
	struct geo_vector to = neck_place(walls, geo_half_edge_to(arrangement, half), at);
	double length = sqrt(neck_dot(to, to)), reach = geo_lesser(length, search->limit);
	struct across across = {.walls = walls,
				.to = {to.x / 2, to.y / 2},
				.normal = {-to.y / length, to.x / length},
				.origin = at,
				.edge = half / 2,
				.nearest = INFINITY,
				.hit = GEO_NONE};
	struct geo_vector n = across.normal;
	bool steep = fabs(n.y) > fabs(n.x);
	double slope = steep ? n.x / fabs(n.y) : n.y / fabs(n.x);
	struct geo_cone cone = {{at.x + to.x / 2, at.y + to.y / 2},
				steep,
				steep ? n.y < 0 : n.x < 0,
				geo_greater(slope - 1e-9, -1),
				geo_lesser(slope + 1e-9, 1)};
	geo_index_cone(walls->index, &cone, reach, GEO_ALL, look_across, &across);
	if (!may_be_strip(search, &across, reach) ||
	    arrangement->face[across.hit] != arrangement->face[half])
		return true;
	struct neck_candidate candidate = {across.nearest, neck_edge(half), neck_edge(across.hit),
					   false};
	struct geo_vector p, q;
	neck_feet(walls, &candidate, &at, &p, &q);
	candidate.width = hypot(q.x - p.x, q.y - p.y);
	return !neck_disk_is_empty(walls, &candidate) || neck_candidates_add(out, &candidate);
}
