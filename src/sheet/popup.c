#include "sheet/popup.h"

#include <stdlib.h>

#include "sheet/xy.h"

/*
 * A fold that ends this little beyond a cut still ends on it; and a pop-up is at least this wide:
 * below 1 mm kept material is fragile. Common practice, no source.
 */
static const double ON_CUT_MM = 0.5;
static const double LEAST_WIDTH_MM = 1.0;

/* Where a search meets a cut, in mm along it. */
struct popup_cut {
	double at;
	uint32_t unit; /* the closed cut that it enters or leaves there; else CUTLINT_NONE */
};

static bool comes_near(struct geo_segment side, struct cutlint_box box)
{
	struct cutlint_xy a = cutlint_point_mm(side.from), b = cutlint_point_mm(side.to);
	return fmin(a.x, b.x) <= box.right + ON_CUT_MM && fmax(a.x, b.x) >= box.left - ON_CUT_MM &&
	       fmin(a.y, b.y) <= box.bottom + ON_CUT_MM && fmax(a.y, b.y) >= box.top - ON_CUT_MM;
}

static void collect_sides(struct popups *popups, uint32_t number, struct cutlint_box around)
{
	const struct cutlint_design *design = popups->work->design;
	const struct cutlint_outline *outline = &design->outlines[number];
	const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
	for (uint32_t i = 0; i + (outline->closed ? 0 : 1) < outline->vertex_count; i++) {
		uint32_t next = i + 1 < outline->vertex_count ? i + 1 : 0;
		struct geo_segment side = {vertices[i], vertices[next]};
		if (!comes_near(side, around))
			continue;
		popups->segments[popups->count] = side;
		popups->outlines[popups->count++] = number;
	}
}

int popups_init(struct popups *popups, const struct sheet_work *work, struct cutlint_box around)
{
	const struct cutlint_design *design = work->design;
	size_t most = (size_t)design->vertex_count + 1;
	*popups = (struct popups){.work = work};
	popups->segments = ARENA_ARRAY(work->scratch, struct geo_segment, most);
	popups->outlines = ARENA_ARRAY(work->scratch, uint32_t, most);
	popups->inside = ARENA_ARRAY(work->scratch, bool, (size_t)design->outline_count + 1);
	if (!popups->segments || !popups->outlines || !popups->inside)
		return -1;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		if (cutlint_role_cuts(cutlint_outline_role(design, i)) && !work->dropped[i] &&
		    sheet_has_sides(&design->outlines[i]))
			collect_sides(popups, i, around);
	}
	if (popups->count == 0)
		return 0;
	popups->seen = ARENA_ARRAY(work->scratch, uint32_t, popups->count);
	popups->met = ARENA_ARRAY(work->scratch, struct popup_cut, popups->count);
	popups->index = geo_index_create(popups->segments, popups->count);
	return popups->seen && popups->met && popups->index ? 0 : -1;
}

void popups_finish(struct popups *popups)
{
	geo_index_destroy(popups->index);
	popups->index = NULL;
}

struct search {
	struct popups *popups;
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

/* A side that only touches the line with one of its ends is met, and enters nothing. */
static bool visit_side(void *user, uint32_t segment)
{
	struct search *search = user;
	struct popups *popups = search->popups;
	if (popups->seen[segment] == popups->searches)
		return true;
	popups->seen[segment] = popups->searches;
	struct cutlint_xy a = cutlint_point_mm(popups->segments[segment].from);
	struct cutlint_xy b = cutlint_point_mm(popups->segments[segment].to);
	double left_a = left_of(search, a), left_b = left_of(search, b);
	if (left_a == left_b || (left_a > 0 && left_b > 0) || (left_a < 0 && left_b < 0))
		return true;
	double share = left_a / (left_a - left_b);
	struct cutlint_xy at = {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
	double way = xy_dot(xy_minus(at, search->from), search->along);
	if (way < 0 || way > search->length)
		return true;
	bool enters = (left_a > 0) != (left_b > 0);
	popups->met[search->count++] = (struct popup_cut){
		way, enters ? closed_unit(popups->work, popups->outlines[segment]) : CUTLINT_NONE};
	return true;
}

static int compare_cuts(const void *left, const void *right)
{
	const struct popup_cut *a = left, *b = right;
	if (a->at != b->at)
		return a->at < b->at ? -1 : 1;
	return a->unit < b->unit ? -1 : a->unit > b->unit;
}

/* Whether there is a stretch from one cut to the next that lies in no closed one. */
static bool has_strip(struct popups *popups, uint32_t count)
{
	const struct popup_cut *met = popups->met;
	uint32_t within = 0;
	bool found = false;
	for (uint32_t i = 0; i + 1 < count && !found; i++) {
		bool *inside = met[i].unit == CUTLINT_NONE ? NULL : &popups->inside[met[i].unit];
		if (inside) {
			*inside = !*inside;
			within = *inside ? within + 1 : within - 1;
		}
		found = within == 0 && met[i + 1].at - met[i].at >= LEAST_WIDTH_MM;
	}
	for (uint32_t i = 0; i < count; i++) {
		if (met[i].unit != CUTLINT_NONE)
			popups->inside[met[i].unit] = false;
	}
	return found;
}

bool popups_part(struct popups *popups, struct cutlint_xy from, struct cutlint_xy to)
{
	double gap = xy_distance(from, to);
	if (popups->count == 0 || gap <= 0)
		return false;
	struct cutlint_xy along = {(to.x - from.x) / gap, (to.y - from.y) / gap};
	struct cutlint_xy low = {from.x - ON_CUT_MM * along.x, from.y - ON_CUT_MM * along.y};
	struct cutlint_xy high = {to.x + ON_CUT_MM * along.x, to.y + ON_CUT_MM * along.y};
	struct search search = {popups, low, along, gap + 2 * ON_CUT_MM, 0};
	popups->searches++;
	geo_index_band(popups->index, sheet_nm(low), sheet_nm(high), 1, visit_side, &search);
	if (search.count < 2)
		return false;
	qsort(popups->met, search.count, sizeof *popups->met, compare_cuts);
	return has_strip(popups, search.count);
}
