/* duplicate-outline.c - lines that are burned twice, and strokes traced as two edges. */
#include "cutlint/rule.h"

#include <math.h>
#include <stdlib.h>

struct options {
	double apart_mm;
	double least_length_mm;
	double traced_mm;
};

static const struct cutlint_option OPTIONS[] = {
	{"apart", CUTLINT_OPTION_LENGTH, offsetof(struct options, apart_mm), "0.05 mm", 0, 0.05,
	 NULL, false, "lines at most this far apart all along are the same line"},
	{"least-length", CUTLINT_OPTION_LENGTH, offsetof(struct options, least_length_mm), "1 mm",
	 1, 1000, NULL, false, "shorter stretches, as where two lines cross, are not looked at"},
	{"traced", CUTLINT_OPTION_LENGTH, offsetof(struct options, traced_mm), "0.5 mm", 0, 1, NULL,
	 false, "two closed lines at most this far apart are both edges of a traced stroke"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

/* What two shapes have in common: all stretches of the one that lie on the other. */
struct shared {
	double length_mm, apart_mm;
	uint32_t stretches;
};

static uint32_t shape_of(const struct cutlint_design *design, const struct cutlint_overlap *overlap,
			 int side)
{
	return design->outlines[overlap->outline[side]].shape;
}

/* Lines for an inset are cut from another sheet: they meet only their like. */
static bool on_one_sheet(const struct cutlint_design *design, const struct cutlint_overlap *overlap)
{
	bool first = cutlint_outline_role(design, overlap->outline[0]) == CUTLINT_ROLE_INSET;
	bool second = cutlint_outline_role(design, overlap->outline[1]) == CUTLINT_ROLE_INSET;
	return first == second;
}

static bool counts(const struct cutlint_check *check, const struct options *options,
		   const struct cutlint_overlap *overlap)
{
	return on_one_sheet(cutlint_check_design(check), overlap) &&
	       overlap->length_mm >= options->least_length_mm - SLACK_MM &&
	       overlap->apart_mm <= options->apart_mm + SLACK_MM;
}

static bool is_fold(const struct cutlint_design *design, uint32_t outline)
{
	return cutlint_outline_role(design, outline) == CUTLINT_ROLE_FOLD;
}

/* Whether one of the two is scored and the other cuts through. */
static bool is_cut_score(const struct cutlint_design *design, const struct cutlint_overlap *overlap)
{
	return is_fold(design, overlap->outline[0]) != is_fold(design, overlap->outline[1]);
}

static const char *verb_of(const struct cutlint_design *design,
			   const struct cutlint_overlap *overlap)
{
	if (is_cut_score(design, overlap))
		return "scored and cut through";
	return is_fold(design, overlap->outline[0]) ? "scored twice" : "burned twice";
}

static struct cutlint_place place_of(const struct cutlint_design *design,
				     const struct cutlint_overlap *overlap, int side)
{
	/* Where a whole outline is double its start says it; where it starts does not matter. */
	if (overlap->whole[side])
		return cutlint_place_outline(design, overlap->outline[side]);
	struct cutlint_place place = cutlint_place_vertex(design, overlap->vertex[side]);
	place.at = side == 0 || !overlap->reversed ? overlap->from : overlap->to;
	return place;
}

static void suggest(const struct cutlint_design *design, struct cutlint_finding *finding,
		    const struct cutlint_overlap *overlap)
{
	if (is_cut_score(design, overlap))
		cutlint_suggest(finding,
				"delete the cut along the fold, or the fold along the cut");
	else if (overlap->whole[1])
		cutlint_suggest(finding, "delete one of the two");
	else if (overlap->whole[0])
		cutlint_suggest(finding, "delete the shorter one, which lies on the other");
	else
		cutlint_suggest(finding, "delete the stretch from one of the two, or merge them "
					 "into one outline");
}

/* An element that draws nothing but this copy can go. */
static void offer_deletion(struct cutlint_check *check, struct cutlint_finding *finding,
			   const struct cutlint_overlap *overlap)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_shape *shape = cutlint_outline_shape(design, overlap->outline[1]);
	bool alike = cutlint_outline_role(design, overlap->outline[0]) ==
		     cutlint_outline_role(design, overlap->outline[1]);
	if (!overlap->whole[1] || shape->placement || shape->outline_count != 1 || !alike)
		return;
	struct cutlint_span span = cutlint_element_span(check, shape->element);
	if (span.length)
		cutlint_edit(finding, span, "");
}

/* Only so many points of a stretch are shown. */
enum { POINTS_MOST = 200 };

/* How many sides of the later line the stretch takes, its first one included. */
static uint32_t sides_of(const struct cutlint_design *design, const struct cutlint_overlap *overlap)
{
	const struct cutlint_outline *outline = &design->outlines[overlap->outline[1]];
	const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
	uint32_t side = overlap->vertex[1] - outline->first_vertex, count = 1;
	struct cutlint_xy at = overlap->reversed ? overlap->to : overlap->from;
	double length = 0;
	for (; count < outline->vertex_count; count++) {
		side = (side + 1) % outline->vertex_count;
		struct cutlint_xy next = cutlint_point_mm(vertices[side]);
		length += hypot(next.x - at.x, next.y - at.y);
		if (length >= overlap->length_mm - SLACK_MM)
			break;
		at = next;
	}
	return count;
}

/* The stretch as it runs along the later line. */
static void show_stretch(const struct cutlint_design *design, struct cutlint_finding *finding,
			 const struct cutlint_overlap *overlap)
{
	const struct cutlint_outline *outline = &design->outlines[overlap->outline[1]];
	uint32_t sides = sides_of(design, overlap), step = sides / POINTS_MOST + 1, count = 1;
	struct cutlint_xy points[POINTS_MOST + 2];
	points[0] = overlap->reversed ? overlap->to : overlap->from;
	for (uint32_t i = 1; i < sides; i += step) {
		uint32_t side = overlap->vertex[1] - outline->first_vertex + i;
		points[count++] = cutlint_point_mm(
			design->vertices[outline->first_vertex + side % outline->vertex_count]);
	}
	points[count++] = overlap->reversed ? overlap->from : overlap->to;
	cutlint_show_way(finding, points, count, overlap->length_mm);
}

/* The fold of which an outline is a dash; CUTLINT_NONE where it is of none. */
static uint32_t fold_of(const struct cutlint_check *check, uint32_t outline)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	struct cutlint_point vertex = design->vertices[design->outlines[outline].first_vertex];
	struct cutlint_xy at = cutlint_point_mm(vertex);
	for (uint32_t i = 0; i < sheet->fold_count; i++) {
		const struct cutlint_fold *fold = &sheet->folds[i];
		double x = fold->to.x - fold->from.x, y = fold->to.y - fold->from.y;
		double length = hypot(x, y);
		double along = ((at.x - fold->from.x) * x + (at.y - fold->from.y) * y) / length;
		double beside = ((at.x - fold->from.x) * y - (at.y - fold->from.y) * x) / length;
		if (fabs(beside) <= fold->farthest_mm + SLACK_MM && along >= -SLACK_MM &&
		    along <= length + SLACK_MM)
			return i;
	}
	return CUTLINT_NONE;
}

