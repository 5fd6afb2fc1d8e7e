#include "geometry/neck-candidate.h"

#include "base/list.h"

/* By how much, in nm, a wall may seem to enter a disk that it touches. */
#define TOUCH 1e-4

bool neck_candidates_add(struct neck_candidates *candidates, const struct neck_candidate *item)
{
	return LIST_ADD(candidates->items, candidates->count, candidates->room, *item);
}

int neck_candidate_compare(const struct neck_candidate *a, const struct neck_candidate *b)
{
	if (a->width != b->width)
		return a->width < b->width ? -1 : 1;
	if (a->a != b->a)
		return a->a < b->a ? -1 : 1;
	return a->b < b->b ? -1 : a->b > b->b;
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

struct disk {
	const struct neck_walls *walls;
	struct cutlint_point origin;
	struct geo_vector middle;
	double radius; /* less what a touch may seem to enter */
	uint32_t face;
	bool empty;
};

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
	disk->empty = !neck_comes_within(a, b, disk->middle, disk->radius);
	return disk->empty;
}

bool neck_disk_is_empty(const struct neck_walls *walls, const struct neck_candidate *candidate)
{
	struct geo_vector p, q;
	struct disk disk = {.walls = walls, .radius = candidate->width / 2 - TOUCH, .empty = true};
	if (disk.radius <= 0)
		return true;
	neck_feet(walls, candidate, &disk.origin, &p, &q);
	disk.middle = (struct geo_vector){(p.x + q.x) / 2, (p.y + q.y) / 2};
	disk.face = walls->arrangement->face[neck_half(candidate->a)];
	struct geo_vector centre = {disk.origin.x + disk.middle.x, disk.origin.y + disk.middle.y};
	geo_index_band(walls->index, centre, centre, disk.radius, enters_disk, &disk);
	return disk.empty;
}
