#include "geometry/neck-scene.h"

#include <math.h>

#include "base/list.h"
#include "geometry/least.h"

/* Between two edges, a stretch longer than this many radii is searched by its ends. */
#define LONG 32

/* Of a stretch up to this many radii long, the surroundings are kept for those that follow. */
#define SHORT 2

/* How much wider than the first stretch its surroundings are, so that they serve the walk to the
 * other side too. Measured: a tenth more or less is alike. */
#define WIDER 2

/* Those of later stretches reach so many radii ahead, and aside. Measured: 3 to 6 and 1.25 to 1.5
 * are alike. */
#define AHEAD 4
#define ASIDE 1.3

/* The chord of a stretch, and by how much its disks reach beyond it. */
struct band {
	struct geo_vector from, to;
	double apart;
};

/* An edge between two nodes, seen from the origin. */
struct sight {
	uint32_t edge;
	struct geo_vector from, to;
};

/* Adds an edge, if one of its sides counts. */
static bool add(struct neck_scene *scene, struct neck_near_list *list, const struct sight *sight,
		bool left, bool right)
{
	if (!left && !right)
		return true;
	struct neck_near near = {2 * sight->edge, {left, right}, sight->from, sight->to};
	scene->failed |= !LIST_ADD(list->items, list->count, list->room, near);
	return !scene->failed;
}

static uint64_t mark_of(uint32_t half)
{
	return UINT64_C(1) << (half * UINT32_C(0x9E3779B1) >> 26);
}

static bool has(const struct neck_arc *arc, uint32_t half, uint32_t *at)
{
	if (!(arc->marks & mark_of(half)))
		return false;
	for (*at = 0; *at < arc->count; ++*at)
		if (arc->halves[*at] == half)
			return true;
	return false;
}

/* Whether a wall is part of an arc: of a corner, both edges. */
static bool is_on(const struct neck_arc *arc, neck_feature wall)
{
	uint32_t at;
	return has(arc, neck_half(wall), &at) && (at > 0 || !neck_is_corner(wall));
}

static struct geo_vector run_of(const struct neck_scene *scene, uint32_t half)
{
	const struct geo_arrangement *arrangement = scene->walls->arrangement;
	return neck_minus(
		neck_place(scene->walls, geo_half_edge_to(arrangement, half), scene->origin),
		neck_place(scene->walls, geo_half_edge_from(arrangement, half), scene->origin));
}

/* How many half-edges before one are of its arc. */
static uint32_t count_before(const struct neck_scene *scene, uint32_t half, struct geo_vector run)
{
	uint32_t count = 0;
	for (; count < NECK_ARC_MAX && !neck_convex(scene->walls, half); count++) {
		half = scene->walls->previous[half];
		if (neck_dot(run_of(scene, half), run) <= 0)
			break;
	}
	return count;
}

/* The arc of a wall. It is empty where a corner turns too much to have one. */
static void begin_arc(const struct neck_scene *scene, neck_feature wall, struct neck_arc *arc)
{
	const struct geo_arrangement *arrangement = scene->walls->arrangement;
	uint32_t half = neck_half(wall);
	struct geo_vector run = run_of(scene, half);
	uint32_t before = count_before(scene, half, run);
	arc->count = 0;
	arc->marks = 0;
	arc->left = false;
	if (neck_is_corner(wall) && before == 0)
		return;
	for (uint32_t i = 0; i < before; i++)
		half = scene->walls->previous[half];
	for (uint32_t i = 0; i <= before + NECK_ARC_MAX; i++) {
		arc->halves[arc->count++] = half;
		arc->marks |= mark_of(half);
		half = arrangement->next[half];
		if (i >= before &&
		    (neck_convex(scene->walls, half) || neck_dot(run_of(scene, half), run) <= 0))
			return;
	}
}

/* Whether an edge may come into the oblong of the stretch at hand. */
static bool comes_near(const struct neck_scene *scene, const struct sight *sight)
{
	struct geo_vector a = neck_minus(sight->from, scene->middle);
	struct geo_vector b = neck_minus(sight->to, scene->middle);
	double u = neck_dot(a, scene->along), v = neck_dot(b, scene->along);
	if ((u > scene->length && v > scene->length) || (u < -scene->length && v < -scene->length))
		return false;
	u = neck_cross(a, scene->along);
	v = neck_cross(b, scene->along);
	return (u <= scene->width || v <= scene->width) &&
	       (u >= -scene->width || v >= -scene->width);
}