/* Which side of an overlap is a dash of a fold that lies on a cut; -1 where none is. */
static int dash_side(const struct cutlint_check *check, const struct cutlint_overlap *overlap)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	if (!is_cut_score(design, overlap))
		return -1;
	return is_fold(design, overlap->outline[0]) ? 0 : 1;
}

/* Whether two stretches are said together: of the same two shapes, or of one fold on a shape. */
static bool is_said_with(const struct cutlint_check *check, const struct cutlint_overlap *a,
			 const struct cutlint_overlap *b)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	int side = dash_side(check, a), other = dash_side(check, b);
	uint32_t fold = side < 0 ? CUTLINT_NONE : fold_of(check, a->outline[side]);
	if (fold == CUTLINT_NONE)
		return shape_of(design, a, 0) == shape_of(design, b, 0) &&
		       shape_of(design, a, 1) == shape_of(design, b, 1);
	return other >= 0 && fold_of(check, b->outline[other]) == fold &&
	       shape_of(design, a, 1 - side) == shape_of(design, b, 1 - other);
}

/* So many stretches of one finding are shown, and looked for among so many overlaps. */
enum { STRETCHES_MOST = 24, LOOKED_AT_MOST = 10000 };

static void show_stretches(const struct cutlint_check *check, const struct options *options,
			   struct cutlint_finding *finding, const struct cutlint_overlap *overlap,
			   const struct shared *shared)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	const struct cutlint_overlap *end = sheet->overlaps + sheet->overlap_count, *at = overlap;
	uint32_t shown = 0;
	if (shared->stretches == 1 && overlap->whole[1]) {
		cutlint_show_outline(finding, overlap->outline[1], shared->length_mm);
		return;
	}
	if (end - overlap > LOOKED_AT_MOST)
		end = overlap + LOOKED_AT_MOST;
	for (; at < end && shown < shared->stretches && shown < STRETCHES_MOST; at++) {
		if (!counts(check, options, at) || !is_said_with(check, overlap, at))
			continue;
		show_stretch(design, finding, at);
		shown++;
	}
}

