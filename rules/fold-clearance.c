/* fold-clearance.c - a fold keeps clear of every cut. */
#include "cutlint/rule.h"

#include <math.h>

struct options {
	double error_mm, warning_mm;
};

static const struct cutlint_option OPTIONS[] = {
	{"error", CUTLINT_OPTION_LENGTH, offsetof(struct options, error_mm), "1 mm", 0, 100, NULL,
	 false, "a cut nearer to the fold than this, burned edge to score, is an error"},
	{"warning", CUTLINT_OPTION_LENGTH, offsetof(struct options, warning_mm), "3 mm", 0, 100,
	 NULL, false, "a cut nearer to the fold than this, burned edge to score, is a warning"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

/* An end of a fold. */
struct end {
	struct cutlint_xy at, other; /* it, and the fold's other end */
	struct cutlint_stop stop;
};

/* A fold with where its two ends stop. */
struct stopped {
	const struct cutlint_fold *fold;
	struct end from, to;
};

/* A fold that stops this little before a cut ends on it, as in the model; or a gap of its dashes.
 */
static double on_mm(const struct cutlint_fold *fold)
{
	return fmax(0.5, cutlint_fold_gap(fold)) + SLACK_MM;
}

static bool is_inner_cut(const struct cutlint_check *check, uint32_t outline, uint32_t card)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	enum cutlint_role role = cutlint_outline_role(design, outline);
	return (role == CUTLINT_ROLE_ART || role == CUTLINT_ROLE_SLIT) &&
	       cutlint_sheet_card_of(design, cutlint_check_sheet(check), outline) == card;
}

/* Where a cut is nearest to a fold: the place on the cut, and that on the fold. */
struct near {
	struct cutlint_wall wall;
	struct cutlint_xy foot;
};

/* The place between two others that is nearest to a third. */
static struct cutlint_xy foot_between(struct cutlint_xy from, struct cutlint_xy to,
				      struct cutlint_xy at)
{
	double x = to.x - from.x, y = to.y - from.y;
	double square = x * x + y * y;
	double share = (at.x - from.x) * x + (at.y - from.y) * y;
	share = square > 0 ? fmin(fmax(share / square, 0), 1) : 0;
	return (struct cutlint_xy){from.x + share * x, from.y + share * y};
}

/* A slit across the fold may have been meant as a mouth. */
static void suggest_way(const struct cutlint_check *check, const struct options *options,
			struct cutlint_finding *finding, const struct cutlint_wall *wall,
			double drawn_mm)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	bool slit = drawn_mm <= 0 && !design->outlines[wall->outline].closed;
	cutlint_suggest(finding, "move the cut at least %.2f mm away from the fold%s",
			cutlint_at_least(fmax(options->error_mm, options->warning_mm) +
						 cutlint_check_job(check)->kerf_mm / 2,
					 0.01),
			slit ? "; for a pop-up, draw scores from it on both sides of the fold, to "
			       "one place on it and at equal angles"
			     : "");
}

static void report_near(struct cutlint_check *check, const struct options *options,
			const struct cutlint_fold *fold, const struct near *near, double drawn_mm)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	double clear_mm = drawn_mm - cutlint_check_job(check)->kerf_mm / 2;
	bool bad = clear_mm < options->error_mm - SLACK_MM;
	double limit_mm = bad ? options->error_mm : options->warning_mm;
	struct cutlint_place line = cutlint_place_vertex(design, fold->vertex);
	struct cutlint_place cut = cutlint_place_wall(design, &near->wall);
	line.at = cut.at;
	bool cut_later = cut.span.byte > line.span.byte;

	enum cutlint_severity severity = bad ? CUTLINT_ERROR : CUTLINT_WARNING;
	struct cutlint_place place = cut_later ? cut : line;
	struct cutlint_finding *finding;
	if (drawn_mm <= 0)
		finding = cutlint_report(check, CUTLINT_ERROR, place, "fold runs through a cut");
	else if (clear_mm <= SLACK_MM)
		finding = cutlint_report(check, CUTLINT_ERROR, place,
					 "fold lies in the burn of a cut: %.2f mm from its line, "
					 "which burns %.3f mm to each side",
					 drawn_mm, cutlint_check_job(check)->kerf_mm / 2);
	else
		finding = cutlint_report(check, severity, place,
					 "fold is %.2f mm from a burned edge, under %.2f mm "
					 "(%.2f mm as drawn)",
					 clear_mm, limit_mm, drawn_mm);
	if (drawn_mm > 0)
		cutlint_limit(finding, bad ? "error" : "warning");
	cutlint_measured(finding, "clearance", fmax(clear_mm, 0), limit_mm, "mm");
	if (drawn_mm > 0)
		cutlint_show_span(finding, near->wall.at, near->foot);
	cutlint_relate(finding, cut_later ? line : cut, cut_later ? "the fold" : "the cut");
	suggest_way(check, options, finding, &near->wall, drawn_mm);
}

/* How near a cut may come to a fold, as drawn. */
static double reach_of(const struct cutlint_check *check, const struct options *options)
{
	return fmax(options->error_mm, options->warning_mm) +
	       cutlint_check_job(check)->kerf_mm / 2 - SLACK_MM;
}

/*
 * Whether the cut at which a fold ends lies between that end and a place, as of the two slits of a
 * narrow pop-up: seen from a bit further in, since the end lies on the first of them.
 */
