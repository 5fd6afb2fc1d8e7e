#include "geometry/neck-probe.h"

#include <math.h>
#include <stdlib.h>

/* Cones are probed in parts no wider than this, in radians: an eighth of half a turn. */
#define PART 0.39269908169872414

/* By how much, in nm, a wall may seem to enter a disk that it touches. */
#define TOUCH 1e-4

/* Half a turn has this many parts at most: those that end at diagonals may be narrower. */
#define PARTS_MAX 16

/* Candidates that are kept while a part is probed. */
#define NEAREST_MAX 64

struct probe {
	const struct neck_walls *walls;
	const struct geo_neck_search *search;
	struct neck_candidates *out;
	uint32_t corner; /* the half-edge at whose start we stand */
	uint32_t node, face;
	struct cutlint_point at;
	struct geo_vector low, high, middle; /* directions: the part's sides, clockwise first */
	double widen;                        /* 1 / cos of the part's angle */
	struct neck_candidate found[NEAREST_MAX];
	struct geo_vector feet[NEAREST_MAX];
	uint32_t found_count;
	double reach; /* no foot in the part can be farther */
	/* The nearest wall in each part of this corner; what one hides is no candidate. */
	struct geo_vector blocks[PARTS_MAX];
	uint32_t part;
	double block2; /* distance squared of that in the part being probed */
	bool failed;
};

static bool append(struct neck_candidates *list, const struct neck_candidate *item)
{
	if (list->count == list->room) {
		uint32_t room = list->room ? list->room + list->room / 2 : 64;
		struct neck_candidate *items = realloc(list->items, room * sizeof *items);
		if (!items)
			return false;
		list->items = items;
		list->room = room;
	}
	list->items[list->count++] = *item;
	return true;
}

/* The empty disk. */
struct disk {
	const struct neck_walls *walls;
	struct cutlint_point origin;
	struct geo_vector middle;
	double radius;
	uint32_t face;
	bool empty;
};

static double distance_to(struct geo_vector a, struct geo_vector b, struct geo_vector p)
{
	struct geo_vector ab = neck_minus(b, a), ap = neck_minus(p, a), bp = neck_minus(p, b);
	double t = neck_dot(ap, ab), length2 = neck_dot(ab, ab);
	if (t <= 0)
		return sqrt(neck_dot(ap, ap));
	if (t >= length2)
		return sqrt(neck_dot(bp, bp));
	return fabs(neck_cross(ab, ap)) / sqrt(length2);
}

static bool enters_disk(void *user, uint32_t segment)
{
	struct disk *disk = user;
	const struct geo_arrangement *arrangement = disk->walls->arrangement;
	uint32_t edge = disk->walls->edges[segment];
	if (arrangement->face[2 * edge] != disk->face &&
	    arrangement->face[2 * edge + 1] != disk->face)
		return true;
	struct geo_vector a = neck_place(disk->walls, arrangement->edges[edge].from, disk->origin);
	struct geo_vector b = neck_place(disk->walls, arrangement->edges[edge].to, disk->origin);
	if (distance_to(a, b, disk->middle) < disk->radius - TOUCH)
		disk->empty = false;
	return disk->empty;
}

static bool disk_is_empty(const struct neck_walls *walls, const struct neck_candidate *candidate)
{
	struct geo_vector p, q;
	struct disk disk = {.walls = walls, .empty = true};
	neck_feet(walls, candidate, &disk.origin, &p, &q);
	disk.middle = (struct geo_vector){(p.x + q.x) / 2, (p.y + q.y) / 2};
	disk.radius = candidate->width / 2;
	disk.face = walls->arrangement->face[neck_half(candidate->a)];
	struct geo_vector centre = {disk.origin.x + disk.middle.x, disk.origin.y + disk.middle.y};
	geo_index_band(walls->index, centre, centre, disk.radius, enters_disk, &disk);
	return disk.empty;
}

void neck_feet(const struct neck_walls *walls, const struct neck_candidate *candidate,
	       struct cutlint_point *origin, struct geo_vector *p, struct geo_vector *q)
{
	const struct geo_arrangement *arrangement = walls->arrangement;
	uint32_t a = neck_half(candidate->a), b = neck_half(candidate->b);
	*origin = arrangement->nodes[geo_half_edge_from(arrangement, a)];
	*p = (struct geo_vector){0, 0};
	if (!neck_is_corner(candidate->a)) {
		struct geo_vector end =
			neck_place(walls, geo_half_edge_to(arrangement, a), *origin);
		*p = (struct geo_vector){end.x / 2, end.y / 2};
	}
	*q = neck_place(walls, geo_half_edge_from(arrangement, b), *origin);
	if (neck_is_corner(candidate->b))
		return;
	struct geo_vector end = neck_place(walls, geo_half_edge_to(arrangement, b), *origin);
	struct geo_vector along = neck_minus(end, *q);
	*q = neck_along(*q, neck_dot(neck_minus(*p, *q), along) / neck_dot(along, along), along);
}