static void report(struct cutlint_check *check, const struct options *options,
		   const struct cutlint_overlap *overlap, const struct shared *shared)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	bool itself = shape_of(design, overlap, 0) == shape_of(design, overlap, 1);
	char name[128];
	cutlint_element_name(cutlint_outline_shape(design, overlap->outline[0])->element, name,
			     sizeof name);

	struct cutlint_finding *finding =
		cutlint_report(check, CUTLINT_ERROR, place_of(design, overlap, 1),
			       "line %s over %.2f mm: %s lies on %s%s", verb_of(design, overlap),
			       shared->length_mm, overlap->whole[1] ? "all of it" : "a part of it",
			       itself ? "itself, " : "", name);
	cutlint_limit(finding, "apart");
	cutlint_measured(finding, "length", shared->length_mm, options->least_length_mm, "mm");
	if (is_cut_score(design, overlap))
		cutlint_measured(finding, "scored", shared->length_mm, NAN, "mm");
	cutlint_measured(finding, "apart", shared->apart_mm, options->apart_mm, "mm");
	show_stretches(check, options, finding, overlap, shared);
	if (shared->stretches > 1)
		cutlint_relate(finding, place_of(design, overlap, 0),
			       "the first line, in %u stretches", (unsigned)shared->stretches);
	else
		cutlint_relate(finding, place_of(design, overlap, 0), "the first line");
	suggest(design, finding, overlap);
	if (!itself)
		offer_deletion(check, finding, overlap);
}

/* A stretch that is said with others: the fold, or the first shape, and the one that lies on it. */
struct stretch {
	uint32_t on, shape, number;
};

static int compare_stretches(const void *left, const void *right)
{
	const struct stretch *a = left, *b = right;
	if (a->on != b->on)
		return a->on < b->on ? -1 : 1;
	if (a->shape != b->shape)
		return a->shape < b->shape ? -1 : 1;
	return a->number < b->number ? -1 : a->number > b->number;
}

/* The stretches of dashes on cuts, grouped by fold and shape. */
static uint32_t collect_scored(const struct cutlint_check *check, const struct options *options,
			       struct stretch *scored)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	uint32_t count = 0;
	for (uint32_t i = 0; i < sheet->overlap_count; i++) {
		const struct cutlint_overlap *overlap = &sheet->overlaps[i];
		int side = dash_side(check, overlap);
		if (side < 0 || !counts(check, options, overlap))
			continue;
		uint32_t fold = fold_of(check, overlap->outline[side]);
		if (fold == CUTLINT_NONE)
			continue;
		uint32_t shape = shape_of(cutlint_check_design(check), overlap, 1 - side);
		scored[count++] = (struct stretch){fold, shape, i};
	}
	qsort(scored, count, sizeof *scored, compare_stretches);
	return count;
}

static void add_stretch(struct shared *shared, const struct cutlint_overlap *overlap)
{
	shared->length_mm += overlap->length_mm;
	shared->apart_mm = fmax(shared->apart_mm, overlap->apart_mm);
	shared->stretches++;
}

/*
 * Sums the stretches of the same two shapes at the first of them; the others keep none. Overlaps
 * are ordered by their first outline.
 */
static void sum_stretches(const struct cutlint_check *check, const struct options *options,
			  struct stretch *stretches, struct shared *sums)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	uint32_t count = 0, run = 0;
	for (uint32_t i = 0; i < sheet->overlap_count; i++) {
		const struct cutlint_overlap *overlap = &sheet->overlaps[i];
		if (i > 0 && shape_of(design, overlap, 0) != shape_of(design, overlap - 1, 0))
			run++;
		if (counts(check, options, overlap))
			stretches[count++] = (struct stretch){run, shape_of(design, overlap, 1), i};
	}
	qsort(stretches, count, sizeof *stretches, compare_stretches);
	for (uint32_t i = 0, first = 0; i < count; i++) {
		if (stretches[i].on != stretches[first].on ||
		    stretches[i].shape != stretches[first].shape)
			first = i;
		add_stretch(&sums[stretches[first].number], &sheet->overlaps[stretches[i].number]);
	}
}