static bool is_before(const struct cutlint_design *design, const struct end *end, double short_mm,
		      struct cutlint_xy place)
{
	struct cutlint_wall between;
	double x = end->other.x - end->at.x, y = end->other.y - end->at.y;
	double share = fmin(2 * short_mm / hypot(x, y), 0.5);
	struct cutlint_xy in = {end->at.x + share * x, end->at.y + share * y};
	return cutlint_segment_distance(design, end->stop.cut, in, place, &between) <= 0;
}

/*
 * Whether a fold's end lies on a cut, or stops so little before it that this is what is wrong, or
 * so on another cut before it.
 */
static bool ends_at(const struct cutlint_check *check, const struct options *options,
		    const struct stopped *stopped, const struct end *end, uint32_t outline)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	double reach_mm = reach_of(check, options);
	double short_mm = on_mm(stopped->fold);
	bool stops = end->stop.cut != CUTLINT_NONE && end->stop.short_mm <= reach_mm;
	if (stops && end->stop.cut == outline)
		return true;
	struct cutlint_wall wall;
	double distance = cutlint_segment_distance(design, outline, end->at, end->at, &wall);
	return distance <= short_mm ||
	       (stops && distance <= reach_mm && is_before(design, end, short_mm, wall.at));
}

/*
 * How near a cut comes to a fold; infinite where it keeps clear. Where the fold ends at the cut, or
 * at one before it, the cut is looked at only from a bit further in, twice the clearance or half
 * the fold; a cut that leaves the fold by at least 30 degrees is by then half as far off.
 */
static double distance_from_fold(const struct cutlint_check *check, const struct options *options,
				 const struct stopped *stopped, uint32_t outline, struct near *near)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_fold *fold = stopped->fold;
	double reach_mm = reach_of(check, options);
	double whole_mm =
		cutlint_segment_distance(design, outline, fold->from, fold->to, &near->wall);
	near->foot = foot_between(fold->from, fold->to, near->wall.at);
	if (whole_mm > 0 && whole_mm >= reach_mm)
		return INFINITY;
	bool at_from = ends_at(check, options, stopped, &stopped->from, outline);
	bool at_to = ends_at(check, options, stopped, &stopped->to, outline);
	if (!at_from && !at_to)
		return whole_mm;
	double x = fold->to.x - fold->from.x, y = fold->to.y - fold->from.y;
	double length = hypot(x, y), in_mm = fmin(2 * reach_mm, length / 2);
	double low = at_from ? in_mm / length : 0, high = at_to ? 1 - in_mm / length : 1;
	struct cutlint_xy from = {fold->from.x + low * x, fold->from.y + low * y};
	struct cutlint_xy to = {fold->from.x + high * x, fold->from.y + high * y};
	double distance = cutlint_segment_distance(design, outline, from, to, &near->wall);
	near->foot = foot_between(from, to, near->wall.at);
	return distance >= fmin(reach_mm, in_mm / 2) ? INFINITY : distance;
}

/* The nearest place of a shape's cuts to the fold; says whether the shape has any there. */
static bool nearest_cut(const struct cutlint_check *check, const struct options *options,
			const struct cutlint_shape *shape, const struct stopped *stopped,
			double *drawn_mm, struct near *out)
{
	*drawn_mm = INFINITY;
	for (uint32_t i = 0; i < shape->outline_count; i++) {
		uint32_t outline = shape->first_outline + i;
		struct near near;
		if (!is_inner_cut(check, outline, stopped->fold->card))
			continue;
		double distance = distance_from_fold(check, options, stopped, outline, &near);
		if (distance >= *drawn_mm)
			continue;
		*drawn_mm = distance;
		*out = near;
	}
	return isfinite(*drawn_mm);
}

/* A cut drawn along the fold: one cause, and the duplicate-outline rule names it. */
static bool lies_on_fold(const struct cutlint_check *check, const struct cutlint_shape *shape)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (uint32_t i = 0; i < sheet->overlap_count; i++) {
		const uint32_t *pair = sheet->overlaps[i].outline;
		for (int side = 0; side < 2; side++)
			if (cutlint_outline_role(design, pair[side]) == CUTLINT_ROLE_FOLD &&
			    cutlint_outline_shape(design, pair[1 - side]) == shape)
				return true;
	}
	return false;
}

/* Each shape is said once, at its nearest place. */
static void check_cuts(struct cutlint_check *check, const struct options *options,
		       const struct stopped *stopped)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	double reach_mm = reach_of(check, options);
	for (uint32_t i = 0; i < design->shape_count; i++) {
		double drawn_mm;
		struct near near;
		if (nearest_cut(check, options, &design->shapes[i], stopped, &drawn_mm, &near) &&
		    (drawn_mm <= 0 || drawn_mm < reach_mm) &&
		    !lies_on_fold(check, &design->shapes[i]))
			report_near(check, options, stopped->fold, &near, drawn_mm);
	}
}

static void check_fold(struct cutlint_check *check, const struct options *options,
		       const struct cutlint_fold *fold)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	if (fold->card == CUTLINT_NONE)
		return;
	const struct stopped stopped = {
		.fold = fold,
		.from = {fold->from, fold->to,
			 cutlint_fold_stop(design, sheet, fold, false, on_mm(fold))},
		.to = {fold->to, fold->from,
		       cutlint_fold_stop(design, sheet, fold, true, on_mm(fold))},
	};
	check_cuts(check, options, &stopped);
}

static enum cutlint_outcome check_folds(struct cutlint_check *check, const void *options)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (uint32_t i = 0; i < sheet->fold_count; i++)
		check_fold(check, options, &sheet->folds[i]);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "fold-clearance",
	.summary = "folds that run through a cut or come near one",
	.advice = "A fold runs on kept material and keeps clear of every window.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS | CUTLINT_NEEDS_OVERLAPS,
	.check = check_folds,
};