/* Whether one of the nearest walls lies in the disk to a foot. */
static bool is_hidden(const struct probe *probe, struct geo_vector foot)
{
	for (uint32_t i = 0; i <= probe->part; i++) {
		struct geo_vector block = probe->blocks[i];
		if (neck_dot(block, foot) > neck_dot(block, block) * (1 + 1e-9))
			return true;
	}
	return false;
}

/* Drops what has come to be too far, or hidden. */
static void prune(struct probe *probe)
{
	uint32_t left = 0;
	for (uint32_t i = 0; i < probe->found_count; i++) {
		if (probe->found[i].width > probe->reach || is_hidden(probe, probe->feet[i]))
			continue;
		probe->found[left] = probe->found[i];
		probe->feet[left++] = probe->feet[i];
	}
	probe->found_count = left;
}

static void keep(struct probe *probe, neck_feature facing, struct geo_vector foot)
{
	double width = sqrt(neck_dot(foot, foot));
	struct neck_candidate candidate = {width, neck_corner(probe->corner), facing, false};
	if (width > probe->search->limit || width > probe->reach || is_hidden(probe, foot))
		return;
	for (uint32_t i = 0; i < probe->found_count; i++)
		if (probe->found[i].b == facing)
			return;
	if (probe->found_count == NEAREST_MAX)
		prune(probe);
	if (probe->found_count < NEAREST_MAX) {
		probe->feet[probe->found_count] = foot;
		probe->found[probe->found_count++] = candidate;
	} else if (disk_is_empty(probe->walls, &candidate) && !append(probe->out, &candidate)) {
		probe->failed = true;
	}
}

/* Whether a direction lies in the part of the cone that is being probed. */
static bool in_part(const struct probe *probe, struct geo_vector to)
{
	return neck_cross(probe->low, to) >= 0 && neck_cross(to, probe->high) >= 0 &&
	       neck_dot(probe->middle, to) > 0;
}

static void block_at(struct probe *probe, struct geo_vector at)
{
	double square = neck_dot(at, at);
	if (square >= probe->block2)
		return;
	probe->blocks[probe->part] = at;
	probe->block2 = square;
	probe->reach = fmin(probe->reach, sqrt(square) * probe->widen);
}

/* A wall in the part bounds how far a foot in it can be, because it would enter the disk. */
static void shorten(struct probe *probe, struct geo_vector a, struct geo_vector b, double *reach)
{
	double left = neck_cross(probe->middle, a), right = neck_cross(probe->middle, b);
	if (in_part(probe, a))
		block_at(probe, a);
	if (in_part(probe, b))
		block_at(probe, b);
	if ((left < 0) != (right < 0)) {
		struct geo_vector hit = neck_along(a, left / (left - right), neck_minus(b, a));
		if (neck_dot(hit, probe->middle) > 0)
			block_at(probe, hit);
	}
	*reach = fmin(*reach, probe->reach);
}

/* The foot of the corner inside an edge. */
static void face_edge(struct probe *probe, uint32_t edge, struct geo_vector a, struct geo_vector b)
{
	struct geo_vector along = neck_minus(b, a);
	double t = -neck_dot(a, along), length2 = neck_dot(along, along);
	uint32_t half = 2 * edge + (neck_cross(a, b) < 0);
	if (t <= 0 || t >= length2 || probe->walls->arrangement->face[half] != probe->face)
		return;
	double apart = neck_cross(a, b) / length2; /* the foot is this × the normal of `along` */
	struct geo_vector foot = {-along.y * -apart, along.x * -apart};
	if (neck_in_cone(probe->walls, probe->corner, foot))
		keep(probe, neck_edge(half), foot);
}

static void face_corner(struct probe *probe, uint32_t half, struct geo_vector at)
{
	struct geo_vector back = {-at.x, -at.y};
	if (half < probe->corner || neck_dot(at, at) > probe->reach * probe->reach ||
	    is_hidden(probe, at))
		return;
	if (half != probe->corner && probe->walls->arrangement->face[half] == probe->face &&
	    neck_in_cone(probe->walls, probe->corner, at) && neck_in_cone(probe->walls, half, back))
		keep(probe, neck_corner(half), at);
}

