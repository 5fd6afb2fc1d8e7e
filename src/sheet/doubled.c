#include "sheet/doubled.h"

#include <math.h>
#include <stdlib.h>

#include "geometry/distance.h"
#include "geometry/least.h"
#include "sheet/xy.h"

/* A stretch along the first of two outlines. One that goes on beyond the start of a closed outline
 * makes two. */
struct doubled_interval {
	double from, to; /* mm along it */
	double last;     /* greatest `to` of those in its part of the tree */
	uint32_t outlines[2];
	double reach;
};

static uint32_t side_count(const struct cutlint_outline *outline)
{
	return outline->closed || outline->vertex_count == 0 ? outline->vertex_count
							     : outline->vertex_count - 1;
}

static struct cutlint_xy vertex_at(const struct doubled *doubled, uint32_t vertex)
{
	return cutlint_point_mm(doubled->work->design->vertices[vertex]);
}

/* Adds the sides of an outline. */
static void add_sides(struct doubled *doubled, uint32_t number)
{
	const struct cutlint_design *design = doubled->work->design;
	const struct cutlint_outline *outline = &design->outlines[number];
	double way = 0;
	for (uint32_t i = 0; i < side_count(outline); i++) {
		uint32_t side = doubled->side_count++, from = outline->first_vertex + i;
		uint32_t to = outline->first_vertex + (i + 1) % outline->vertex_count;
		doubled->segments[side] =
			(struct geo_segment){design->vertices[from], design->vertices[to]};
		doubled->outlines[side] = number;
		doubled->along[side] = way;
		way += xy_distance(vertex_at(doubled, from), vertex_at(doubled, to));
	}
}

static double length_of_side(const struct doubled *doubled, uint32_t side)
{
	struct geo_segment s = doubled->segments[side];
	return xy_distance(cutlint_point_mm(s.from), cutlint_point_mm(s.to));
}

static void add_interval(struct doubled *doubled, const struct cutlint_overlap *overlap,
			 double from, double to)
{
	double reach = overlap->apart_mm + 2 * doubled->work->design->flatness_mm;
	doubled->intervals[doubled->interval_count++] = (struct doubled_interval){
		from, to, to, {overlap->outline[0], overlap->outline[1]}, reach};
}

/* `first` is the first side of its first outline. */
static void add_stretch(struct doubled *doubled, const struct cutlint_overlap *overlap,
			uint32_t first)
{
	const struct cutlint_outline *outline =
		&doubled->work->design->outlines[overlap->outline[0]];
	uint32_t side = first + overlap->vertex[0] - outline->first_vertex;
	uint32_t last = first + side_count(outline) - 1;
	double from = doubled->along[side] +
		      xy_distance(vertex_at(doubled, overlap->vertex[0]), overlap->from);
	double to = from + overlap->length_mm;
	double length = doubled->along[last] + length_of_side(doubled, last);
	add_interval(doubled, overlap, from, to);
	if (outline->closed && to > length)
		add_interval(doubled, overlap, from - length, to - length);
}

static int compare_intervals(const void *left, const void *right)
{
	const struct doubled_interval *a = left, *b = right;
	if (a->outlines[0] != b->outlines[0])
		return a->outlines[0] < b->outlines[0] ? -1 : 1;
	return (a->from > b->from) - (a->from < b->from);
}

/* The middle of each range is the root of its part of the tree, as in a search by halves. */
static double set_last(struct doubled_interval *intervals, uint32_t count)
{
	if (count == 0)
		return -INFINITY;
	uint32_t middle = count / 2;
	double before = set_last(intervals, middle);
	double after = set_last(intervals + middle + 1, count - middle - 1);
	double last = fmax(intervals[middle].to, fmax(before, after));
	intervals[middle].last = last;
	return last;
}

/* Of the intervals of one outline: the first and how many. */
static struct doubled_interval *of_outline(const struct doubled *doubled, uint32_t outline,
					   uint32_t *count)
{
	uint32_t bounds[2];
	for (uint32_t i = 0; i < 2; i++) {
		uint32_t low = 0, high = doubled->interval_count;
		while (low < high) {
			uint32_t middle = low + (high - low) / 2;
			if (doubled->intervals[middle].outlines[0] < outline + i)
				low = middle + 1;
			else
				high = middle;
		}
		bounds[i] = low;
	}
	*count = bounds[1] - bounds[0];
	return doubled->intervals + bounds[0];
}

static int reserve(struct doubled *doubled, const uint32_t *first)
{
	const struct sheet_work *work = doubled->work;
	size_t sides = 0;
	for (uint32_t i = 0; i < work->design->outline_count; i++)
		if (first[i] != CUTLINT_NONE)
			sides += side_count(&work->design->outlines[i]);
	doubled->segments = ARENA_ARRAY(work->scratch, struct geo_segment, sides + 1);
	doubled->outlines = ARENA_ARRAY(work->scratch, uint32_t, sides + 1);
	doubled->along = ARENA_ARRAY(work->scratch, double, sides + 1);
	doubled->intervals = ARENA_ARRAY(work->scratch, struct doubled_interval,
					 2 * (size_t)work->overlap_count + 1);
	bool taken = doubled->segments && doubled->outlines && doubled->along && doubled->intervals;
	return taken ? 0 : -1;
}