static inline struct sight sight_of(const struct neck_scene *scene, uint32_t segment)
{
	const struct geo_segment *wall = &scene->walls->segments[segment];
	return (struct sight){scene->walls->edges[segment], neck_from(wall->from, scene->origin),
			      neck_from(wall->to, scene->origin)};
}

static bool has_face(const struct neck_scene *scene, uint32_t half)
{
	return scene->walls->arrangement->face[half] == scene->face;
}

static bool add_near(struct neck_scene *scene, const struct sight *sight)
{
	if (!comes_near(scene, sight))
		return true;
	return add(scene, &scene->along_band, sight, has_face(scene, 2 * sight->edge),
		   has_face(scene, 2 * sight->edge + 1));
}

/* Of the surroundings, the list on which a half-edge belongs; or -1. */
static int list_of(const struct neck_scene *scene, uint32_t half)
{
	uint32_t at;
	if (!has_face(scene, half))
		return -1;
	return has(&scene->arcs[0], half, &at) ? 1 : has(&scene->arcs[1], half, &at) ? 2 : 0;
}

static bool note_edge(void *user, uint32_t segment)
{
	struct neck_scene *scene = user;
	struct sight sight = sight_of(scene, segment);
	return add_near(scene, &sight);
}

/* Whether an edge may come into the surroundings. */
static bool comes_around(const struct neck_surroundings *known, const struct sight *sight)
{
	struct geo_vector a = neck_minus(sight->from, known->from);
	struct geo_vector b = neck_minus(sight->to, known->from);
	double u = neck_dot(a, known->along), v = neck_dot(b, known->along);
	if (geo_lesser(u, v) > known->length + known->reach || geo_greater(u, v) < -known->reach)
		return false;
	u = neck_cross(a, known->along);
	v = neck_cross(b, known->along);
	return geo_lesser(u, v) <= known->reach && geo_greater(u, v) >= -known->reach;
}

static bool note_around(void *user, uint32_t segment)
{
	struct neck_scene *scene = user;
	struct sight sight = sight_of(scene, segment);
	if (!comes_around(&scene->known, &sight))
		return true;
	int left = list_of(scene, 2 * sight.edge), right = list_of(scene, 2 * sight.edge + 1);
	for (int i = 0; i < 3; i++)
		if (!add(scene, &scene->around[i], &sight, left == i, right == i))
			return false;
	return true;
}

/* All edges at a node. */
static bool note_ends(void *user, uint32_t node)
{
	struct neck_scene *scene = user;
	const struct geo_arrangement *arrangement = scene->walls->arrangement;
	uint32_t first = scene->walls->starts[node], half = first;
	if (first == GEO_NONE)
		return true;
	do {
		const struct geo_edge *edge = &arrangement->edges[half / 2];
		struct sight sight = {half / 2, neck_place(scene->walls, edge->from, scene->origin),
				      neck_place(scene->walls, edge->to, scene->origin)};
		if (!add_near(scene, &sight))
			return false;
		half = scene->walls->previous[half] ^ 1;
	} while (half != first);
	return true;
}

/* A place on the sheet. */
static struct geo_vector on_sheet(const struct neck_scene *scene, struct geo_vector at)
{
	return (struct geo_vector){at.x + scene->origin.x, at.y + scene->origin.y};
}

/*
 * The disks between two straight walls lie between the walls but for the first and the last. So
 * what comes between has an end there, or reaches into one of those two: no edge crosses the walls.
 * That keeps long corridors cheap where many lie side by side.
 */
static void look_along(struct neck_scene *scene, const struct band *band)
{
	const struct neck_walls *walls = scene->walls;
	struct geo_vector a = on_sheet(scene, band->from), b = on_sheet(scene, band->to);
	scene->failed |= neck_walls_index_ends(scene->walls) < 0;
	if (scene->failed)
		return;
	geo_index_band(walls->index, a, a, band->apart, note_edge, scene);
	geo_index_band(walls->index, b, b, band->apart, note_edge, scene);
	geo_index_band(walls->ends, a, b, band->apart, note_ends, scene);
}

