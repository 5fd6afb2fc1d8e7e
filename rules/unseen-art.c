/* unseen-art.c - what will not burn as it is seen: hidden, off the page, a dot, a broad stroke. */
#include "cutlint/rule.h"

#include <math.h>
#include <stdlib.h>

struct options {
	double stroke_kerfs;
};

static const struct cutlint_option OPTIONS[] = {
	{"stroke", CUTLINT_OPTION_NUMBER, offsetof(struct options, stroke_kerfs), "10", 1, 1000,
	 NULL, false, "a stroke wider than this many kerfs is noted: its middle is burned"},
	{.name = NULL},
};

enum reason {
	HIDDEN_DISPLAY,
	HIDDEN_VISIBILITY,
	HIDDEN_OPACITY,
	HIDDEN_PAINT,
	OFF_PAGE,
	BROAD_STROKE,
	REASON_COUNT
};

/* Of an element: how many shapes it and its descendants draw, and with how many what is wrong. */
struct tally {
	uint32_t total, wrong[REASON_COUNT];
	uint32_t named[REASON_COUNT]; /* of those, how many have a role by name */
	double broadest_mm;
	const struct cutlint_shape *broadest;
	bool said[REASON_COUNT];
};

/* A line that is shorter burns a dot. */
static const double DOT_MM = 0.001;

static bool is_off_page(const struct cutlint_design *design, const struct cutlint_shape *shape)
{
	if (!(design->page_width_mm > 0) || !(design->page_height_mm > 0) ||
	    shape->outline_count == 0)
		return false;
	for (uint32_t i = 0; i < shape->outline_count; i++) {
		struct cutlint_box box = cutlint_outline_box(design, shape->first_outline + i);
		if (box.right >= 0 && box.bottom >= 0 && box.left <= design->page_width_mm &&
		    box.top <= design->page_height_mm)
			return false;
	}
	return true;
}

/* What lies past the sheet or the bed that the job names, the card-margin rule says. */
static bool is_past_sheet(const struct cutlint_check *check, const struct cutlint_shape *shape)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	double width = job->sheet_width_mm, height = job->sheet_height_mm;
	if (!(width > 0)) {
		width = job->bed_width_mm;
		height = job->bed_height_mm;
	}
	for (uint32_t i = 0; width > 0 && i < shape->outline_count; i++) {
		struct cutlint_box box =
			cutlint_outline_box(cutlint_check_design(check), shape->first_outline + i);
		if (box.left < 0 || box.top < 0 || box.right > width || box.bottom > height)
			return true;
	}
	return false;
}

static double broad_stroke_mm(const struct cutlint_check *check, const struct options *options)
{
	return options->stroke_kerfs * cutlint_check_job(check)->kerf_mm;
}

/* What is wrong with a shape; REASON_COUNT for nothing. */
static enum reason reason_of(const struct cutlint_check *check, const struct options *options,
			     const struct cutlint_shape *shape)
{
	switch (shape->unburned) {
	case CUTLINT_UNBURNED_DISPLAY:
		return HIDDEN_DISPLAY;
	case CUTLINT_UNBURNED_VISIBILITY:
		return HIDDEN_VISIBILITY;
	case CUTLINT_UNBURNED_OPACITY:
		return HIDDEN_OPACITY;
	case CUTLINT_UNBURNED_PAINT:
		return HIDDEN_PAINT;
	case CUTLINT_BURNED:
		break;
	default: /* The reader speaks of text and pictures. */
		return REASON_COUNT;
	}
	if (is_off_page(cutlint_check_design(check), shape) && !is_past_sheet(check, shape))
		return OFF_PAGE;
	if (cutlint_role_cuts(shape->role) && shape->stroke.kind != CUTLINT_PAINT_NONE &&
	    shape->stroke_width_mm > broad_stroke_mm(check, options) + 0.001)
		return BROAD_STROKE;
	return REASON_COUNT;
}