static void face_segment(void *user, uint32_t segment, double *reach)
{
	struct probe *probe = user;
	uint32_t edge = probe->walls->edges[segment];
	const struct geo_edge *ends = &probe->walls->arrangement->edges[edge];
	if (ends->from == probe->node || ends->to == probe->node)
		return;
	struct geo_vector a = neck_place(probe->walls, ends->from, probe->at);
	struct geo_vector b = neck_place(probe->walls, ends->to, probe->at);
	shorten(probe, a, b, reach);
	face_edge(probe, edge, a, b);
	face_corner(probe, 2 * edge, a);
	face_corner(probe, 2 * edge + 1, b);
}

/* Probes the part of the cone between the directions low and high, at most 45° off one axis. */
static void probe_part(struct probe *probe, struct geo_vector low, struct geo_vector high,
		       double reach)
{
	probe->low = low;
	probe->high = high;
	probe->middle =
		(struct geo_vector){low.x / hypot(low.x, low.y) + high.x / hypot(high.x, high.y),
				    low.y / hypot(low.x, low.y) + high.y / hypot(high.x, high.y)};
	double cosine = neck_dot(low, high) / sqrt(neck_dot(low, low) * neck_dot(high, high));
	probe->widen = (1 + 1e-9) / fmax(cosine, 0.9);
	struct geo_vector m = probe->middle;
	bool steep = fabs(m.y) > fabs(m.x);
	double a = steep ? low.x / fabs(low.y) : low.y / fabs(low.x);
	double b = steep ? high.x / fabs(high.y) : high.y / fabs(high.x);
	struct geo_cone cone = {{probe->at.x, probe->at.y},
				steep,
				steep ? m.y < 0 : m.x < 0,
				fmin(a, b) - 1e-9,
				fmax(a, b) + 1e-9};
	probe->found_count = 0;
	probe->reach = reach;
	probe->blocks[probe->part] = (struct geo_vector){0, 0};
	probe->block2 = INFINITY;
	geo_index_cone(probe->walls->index, &cone, reach, face_segment, probe);
	prune(probe);
	for (uint32_t i = 0; i < probe->found_count; i++)
		if (disk_is_empty(probe->walls, &probe->found[i]) &&
		    !append(probe->out, &probe->found[i]))
			probe->failed = true;
}

/*
 * How far a foot in the part can be for the walls seen in other parts: a wall at z hides what lies
 * beyond |z| / cos of the angle between.
 */
static double hidden_from(const struct probe *probe, struct geo_vector low, struct geo_vector high)
{
	double reach = probe->search->limit;
	for (uint32_t i = 0; i < probe->part; i++) {
		struct geo_vector z = probe->blocks[i];
		double cosine = fmin(neck_dot(z, low), neck_dot(z, high));
		if (cosine > 0)
			reach = fmin(reach, neck_dot(z, z) / cosine * (1 + 1e-9));
	}
	return reach;
}

/* Where the parts of a turn begin: they end at the diagonals too, where cones change their axis. */
static uint32_t divide_turn(double start, double turn, double begins[PARTS_MAX + 1])
{
	double at = 0, quarter = acos(0);
	uint32_t count = 0;
	while (at < turn && count < PARTS_MAX) {
		double angle = (start + at + quarter / 2) / quarter;
		begins[count++] = start + at;
		at = fmin(at + PART, (floor(angle + 1e-9) + 0.5) * quarter - start);
	}
	begins[count] = start + turn;
	return count;
}

/*
 * Probes from one direction counter-clockwise to another, at most half a turn on, in parts: from
 * both sides inwards, because the neighbours along the walls hide most of what is farther.
 */
static void probe_turn(struct probe *probe, struct geo_vector from, struct geo_vector to)
{
	double begins[PARTS_MAX + 1];
	double turn = atan2(neck_cross(from, to), neck_dot(from, to));
	if (turn < -1e-9)
		turn += 2 * acos(-1);
	uint32_t count = divide_turn(atan2(from.y, from.x), turn, begins);
	for (probe->part = 0; probe->part < count; probe->part++) {
		uint32_t i = probe->part & 1 ? count - 1 - probe->part / 2 : probe->part / 2;
		struct geo_vector low = {cos(begins[i]), sin(begins[i])};
		struct geo_vector high = {cos(begins[i + 1]), sin(begins[i + 1])};
		probe_part(probe, low, high, hidden_from(probe, low, high));
	}
}