/* Whether the surroundings hold a disk. */
static bool is_known(const struct neck_surroundings *known, struct geo_vector middle, double radius)
{
	struct geo_vector off = neck_minus(middle, known->from);
	double along = neck_dot(off, known->along), across = neck_cross(off, known->along);
	double beyond = along - geo_lesser(geo_greater(along, 0), known->length);
	double left = known->reach - radius;
	return left >= 0 && beyond * beyond + across * across <= left * left;
}

/* Looks around a place where a walk begins, for both its sides; later ahead of the stretch. */
static void look_anew(struct neck_scene *scene, const neck_feature walls[2],
		      const struct band *band)
{
	struct neck_surroundings *known = &scene->known;
	bool first = known->reach < 0;
	double run = 2 * (scene->length - scene->width);
	*known = (struct neck_surroundings){band->from, scene->along, 0, WIDER * scene->length};
	if (!first) {
		known->length = run + AHEAD * scene->width;
		known->reach = ASIDE * scene->width;
	}
	for (int i = 0; i < 2; i++)
		begin_arc(scene, walls[i], &scene->arcs[i]);
	for (int i = 0; i < 3; i++)
		scene->around[i].count = 0;
	geo_index_band(scene->walls->index, on_sheet(scene, known->from),
		       on_sheet(scene, neck_along(known->from, known->length, known->along)),
		       known->reach, note_around, scene);
}

/* Takes them from the surroundings; these are made anew where the stretch leaves them. */
static void look_around(struct neck_scene *scene, const neck_feature walls[2],
			const struct band *band)
{
	if (!is_known(&scene->known, band->from, scene->width) ||
	    !is_known(&scene->known, band->to, scene->width))
		look_anew(scene, walls, band);
	scene->near[0] = &scene->around[0];
	for (int i = 0; i < 2; i++) {
		struct neck_arc *arc = &scene->arcs[i];
		arc->left |= !is_on(arc, walls[0]) && !is_on(arc, walls[1]);
		scene->near[1 + i] = arc->left ? &scene->around[1 + i] : NULL;
	}
}

/* The band of the stretch, and the oblong that holds it. */
static struct band enclose(struct neck_scene *scene, const struct neck_bisector *bisector,
			   double to)
{
	struct band band = {neck_bisector_at(bisector, bisector->from),
			    neck_bisector_at(bisector, to), 0};
	double r = neck_bisector_radius(bisector, bisector->from);
	double s = neck_bisector_radius(bisector, to);
	/* A parabola bends away from its chord by less than its radius changes. */
	double least = geo_lesser(r, s);
	if (bisector->kind == NECK_PARABOLA && bisector->from < 0 && to > 0)
		least = bisector->apart / 2;
	double bend = bisector->kind == NECK_PARABOLA ? geo_greater(r, s) - least : 0;
	struct geo_vector run = neck_minus(band.to, band.from);
	double length = sqrt(neck_dot(run, run));
	band.apart = geo_greater(r, s) + bend;
	scene->middle = neck_along(band.from, 0.5, run);
	scene->along = length > 0 ? (struct geo_vector){run.x / length, run.y / length}
				  : (struct geo_vector){1, 0};
	scene->width = band.apart + 1;
	scene->length = length / 2 + scene->width;
	return band;
}

void neck_scene_look(struct neck_scene *scene, const neck_feature walls[2],
		     const struct neck_bisector *bisector, double to)
{
	struct band band = enclose(scene, bisector, to);
	double run = scene->length - scene->width;
	scene->along_band.count = 0;
	scene->near[0] = &scene->along_band;
	scene->near[1] = scene->near[2] = NULL;
	if (2 * run <= SHORT * band.apart)
		look_around(scene, walls, &band);
	else if (bisector->kind == NECK_LINES && 2 * run > LONG * band.apart)
		look_along(scene, &band);
	else
		geo_index_band(scene->walls->index, on_sheet(scene, band.from),
			       on_sheet(scene, band.to), band.apart, note_edge, scene);
}

void neck_scene_move(struct neck_scene *scene, uint32_t face, struct cutlint_point origin)
{
	bool same =
		scene->face == face && scene->origin.x == origin.x && scene->origin.y == origin.y;
	scene->face = face;
	scene->origin = origin;
	if (!same)
		scene->known.reach = -1;
}

void neck_scene_finish(struct neck_scene *scene)
{
	free(scene->along_band.items);
	for (int i = 0; i < 3; i++)
		free(scene->around[i].items);
}
