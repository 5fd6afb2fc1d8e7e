#include "sheet/dash.h"

#include "sheet/xy.h"

/* A fold outline that turns by more than this has a corner there; flattened curves turn less: a
 * choice. */
static const double LEAST_CORNER = 30 * 3.14159265358979323846 / 180;

/*
 * Up, or to the right where it is flatter than it is steep: so that the left panel of an upright
 * fold and the upper one of a level fold lie left of it.
 */
static void set_direction(struct cutlint_xy *from, struct cutlint_xy *to)
{
	double dx = to->x - from->x, dy = to->y - from->y;
	bool steep = fabs(dy) > fabs(dx);
	if (steep ? dy > 0 : dx < 0) {
		struct cutlint_xy swap = *from;
		*from = *to;
		*to = swap;
	}
}

/* The place of one of the vertices of a dash's run, which may go on from an outline's start. */
static struct cutlint_xy run_at(const struct cutlint_design *design, const struct dash *dash,
				uint32_t i)
{
	const struct cutlint_outline *outline = &design->outlines[dash->outline];
	uint32_t vertex = (dash->first + i) % outline->vertex_count;
	return cutlint_point_mm(design->vertices[outline->first_vertex + vertex]);
}

double dash_strays(const struct cutlint_design *design, const struct dash *dash,
		   struct cutlint_xy from, struct cutlint_xy to)
{
	double most = 0;
	for (uint32_t i = 0; i < dash->run; i++)
		most = fmax(most, fabs(region_left_of(from, to, run_at(design, dash, i))));
	return most;
}

/* The vertex of a run that is farthest from a place; the first of equals. */
static struct cutlint_xy farthest_vertex(const struct cutlint_design *design,
					 const struct dash *dash, struct cutlint_xy at)
{
	struct cutlint_xy best = at;
	double most = -1;
	for (uint32_t i = 0; i < dash->run; i++) {
		struct cutlint_xy vertex = run_at(design, dash, i);
		if (xy_distance(vertex, at) > most) {
			most = xy_distance(vertex, at);
			best = vertex;
		}
	}
	return best;
}

uint32_t sheet_card_at(const struct sheet_work *work, struct cutlint_xy at)
{
	for (uint32_t i = 0; i < work->sheet->card_count; i++) {
		if (cutlint_box_contains(work->cards[i].box, at) &&
		    region_contains(&work->regions[i], at))
			return i;
	}
	return CUTLINT_NONE;
}

static void add_dash(struct dashes *dashes, struct dash dash)
{
	dashes->items[dashes->count++] = dash;
	cutlint_box_add(&dashes->box, dash.from);
	cutlint_box_add(&dashes->box, dash.to);
}

/* A run of an outline's vertices as a dash. */
static struct dash measure_run(const struct cutlint_design *design, uint32_t outline,
			       uint32_t first, uint32_t run)
{
	struct dash dash = {.outline = outline, .first = first, .run = run};
	dash.from = farthest_vertex(design, &dash, run_at(design, &dash, 0));
	dash.to = farthest_vertex(design, &dash, dash.from);
	dash.length = xy_distance(dash.from, dash.to);
	set_direction(&dash.from, &dash.to);
	return dash;
}

/* Whether an outline turns by more than a curve does, at one of its vertices. */
static bool is_corner(const struct cutlint_design *design, uint32_t number, uint32_t vertex)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
	uint32_t count = outline->vertex_count;
	if (!outline->closed && (vertex == 0 || vertex + 1 == count))
		return true;
	struct cutlint_xy at = cutlint_point_mm(vertices[vertex]);
	struct cutlint_xy in =
		xy_minus(at, cutlint_point_mm(vertices[(vertex + count - 1) % count]));
	struct cutlint_xy out = xy_minus(cutlint_point_mm(vertices[(vertex + 1) % count]), at);
	return fabs(atan2(xy_cross(in, out), xy_dot(in, out))) > LEAST_CORNER;
}

static void add_run(const struct sheet_work *work, struct dashes *dashes, uint32_t outline,
		    uint32_t first, uint32_t run)
{
	struct dash dash = measure_run(work->design, outline, first, run);
	dash.card = sheet_card_at(work, xy_middle(dash.from, dash.to));
	if (dash.length > 0)
		add_dash(dashes, dash);
}

/* An outline is one dash where it is straight or a curve, and else one from corner to corner. */
static void add_outline(const struct sheet_work *work, struct dashes *dashes, uint32_t number)
{
	const struct cutlint_outline *outline = &work->design->outlines[number];
	uint32_t count = outline->vertex_count, start = 0;
	struct dash whole = measure_run(work->design, number, 0, count);
	while (start < count && !is_corner(work->design, number, start))
		start++;
	if (start == count ||
	    dash_strays(work->design, &whole, whole.from, whole.to) <= SHEET_ON_CUT_MM) {
		add_run(work, dashes, number, 0, count);
		return;
	}
	uint32_t first = start, end = start + (outline->closed ? count : count - 1);
	for (uint32_t i = start + 1; i <= end; i++) {
		if (i < end && !is_corner(work->design, number, i % count))
			continue;
		add_run(work, dashes, number, first % count, i - first + 1);
		first = i;
	}
}

int dashes_collect(const struct sheet_work *work, struct dashes *dashes)
{
	const struct cutlint_design *design = work->design;
	size_t most = 1;
	*dashes = (struct dashes){.box = cutlint_box_empty()};
	for (uint32_t i = 0; i < design->outline_count; i++)
		most += cutlint_outline_role(design, i) == CUTLINT_ROLE_FOLD
				? design->outlines[i].vertex_count
				: 0;
	dashes->items = ARENA_ARRAY(work->scratch, struct dash, most);
	if (!dashes->items)
		return -1;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		if (cutlint_outline_role(design, i) == CUTLINT_ROLE_FOLD &&
		    sheet_has_sides(&design->outlines[i]))
			add_outline(work, dashes, i);
	}
	return 0;
}

struct span dashes_span(const struct dashes *dashes, const uint32_t *members, uint32_t count)
{
	const struct dash *longest = &dashes->items[members[0]];
	for (uint32_t i = 1; i < count; i++) {
		if (dashes->items[members[i]].length > longest->length)
			longest = &dashes->items[members[i]];
	}
	double ux = (longest->to.x - longest->from.x) / longest->length;
	double uy = (longest->to.y - longest->from.y) / longest->length;
	double low = INFINITY, high = -INFINITY;
	struct span span = {longest->from, longest->to};
	for (uint32_t i = 0; i < count; i++) {
		struct cutlint_xy ends[2] = {dashes->items[members[i]].from,
					     dashes->items[members[i]].to};
		for (int e = 0; e < 2; e++) {
			double at = ends[e].x * ux + ends[e].y * uy;
			span.from = at < low ? ends[e] : span.from;
			span.to = at > high ? ends[e] : span.to;
			low = fmin(low, at);
			high = fmax(high, at);
		}
	}
	set_direction(&span.from, &span.to);
	return span;
}
