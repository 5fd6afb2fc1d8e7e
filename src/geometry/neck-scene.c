#include "geometry/neck-scene.h"

#include <math.h>

#include "base/list.h"
#include "geometry/least.h"

/* Between two edges, a stretch longer than this many radii is searched by its ends. */
#define LONG 32

/* Of a stretch up to this many radii long, the surroundings are kept for those that follow. */
#define SHORT 2

/* How much wider than a stretch its surroundings are. Measured: 1.5 to 2.5 are alike. */
#define WIDER 2

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

static struct neck_near near_of(const struct sight *sight, const uint8_t sides[2])
{
	return (struct neck_near){2 * sight->edge,
				  {sides[0], sides[1]},
				  neck_edge_shape(sight->from, sight->to),
				  sight->to};
}

/* Adds an edge, if one of its sides counts. */
static bool add(struct neck_scene *scene, struct neck_near_list *list, const struct sight *sight,
		const uint8_t sides[2])
{
	if (sides[0] == NECK_OUT && sides[1] == NECK_OUT)
		return true;
	scene->failed |= !LIST_ADD(list->items, list->count, list->room, near_of(sight, sides));
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

static struct sight sight_of(const struct neck_scene *scene, uint32_t segment)
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
	const uint8_t sides[2] = {has_face(scene, 2 * sight->edge) ? NECK_IN : NECK_OUT,
				  has_face(scene, 2 * sight->edge + 1) ? NECK_IN : NECK_OUT};
	return add(scene, &scene->along_band, sight, sides);
}

static uint8_t standing(const struct neck_scene *scene, uint32_t half)
{
	uint32_t at;
	if (!has_face(scene, half))
		return NECK_OUT;
	for (uint8_t i = 0; i < 2; i++)
		if (has(&scene->arcs[i], half, &at))
			return NECK_ON_ARC + i;
	return NECK_IN;
}

static bool note_edge(void *user, uint32_t segment)
{
	struct neck_scene *scene = user;
	struct sight sight = sight_of(scene, segment);
	return add_near(scene, &sight);
}

static bool note_around(void *user, uint32_t segment)
{
	struct neck_scene *scene = user;
	struct sight sight = sight_of(scene, segment);
	if (!neck_comes_within(sight.from, sight.to, scene->around_middle, scene->around_reach))
		return true;
	const uint8_t sides[2] = {standing(scene, 2 * sight.edge),
				  standing(scene, 2 * sight.edge + 1)};
	return add(scene, &scene->around, &sight, sides);
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

/* Whether what is known around holds the stretch. */
static bool is_known(const struct neck_scene *scene)
{
	struct geo_vector off = neck_minus(scene->middle, scene->around_middle);
	double known = scene->around_reach - scene->length;
	return known >= 0 && neck_dot(off, off) <= known * known;
}

/* An arc that the walls have left once needs looks for good. */
static void check_arcs(struct neck_scene *scene, const neck_feature walls[2])
{
	for (int i = 0; i < 2; i++)
		if (!scene->looks[NECK_ON_ARC + i] && !is_on(&scene->arcs[i], walls[0]) &&
		    !is_on(&scene->arcs[i], walls[1]))
			scene->looks[NECK_ON_ARC + i] = true;
}

/* Takes them from the surroundings; these are made anew where the stretch leaves them. */
static void look_around(struct neck_scene *scene, const neck_feature walls[2],
			const struct band *band)
{
	scene->near = &scene->around;
	if (is_known(scene)) {
		check_arcs(scene, walls);
		return;
	}
	scene->around_middle = scene->around_reach < 0 ? band->from : scene->middle;
	scene->around_reach = WIDER * scene->length;
	scene->around.count = 0;
	for (int i = 0; i < 2; i++) {
		begin_arc(scene, walls[i], &scene->arcs[i]);
		scene->looks[NECK_ON_ARC + i] = false;
	}
	struct geo_vector centre = on_sheet(scene, scene->around_middle);
	geo_index_band(scene->walls->index, centre, centre, scene->around_reach, note_around,
		       scene);
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
	scene->near = &scene->along_band;
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
	scene->looks[NECK_IN] = true;
	scene->face = face;
	scene->origin = origin;
	if (!same)
		scene->around_reach = -1;
}

void neck_scene_finish(struct neck_scene *scene)
{
	free(scene->along_band.items);
	free(scene->around.items);
}