int doubled_init(struct doubled *doubled, const struct sheet_work *work)
{
	uint32_t outlines = work->design->outline_count;
	*doubled = (struct doubled){.work = work};
	uint32_t *first = ARENA_ARRAY(work->scratch, uint32_t, (size_t)outlines + 1);
	if (!first)
		return -1;
	for (uint32_t i = 0; i < outlines; i++)
		first[i] = CUTLINT_NONE;
	for (uint32_t i = 0; i < work->overlap_count; i++)
		first[work->overlaps[i].outline[0]] = 0;
	if (reserve(doubled, first))
		return -1;
	for (uint32_t i = 0; i < outlines; i++) {
		if (first[i] == CUTLINT_NONE)
			continue;
		first[i] = doubled->side_count;
		add_sides(doubled, i);
	}
	for (uint32_t i = 0; i < work->overlap_count; i++)
		add_stretch(doubled, &work->overlaps[i], first[work->overlaps[i].outline[0]]);
	if (doubled->interval_count > 0)
		qsort(doubled->intervals, doubled->interval_count, sizeof *doubled->intervals,
		      compare_intervals);
	for (uint32_t i = 0, count = 0; i < doubled->interval_count; i += count) {
		uint32_t outline = doubled->intervals[i].outlines[0];
		struct doubled_interval *intervals = of_outline(doubled, outline, &count);
		set_last(intervals, count);
	}
	doubled->index = geo_index_create(doubled->segments, doubled->side_count);
	return doubled->index ? 0 : -1;
}

void doubled_finish(struct doubled *doubled)
{
	geo_index_destroy(doubled->index);
}

struct search {
	const struct doubled *doubled;
	uint32_t outlines[2];
	struct cutlint_xy at;
	uint32_t side;   /* near the place */
	double from, to; /* of the side, in mm along its outline */
	bool found;
};

/* Whether a place is near to what of the side lies in an interval. */
static bool is_near(const struct search *search, const struct doubled_interval *interval)
{
	double low = fmax(search->from, interval->from), high = fmin(search->to, interval->to);
	double length = search->to - search->from;
	if (interval->outlines[1] != search->outlines[1] || low > high || length <= 0)
		return false;
	const struct geo_segment *side = &search->doubled->segments[search->side];
	struct cutlint_xy a = cutlint_point_mm(side->from), b = cutlint_point_mm(side->to);
	double s = (low - search->from) / length, t = (high - search->from) / length;
	struct geo_vector on = geo_nearest_on_segment(
		sheet_nm((struct cutlint_xy){a.x + s * (b.x - a.x), a.y + s * (b.y - a.y)}),
		sheet_nm((struct cutlint_xy){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)}),
		sheet_nm(search->at));
	return xy_distance(search->at, sheet_mm(on)) <= interval->reach;
}

/* Looks at the intervals that have something between two places. */
static bool look_between(const struct search *search, const struct doubled_interval *intervals,
			 uint32_t count, double low, double high)
{
	uint32_t middle = count / 2;
	if (count == 0 || intervals[middle].last < low)
		return false;
	if (look_between(search, intervals, middle, low, high))
		return true;
	if (intervals[middle].from > high)
		return false;
	return (intervals[middle].to >= low && is_near(search, &intervals[middle])) ||
	       look_between(search, intervals + middle + 1, count - middle - 1, low, high);
}

/* The farthest that a place lies from a stretch that it is on, in mm. */
static double farthest(const struct doubled *doubled)
{
	return SHEET_APART_MM + 2 * doubled->work->design->flatness_mm;
}

static bool visit(void *user, uint32_t side)
{
	struct search *search = user;
	const struct doubled *doubled = search->doubled;
	if (doubled->outlines[side] != search->outlines[0])
		return true;
	struct geo_segment s = doubled->segments[side];
	struct geo_vector at = sheet_nm(search->at);
	double reach = farthest(doubled), reach_nm = reach * SHEET_NM;
	if (geo_apart(at.x - reach_nm, at.x + reach_nm, s.from.x, s.to.x) > 0 ||
	    geo_apart(at.y - reach_nm, at.y + reach_nm, s.from.y, s.to.y) > 0)
		return true;
	struct geo_vector on = geo_nearest_on_segment(sheet_vector(s.from), sheet_vector(s.to), at);
	double across = at.x - on.x, down = at.y - on.y;
	if (across * across + down * down > reach_nm * reach_nm)
		return true;
	search->side = side;
	search->from = doubled->along[side];
	search->to = search->from + length_of_side(doubled, side);
	double there = search->from + xy_distance(cutlint_point_mm(s.from), sheet_mm(on));
	uint32_t count;
	struct doubled_interval *intervals = of_outline(doubled, search->outlines[0], &count);
	search->found =
		look_between(search, intervals, count, there - 2 * reach, there + 2 * reach);
	return !search->found;
}

bool doubled_at(const struct doubled *doubled, uint32_t a, uint32_t b, struct cutlint_xy at)
{
	struct search search = {
		.doubled = doubled, .outlines = {a < b ? a : b, a < b ? b : a}, .at = at};
	struct geo_vector place = sheet_nm(at);
	if (search.outlines[1] == CUTLINT_NONE)
		return false;
	geo_index_band(doubled->index, place, place, farthest(doubled) * SHEET_NM, visit, &search);
	return search.found;
}