/* Where a shape stands in the tree: its element, or the outermost use that placed it. */
static const struct cutlint_element *stand_of(const struct cutlint_shape *shape)
{
	const struct cutlint_element *element = shape->element;
	for (const struct cutlint_placement *at = shape->placement; at; at = at->outer)
		element = at->use;
	return element;
}

static void count_shape(const struct cutlint_check *check, const struct options *options,
			const struct cutlint_shape *shape, struct tally *tallies)
{
	enum reason reason = reason_of(check, options, shape);
	for (const struct cutlint_element *at = stand_of(shape); at; at = at->parent) {
		struct tally *tally = &tallies[at->index];
		tally->total++;
		if (reason == REASON_COUNT)
			continue;
		tally->wrong[reason]++;
		tally->named[reason] += shape->role_named;
		if (reason != BROAD_STROKE || shape->stroke_width_mm <= tally->broadest_mm)
			continue;
		tally->broadest_mm = shape->stroke_width_mm;
		tally->broadest = shape;
	}
}

/* The outermost element below the root in which all shapes have the same wrong. */
static const struct cutlint_element *group_of(const struct cutlint_shape *shape, enum reason reason,
					      const struct tally *tallies)
{
	const struct cutlint_element *group = stand_of(shape);
	for (const struct cutlint_element *at = group; at && at->parent; at = at->parent) {
		if (tallies[at->index].wrong[reason] == tallies[at->index].total)
			group = at;
	}
	return group;
}

static void report_hidden(struct cutlint_check *check, const struct cutlint_element *group,
			  enum reason reason, const struct tally *tally)
{
	static const char *const WHY[] = {
		[HIDDEN_DISPLAY] = "display is none",
		[HIDDEN_VISIBILITY] = "visibility is hidden",
		[HIDDEN_OPACITY] = "opacity is 0",
		[HIDDEN_PAINT] = "there is neither fill nor stroke",
	};
	uint32_t count = tally->wrong[reason];
	struct cutlint_finding *finding = cutlint_report(
		check, tally->named[reason] ? CUTLINT_WARNING : CUTLINT_NOTE,
		cutlint_place_element(group), "%u %s not burned, because %s", (unsigned)count,
		count == 1 ? "shape is" : "shapes are", WHY[reason]);
	cutlint_suggest(finding, "show what is to be burned; give the rest the role guide or skip, "
				 "or take it out, since other programs may burn it");
}

static void report_off_page(struct cutlint_check *check, const struct cutlint_element *group,
			    const struct tally *tally)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	uint32_t count = tally->wrong[OFF_PAGE];
	struct cutlint_finding *finding =
		cutlint_report(check, CUTLINT_WARNING, cutlint_place_element(group),
			       "%u %s off the page of %.2f mm x %.2f mm", (unsigned)count,
			       count == 1 ? "shape lies" : "shapes lie", design->page_width_mm,
			       design->page_height_mm);
	const struct cutlint_box page = {0, 0, design->page_width_mm, design->page_height_mm};
	cutlint_show_box(finding, page, "page");
	cutlint_suggest(finding, "move it on to the page, or give it the role guide or skip");
}

/* Square across the longest side of the shape's first outline. */
static void show_stroke(const struct cutlint_design *design, struct cutlint_finding *finding,
			const struct cutlint_shape *shape)
{
	const struct cutlint_outline *outline = &design->outlines[shape->first_outline];
	double longest = 0;
	struct cutlint_xy ends[2] = {{0, 0}, {0, 0}};
	for (uint32_t i = 1; shape->outline_count && i < outline->vertex_count; i++) {
		const struct cutlint_point *at = &design->vertices[outline->first_vertex + i];
		struct cutlint_xy a = cutlint_point_mm(at[-1]), b = cutlint_point_mm(at[0]);
		double length = hypot(b.x - a.x, b.y - a.y);
		if (length <= longest)
			continue;
		double half = shape->stroke_width_mm / 2 / length;
		struct cutlint_xy middle = {(a.x + b.x) / 2, (a.y + b.y) / 2};
		longest = length;
		ends[0] = (struct cutlint_xy){middle.x - (b.y - a.y) * half,
					      middle.y + (b.x - a.x) * half};
		ends[1] = (struct cutlint_xy){middle.x + (b.y - a.y) * half,
					      middle.y - (b.x - a.x) * half};
	}
	if (longest > 0)
		cutlint_show_span(finding, ends[0], ends[1]);
}

