#include "geometry/neck-scene.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/least.h"

/* Between two edges, a stretch longer than this many radii is searched by its ends. */
#define LONG 32

/* Of a stretch up to this many radii long, the surroundings are kept for those that follow. */
#define SHORT 1

/* How much wider than a stretch its surroundings are. Measured: 1.5 to 2.5 are alike. */

#define WIDER 1.5

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

static struct neck_near near_of(const struct sight *sight, const bool faces[2])
{
	struct geo_vector run = neck_minus(sight->to, sight->from);
	double length = sqrt(neck_dot(run, run));
	struct geo_vector along = {run.x / length, run.y / length};
	struct neck_shape shape = {
		.at = sight->from, .along = along, .normal = {-along.y, along.x}, .length = length};
	return (struct neck_near){2 * sight->edge, {faces[0], faces[1]}, shape, sight->to};
}

/* Adds an edge, if it has the face on a side. */
static bool add(struct neck_scene *scene, struct neck_near_list *list, const struct sight *sight)
{
	const uint32_t *face = scene->walls->arrangement->face + 2 * (size_t)sight->edge;
	bool faces[2] = {face[0] == scene->face, face[1] == scene->face};
	if (!faces[0] && !faces[1])
		return true;
	if (list->count == list->room) {
		uint32_t room = list->room * 2 + 64;
		struct neck_near *items = realloc(list->items, room * sizeof *items);
		scene->failed = !items;
		if (!items)
			return false;
		list->items = items;
		list->room = room;
	}
	list->items[list->count++] = near_of(sight, faces);
	return true;
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

static bool note_edge(void *user, uint32_t segment)
{
	struct neck_scene *scene = user;
	struct sight sight = sight_of(scene, segment);
	return !comes_near(scene, &sight) || add(scene, &scene->along_band, &sight);
}

static bool note_around(void *user, uint32_t segment)
{
	struct neck_scene *scene = user;
	struct sight sight = sight_of(scene, segment);
	return !neck_comes_within(sight.from, sight.to, scene->around_middle,
				  scene->around_reach) ||
	       add(scene, &scene->around, &sight);
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
		if (comes_near(scene, &sight) && !add(scene, &scene->along_band, &sight))
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

/* Takes them from the surroundings; these are made anew where the stretch leaves them. */
static void look_around(struct neck_scene *scene, const struct band *band)
{
	struct geo_vector off = neck_minus(scene->middle, scene->around_middle);
	double known = scene->around_reach - scene->length;
	if (known < 0 || neck_dot(off, off) > known * known) {
		scene->around_middle = scene->around_reach < 0 ? band->from : scene->middle;
		scene->around_reach = WIDER * scene->length;
		scene->around.count = 0;
		struct geo_vector centre = on_sheet(scene, scene->around_middle);
		geo_index_band(scene->walls->index, centre, centre, scene->around_reach,
			       note_around, scene);
	}
	scene->near = &scene->around;
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

void neck_scene_look(struct neck_scene *scene, const struct neck_bisector *bisector, double to)
{
	struct band band = enclose(scene, bisector, to);
	double run = scene->length - scene->width;
	scene->along_band.count = 0;
	scene->near = &scene->along_band;
	if (2 * run <= SHORT * band.apart)
		look_around(scene, &band);
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
		scene->around_reach = -1;
}

void neck_scene_finish(struct neck_scene *scene)
{
	free(scene->along_band.items);
	free(scene->around.items);
}
