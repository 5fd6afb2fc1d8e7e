#include "sheet/cuts.h"

#include <stdlib.h>

#include "sheet/xy.h"

static bool comes_near(struct geo_segment side, struct cutlint_box box)
{
	struct cutlint_xy a = cutlint_point_mm(side.from), b = cutlint_point_mm(side.to);
	return fmin(a.x, b.x) <= box.right + SHEET_ON_CUT_MM &&
	       fmax(a.x, b.x) >= box.left - SHEET_ON_CUT_MM &&
	       fmin(a.y, b.y) <= box.bottom + SHEET_ON_CUT_MM &&
	       fmax(a.y, b.y) >= box.top - SHEET_ON_CUT_MM;
}

static void collect_sides(struct fold_cuts *cuts, uint32_t number, struct cutlint_box around)
{
	const struct cutlint_design *design = cuts->work->design;
	const struct cutlint_outline *outline = &design->outlines[number];
	const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
	for (uint32_t i = 0; i + (outline->closed ? 0 : 1) < outline->vertex_count; i++) {
		uint32_t next = i + 1 < outline->vertex_count ? i + 1 : 0;
		struct geo_segment side = {vertices[i], vertices[next]};
		if (!comes_near(side, around))
			continue;
		cuts->segments[cuts->count] = side;
		cuts->outlines[cuts->count++] = number;
	}
}

int fold_cuts_init(struct fold_cuts *cuts, const struct sheet_work *work, struct cutlint_box around)
{
	const struct cutlint_design *design = work->design;
	size_t most = (size_t)design->vertex_count + 1;
	*cuts = (struct fold_cuts){.work = work};
	cuts->segments = ARENA_ARRAY(work->scratch, struct geo_segment, most);
	cuts->outlines = ARENA_ARRAY(work->scratch, uint32_t, most);
	if (!cuts->segments || !cuts->outlines)
		return -1;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		if (cutlint_role_cuts(cutlint_outline_role(design, i)) && !work->dropped[i] &&
		    sheet_has_sides(&design->outlines[i]))
			collect_sides(cuts, i, around);
	}
	if (cuts->count == 0)
		return 0;
	cuts->seen = ARENA_ARRAY(work->scratch, uint32_t, cuts->count);
	cuts->met = ARENA_ARRAY(work->scratch, struct met_cut, cuts->count);
	cuts->index = geo_index_create(cuts->segments, cuts->count);
	return cuts->seen && cuts->met && cuts->index ? 0 : -1;
}

void fold_cuts_finish(struct fold_cuts *cuts)
{
	geo_index_destroy(cuts->index);
	cuts->index = NULL;
}

struct search {
	struct fold_cuts *cuts;
	struct cutlint_xy from, along; /* along is of length 1 */
	double length;
	uint32_t count; /* of cuts met */
};

/* What an outline closes in: the outline, or the loop of open ones, by its first. */
static uint32_t closed_unit(const struct sheet_work *work, uint32_t outline)
{
	uint32_t loop = work->loops.of[outline];
	if (work->design->outlines[outline].closed)
		return outline;
	return loop == CUTLINT_NONE ? CUTLINT_NONE : work->loops.items[loop].outline;
}

static double left_of(const struct search *search, struct cutlint_xy at)
{
	return xy_cross(search->along, xy_minus(at, search->from));
}

/* Whether a search meets a segment for the first time. */
static bool is_new(struct fold_cuts *cuts, uint32_t segment)
{
	bool fresh = cuts->seen[segment] != cuts->searches;
	cuts->seen[segment] = cuts->searches;
	return fresh;
}

/* A side that only touches the line with one of its ends is met, and enters nothing. */
static bool visit_side(void *user, uint32_t segment)
{
	struct search *search = user;
	struct fold_cuts *cuts = search->cuts;
	struct cutlint_xy a = cutlint_point_mm(cuts->segments[segment].from);
	struct cutlint_xy b = cutlint_point_mm(cuts->segments[segment].to);
	double left_a = left_of(search, a), left_b = left_of(search, b);
	if (!is_new(cuts, segment) || left_a == left_b || (left_a > 0 && left_b > 0) ||
	    (left_a < 0 && left_b < 0))
		return true;
	double share = left_a / (left_a - left_b);
	struct cutlint_xy at = {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
	double way = xy_dot(xy_minus(at, search->from), search->along);
	if (way < 0 || way > search->length)
		return true;
	bool enters = (left_a > 0) != (left_b > 0);
	uint32_t outline = cuts->outlines[segment];
	cuts->met[search->count++] = (struct met_cut){
		way, outline, enters ? closed_unit(cuts->work, outline) : CUTLINT_NONE};
	return true;
}

static int compare_cuts(const void *left, const void *right)
{
	const struct met_cut *a = left, *b = right;
	if (a->at != b->at)
		return a->at < b->at ? -1 : 1;
	if (a->unit != b->unit)
		return a->unit < b->unit ? -1 : 1;
	return a->outline < b->outline ? -1 : a->outline > b->outline;
}

uint32_t fold_cuts_meet(struct fold_cuts *cuts, struct cutlint_xy from, struct cutlint_xy to)
{
	double length = xy_distance(from, to);
	if (cuts->count == 0 || length <= 0)
		return 0;
	struct cutlint_xy along = {(to.x - from.x) / length, (to.y - from.y) / length};
	struct search search = {cuts, from, along, length, 0};
	cuts->searches++;
	geo_index_band(cuts->index, sheet_nm(from), sheet_nm(to), 1, visit_side, &search);
	qsort(cuts->met, search.count, sizeof *cuts->met, compare_cuts);
	return search.count;
}

static double distance_to(struct geo_segment side, struct cutlint_xy at)
{
	struct cutlint_xy a = cutlint_point_mm(side.from), b = cutlint_point_mm(side.to);
	struct cutlint_xy whole = xy_minus(b, a);
	double square = xy_dot(whole, whole);
	double share = square > 0 ? xy_dot(xy_minus(at, a), whole) / square : 0;
	share = fmin(fmax(share, 0), 1);
	return xy_distance(at, (struct cutlint_xy){a.x + share * whole.x, a.y + share * whole.y});
}

static bool visit_around(void *user, uint32_t segment)
{
	struct search *search = user;
	struct fold_cuts *cuts = search->cuts;
	if (is_new(cuts, segment) &&
	    distance_to(cuts->segments[segment], search->from) <= SHEET_ON_CUT_MM)
		cuts->met[search->count++] =
			(struct met_cut){0, cuts->outlines[segment], CUTLINT_NONE};
	return true;
}

uint32_t fold_cuts_at(struct fold_cuts *cuts, struct cutlint_xy at)
{
	if (cuts->count == 0)
		return 0;
	struct search search = {.cuts = cuts, .from = at};
	struct geo_vector place = sheet_nm(at);
	double reach = SHEET_ON_CUT_MM * SHEET_NM;
	cuts->searches++;
	geo_index_box(cuts->index, place.x - reach, place.y - reach, place.x + reach,
		      place.y + reach, visit_around, &search);
	return search.count;
}