static void report_stroke(struct cutlint_check *check, const struct options *options,
			  const struct cutlint_element *group, const struct tally *tally)
{
	double limit_mm = broad_stroke_mm(check, options);
	uint32_t count = tally->wrong[BROAD_STROKE];
	struct cutlint_place place = cutlint_place_element(group);
	struct cutlint_finding *finding =
		count == 1 ? cutlint_report(
				     check, CUTLINT_NOTE, place,
				     "stroke of %.2f mm, over %.2f mm, is burned as one line in "
				     "its middle",
				     tally->broadest_mm, limit_mm)
			   : cutlint_report(
				     check, CUTLINT_NOTE, place,
				     "strokes of up to %.2f mm, over %.2f mm, are burned as one "
				     "line in their middle: %u shapes",
				     tally->broadest_mm, limit_mm, (unsigned)count);
	cutlint_limit(finding, "stroke");
	cutlint_measured(finding, "stroke", tally->broadest_mm, limit_mm, "mm");
	show_stroke(cutlint_check_design(check), finding, tally->broadest);
	cutlint_suggest(finding, "turn it into a filled outline if its edges are meant, else draw "
				 "it thin");
}

static void report_group(struct cutlint_check *check, const struct options *options,
			 const struct cutlint_shape *shape, struct tally *tallies)
{
	enum reason reason = reason_of(check, options, shape);
	if (reason == REASON_COUNT)
		return;
	const struct cutlint_element *group = group_of(shape, reason, tallies);
	struct tally *tally = &tallies[group->index];
	if (tally->said[reason])
		return;
	tally->said[reason] = true;
	if (reason == OFF_PAGE)
		report_off_page(check, group, tally);
	else if (reason == BROAD_STROKE)
		report_stroke(check, options, group, tally);
	else
		report_hidden(check, group, reason, tally);
}

static void check_dots(struct cutlint_check *check)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	for (uint32_t i = 0; i < design->outline_count; i++) {
		if (!cutlint_role_burned(cutlint_outline_role(design, i)) ||
		    cutlint_outline_length(design, i) > DOT_MM)
			continue;
		struct cutlint_finding *finding =
			cutlint_report(check, CUTLINT_WARNING, cutlint_place_outline(design, i),
				       "line without length: the beam burns a dot where it stands");
		cutlint_suggest(finding, "take it out");
	}
}

static enum cutlint_outcome check_unseen(struct cutlint_check *check, const void *options)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	struct tally *tallies = calloc((size_t)design->element_count + 1, sizeof(*tallies));
	if (!tallies)
		return cutlint_could_not_look(check, "out of memory");
	for (uint32_t i = 0; i < design->shape_count; i++) {
		if (cutlint_role_burned(design->shapes[i].role))
			count_shape(check, options, &design->shapes[i], tallies);
	}
	for (uint32_t i = 0; i < design->shape_count; i++) {
		if (cutlint_role_burned(design->shapes[i].role))
			report_group(check, options, &design->shapes[i], tallies);
	}
	check_dots(check);
	free(tallies);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "unseen-art",
	.summary =
		"what will not burn as it is seen: hidden or off the page, lines without length, "
		"broad strokes",
	.advice = "Draw what is to be burned as thin visible lines on the page, and take out the "
		  "rest or give it the role guide or skip.",
	.severity = CUTLINT_WARNING,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.check = check_unseen,
};