/* All dashes of one fold on one shape are one finding, at the first of them. */
static void check_scored(struct cutlint_check *check, const struct options *options,
			 const struct stretch *scored, uint32_t count)
{
	const struct cutlint_overlap *overlaps = cutlint_check_sheet(check)->overlaps;
	for (uint32_t i = 0, next; i < count; i = next) {
		struct shared shared = {0};
		for (next = i; next < count && scored[next].on == scored[i].on &&
			       scored[next].shape == scored[i].shape;
		     next++) {
			add_stretch(&shared, &overlaps[scored[next].number]);
		}
		report(check, options, &overlaps[scored[i].number], &shared);
	}
}

/*
 * `said` marks outlines that are already known to be copies as a whole: of three equal lines the
 * second and the third are said once each.
 */
static void check_overlaps(struct cutlint_check *check, const struct options *options,
			   const struct shared *sums, bool *said)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (uint32_t i = 0; i < sheet->overlap_count; i++) {
		const struct cutlint_overlap *overlap = &sheet->overlaps[i];
		int dash = dash_side(check, overlap);
		bool elsewhere =
			dash >= 0 && fold_of(check, overlap->outline[dash]) != CUTLINT_NONE;
		if (!counts(check, options, overlap) || elsewhere)
			continue;
		bool known = said[overlap->outline[1]];
		if (overlap->whole[1])
			said[overlap->outline[1]] = true;
		if (!known && sums[i].stretches)
			report(check, options, overlap, &sums[i]);
	}
}

/* From a place on the one edge straight to the other. */
static void show_apart(const struct cutlint_design *design, struct cutlint_finding *finding,
		       uint32_t first, uint32_t later)
{
	struct cutlint_xy at =
		cutlint_point_mm(design->vertices[design->outlines[later].first_vertex]);
	struct cutlint_wall wall;
	cutlint_segment_distance(design, first, at, at, &wall);
	cutlint_show_span(finding, at, wall.at);
}

static void check_traced(struct cutlint_check *check, const struct options *options,
			 const struct cutlint_traced *pair)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	bool art = cutlint_outline_role(design, pair->outer) == CUTLINT_ROLE_ART &&
		   cutlint_outline_role(design, pair->inner) == CUTLINT_ROLE_ART;
	if (!art || pair->apart_mm > options->traced_mm + SLACK_MM)
		return;

	uint32_t first = pair->outer < pair->inner ? pair->outer : pair->inner;
	uint32_t later = pair->outer < pair->inner ? pair->inner : pair->outer;
	struct cutlint_finding *finding =
		cutlint_report(check, CUTLINT_WARNING, cutlint_place_outline(design, later),
			       "both edges of a traced stroke, %.2f mm apart: the line is burned "
			       "twice, and what lies inside falls out",
			       pair->apart_mm);
	cutlint_limit(finding, "traced");
	cutlint_measured(finding, "apart", pair->apart_mm, options->traced_mm, "mm");
	show_apart(design, finding, first, later);
	cutlint_relate(finding, cutlint_place_outline(design, first), "the other edge");
	cutlint_suggest(finding, "trace the centre line of the stroke, or fill the shape and trace "
				 "its outer edge alone");
}

/* Returns 0, or -1 where memory ran out. */
static int check_doubled(struct cutlint_check *check, const struct options *options)
{
	uint32_t count = cutlint_check_sheet(check)->overlap_count;
	if (count == 0)
		return 0;
	bool *said = calloc(cutlint_check_design(check)->outline_count, sizeof *said);
	struct stretch *stretches = calloc(count, sizeof *stretches);
	struct shared *sums = calloc(count, sizeof *sums);
	bool whole = said && stretches && sums;
	if (whole) {
		sum_stretches(check, options, stretches, sums);
		check_overlaps(check, options, sums, said);
		check_scored(check, options, stretches, collect_scored(check, options, stretches));
	}
	free(said);
	free(stretches);
	free(sums);
	return whole ? 0 : -1;
}

static enum cutlint_outcome check_duplicates(struct cutlint_check *check, const void *options)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	if (check_doubled(check, options) < 0)
		return cutlint_could_not_look(check, "out of memory");
	for (uint32_t i = 0; i < sheet->traced_count; i++)
		check_traced(check, options, &sheet->traced[i]);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "duplicate-outline",
	.summary = "the same stretch burned twice, in whole or in part, and strokes traced as two "
		   "edges",
	.advice =
		"Delete one of the two lines, or merge shapes that share an edge. Trace the centre "
		"line of a thin stroke instead of both its edges.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_OVERLAPS | CUTLINT_NEEDS_CARDS,
	.check = check_duplicates,
};