/* Within one axis' 45°, and narrow: the case of nearly all corners of flattened curves. */
static bool is_narrow(struct geo_vector a, struct geo_vector b)
{
	bool flat = fabs(a.x) >= fabs(a.y) && fabs(b.x) >= fabs(b.y) && a.x * b.x > 0;
	bool steep = fabs(a.y) >= fabs(a.x) && fabs(b.y) >= fabs(b.x) && a.y * b.y > 0;
	double cross = fabs(neck_cross(a, b));
	return (flat || steep) && cross <= 0.4 * neck_dot(a, b);
}

static void probe_corner(struct probe *probe, uint32_t half)
{
	const struct geo_arrangement *arrangement = probe->walls->arrangement;
	probe->corner = half;
	probe->part = 0;
	probe->node = geo_half_edge_from(arrangement, half);
	probe->face = arrangement->face[half];
	probe->at = arrangement->nodes[probe->node];
	uint32_t before = geo_half_edge_from(arrangement, probe->walls->previous[half]);
	struct geo_vector back = neck_place(probe->walls, before, probe->at);
	struct geo_vector on =
		neck_place(probe->walls, geo_half_edge_to(arrangement, half), probe->at);
	if (neck_cross(on, back) > 0)
		return;
	/* Left normals of the edge that leaves and of the one that arrives. */
	struct geo_vector low = {-on.y, on.x}, high = {back.y, -back.x};
	if (is_narrow(low, high))
		probe_part(probe, low, high, probe->search->limit);
	else
		probe_turn(probe, low, high);
}

/* A strip: two edges that face each other, seen from the middle of one. */
struct across {
	const struct neck_walls *walls;
	struct geo_vector from, to; /* the edge, as seen from its middle */
	struct geo_vector normal;
	struct cutlint_point origin;
	uint32_t edge;
	double nearest, spread; /* spread: change of width along the overlap */
	uint32_t hit;
};

static void look_across(void *user, uint32_t segment, double *reach)
{
	struct across *across = user;
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
	double overlap = fmin(hypot(half.x, half.y) * 2, hypot(along.x, along.y));
	across->spread = fabs(neck_dot(along, across->normal)) /
			 fabs(neck_cross(along, across->normal)) * overlap;
	across->hit = 2 * edge + (left > 0);
	*reach = fmin(*reach, away);
}

static bool may_be_strip(const struct geo_neck_search *search, const struct across *across,
			 double reach)
{
	if (across->hit == GEO_NONE || across->nearest > reach)
		return false;
	return across->spread <= fmax(search->tau_least, search->tau_share * across->nearest);
}

/* Where both ends of a strip are free, no corner sees across: its middle does. */
static void probe_middle(struct probe *probe, uint32_t half)
{
	const struct neck_walls *walls = probe->walls;
	const struct geo_arrangement *arrangement = walls->arrangement;
	if (!neck_convex(walls, half) && !neck_convex(walls, arrangement->next[half]))
		return;
	struct cutlint_point at = arrangement->nodes[geo_half_edge_from(arrangement, half)];
	struct geo_vector to = neck_place(walls, geo_half_edge_to(arrangement, half), at);
	double length = hypot(to.x, to.y), reach = fmin(length, probe->search->limit);
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
				fmax(slope - 1e-9, -1),
				fmin(slope + 1e-9, 1)};
	geo_index_cone(walls->index, &cone, reach, look_across, &across);
	if (!may_be_strip(probe->search, &across, reach))
		return;
	struct neck_candidate candidate = {across.nearest, neck_edge(half), neck_edge(across.hit),
					   false};
	struct geo_vector p, q;
	neck_feet(walls, &candidate, &at, &p, &q);
	candidate.width = hypot(q.x - p.x, q.y - p.y);
	if (arrangement->face[across.hit] == arrangement->face[half] &&
	    disk_is_empty(walls, &candidate) && !append(probe->out, &candidate))
		probe->failed = true;
}

int neck_probe(const struct neck_walls *walls, const struct geo_neck_search *search,
	       struct neck_candidates *out)
{
	struct probe probe = {.walls = walls, .search = search, .out = out};
	*out = (struct neck_candidates){0};
	for (uint32_t i = 0; i < 2 * walls->count && !probe.failed; i++) {
		uint32_t half = 2 * walls->edges[i / 2] + (i & 1);
		if (!walls->kept[walls->arrangement->face[half]])
			continue;
		probe_corner(&probe, half);
		probe_middle(&probe, half);
	}
	return probe.failed ? -1 : 0;
}
