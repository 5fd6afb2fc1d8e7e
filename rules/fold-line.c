/* fold-line.c - a fold runs from edge to edge, in the middle of the card, along its side and its
 * grain.
 */
#include "cutlint/rule.h"

#include <math.h>

struct options {
	double short_error_mm, short_warning_mm;
	double off_error_mm, off_warning_mm;
	double slant_rad;
};

static const struct cutlint_option OPTIONS[] = {
	{"short-error", CUTLINT_OPTION_LENGTH, offsetof(struct options, short_error_mm), "5 mm", 0,
	 500, NULL, false, "a fold that ends farther than this from the card's edge is an error"},
	{"short-warning", CUTLINT_OPTION_LENGTH, offsetof(struct options, short_warning_mm),
	 "0.5 mm", 0, 500, NULL, false,
	 "a fold that ends farther than this from the card's edge is a warning"},
	{"off-centre-error", CUTLINT_OPTION_LENGTH, offsetof(struct options, off_error_mm), "1 mm",
	 0, 500, NULL, false, "a fold farther than this from the card's middle is an error"},
	{"off-centre-warning", CUTLINT_OPTION_LENGTH, offsetof(struct options, off_warning_mm),
	 "0.5 mm", 0, 500, NULL, false,
	 "a fold farther than this from the card's middle is a warning"},
	{"slant", CUTLINT_OPTION_ANGLE, offsetof(struct options, slant_rad), "0.2 deg", 0, 1.5,
	 NULL, false, "a fold that leans more than this against the card's sides is a warning"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

static const double PI = 3.14159265358979323846;

static struct cutlint_xy direction_of(const struct cutlint_fold *fold)
{
	return (struct cutlint_xy){fold->to.x - fold->from.x, fold->to.y - fold->from.y};
}

static void relate_card(struct cutlint_check *check, struct cutlint_finding *finding,
			const struct cutlint_card *card)
{
	if (card->outline != CUTLINT_NONE)
		cutlint_relate(finding,
			       cutlint_place_outline(cutlint_check_design(check), card->outline),
			       "the card's edge");
}

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

/* Dashes may leave one of their own gaps at the edge. */
static double most_short(const struct options *options, const struct cutlint_fold *fold)
{
	return fmax(options->short_warning_mm, cutlint_fold_gap(fold));
}

/* What the worst of a fold's stops is short of. */
static const char *name_ahead(struct cutlint_stop stop)
{
	if (stop.fold != CUTLINT_NONE)
		return "the fold ahead of it";
	return stop.cut != CUTLINT_NONE ? "the cut ahead of it" : "the card's edge";
}

static bool is_edge(struct cutlint_stop stop)
{
	return stop.cut == CUTLINT_NONE && stop.fold == CUTLINT_NONE;
}

/* From the end on to what lies ahead. */
static void show_short(struct cutlint_finding *finding, const struct end *end)
{
	double x = end->at.x - end->other.x, y = end->at.y - end->other.y;
	double share = end->stop.short_mm / hypot(x, y);
	cutlint_show_span(finding, end->at,
			  (struct cutlint_xy){end->at.x + share * x, end->at.y + share * y});
}

static void check_ends(struct cutlint_check *check, const struct options *options,
		       const struct stopped *stopped)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	const struct cutlint_fold *fold = stopped->fold;
	double allowed_mm = most_short(options, fold);
	struct cutlint_stop from = stopped->from.stop, to = stopped->to.stop;
	struct cutlint_stop worst = from.short_mm >= to.short_mm ? from : to;
	double other_mm = fmin(from.short_mm, to.short_mm);
	if (worst.short_mm <= allowed_mm + SLACK_MM)
		return;

	bool bad = worst.short_mm > options->short_error_mm + SLACK_MM;
	double limit_mm = bad ? options->short_error_mm : allowed_mm;
	bool both = other_mm > allowed_mm + SLACK_MM;
	enum cutlint_severity severity = bad ? CUTLINT_ERROR : CUTLINT_WARNING;
	struct cutlint_place place = cutlint_place_vertex(design, fold->vertex);
	place.at = from.short_mm >= to.short_mm ? fold->from : fold->to;
	struct cutlint_finding *finding =
		both ? cutlint_report(check, severity, place,
				      "fold stops %.2f mm and %.2f mm short of %s, over %.2f mm",
				      from.short_mm, to.short_mm,
				      is_edge(from) && is_edge(to) ? "the card's edges"
								   : "what lies ahead of it",
				      limit_mm)
		     : cutlint_report(check, severity, place,
				      "fold stops %.2f mm short of %s, over %.2f mm",
				      worst.short_mm, name_ahead(worst), limit_mm);
	if (bad)
		cutlint_limit(finding, "short-error");
	else if (allowed_mm == options->short_warning_mm)
		cutlint_limit(finding, "short-warning");
	cutlint_measured(finding, "short", worst.short_mm, limit_mm, "mm");
	if (both || from.short_mm >= to.short_mm)
		show_short(finding, &stopped->from);
	if (both || from.short_mm < to.short_mm)
		show_short(finding, &stopped->to);
	if (worst.fold == CUTLINT_NONE)
		relate_card(check, finding, &sheet->cards[fold->card]);
	else
		cutlint_relate(finding,
			       cutlint_place_vertex(design, sheet->folds[worst.fold].vertex),
			       "the fold ahead");
	cutlint_suggest(finding, "draw the fold on to %s",
			worst.fold != CUTLINT_NONE  ? "the other fold"
			: worst.cut != CUTLINT_NONE ? "the cut"
			: is_edge(from) && is_edge(to)
				? "the edge of the card"
				: "the edge of the card; a score of a pop-up, to its cut");
}

/* From a share of the fold's length square to the fold, to its left as it is walked. */
static void show_beside(struct cutlint_finding *finding, const struct cutlint_fold *fold,
			double share, double left_mm)
{
	double x = fold->to.x - fold->from.x, y = fold->to.y - fold->from.y, length = hypot(x, y);
	struct cutlint_xy at = {fold->from.x + share * x, fold->from.y + share * y};
	cutlint_show_span(
		finding, at,
		(struct cutlint_xy){at.x + y / length * left_mm, at.y - x / length * left_mm});
}

/* To the card's middle, and the widths of both panels. */
static void show_off_centre(struct cutlint_finding *finding, const struct cutlint_card *card,
			    const struct cutlint_fold *fold)
{
	double left_mm = card->panels[0].width_mm, right_mm = card->panels[1].width_mm;
	show_beside(finding, fold, 0.5, (left_mm - right_mm) / 2);
	show_beside(finding, fold, 0.3, left_mm);
	show_beside(finding, fold, 0.3, -right_mm);
}

static void check_centre(struct cutlint_check *check, const struct options *options,
			 const struct cutlint_fold *fold)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_card *card = &cutlint_check_sheet(check)->cards[fold->card];
	double first_mm = card->panels[0].width_mm, second_mm = card->panels[1].width_mm;
	double off_mm = fabs(first_mm - second_mm) / 2;
	/* Of several folds none has to be in the middle. */
	if (card->fold_count != 1 || fold != &cutlint_check_sheet(check)->folds[card->fold] ||
	    off_mm <= options->off_warning_mm + SLACK_MM)
		return;

	bool bad = off_mm > options->off_error_mm + SLACK_MM;
	double limit_mm = bad ? options->off_error_mm : options->off_warning_mm;
	struct cutlint_finding *finding =
		cutlint_report(check, bad ? CUTLINT_ERROR : CUTLINT_WARNING,
			       cutlint_place_vertex(design, fold->vertex),
			       "fold is %.2f mm off the card's middle, over %.2f mm: panels of "
			       "%.2f mm and %.2f mm",
			       off_mm, limit_mm, first_mm, second_mm);
	cutlint_limit(finding, bad ? "off-centre-error" : "off-centre-warning");
	cutlint_measured(finding, "off centre", off_mm, limit_mm, "mm");
	show_off_centre(finding, card, fold);
	relate_card(check, finding, card);
	cutlint_suggest(finding, "move the fold by %.2f mm towards the wider panel", off_mm);
}

/* A side has to be this much of the fold's length to tell how the card lies: a choice. */
static const double SIDE_SHARE = 0.25;

/* A fold that leans more against every side is meant to: a choice. */
static const double SLANT_MOST = 5 * 3.14159265358979323846 / 180;

/*
 * How far the fold leans against the longest side that it nearly runs along, and that side's
 * direction; 0 without one.
 */
static double slant_of(const struct cutlint_design *design, const struct cutlint_card *card,
		       const struct cutlint_fold *fold, struct cutlint_xy *against)
{
	struct cutlint_xy along = direction_of(fold);
	if (card->outline == CUTLINT_NONE) {
		bool level = fabs(along.x) > fabs(along.y);
		*against = (struct cutlint_xy){level, !level};
		double slant = cutlint_angle_between(along, *against);
		return slant <= SLANT_MOST ? slant : 0;
	}
	const struct cutlint_outline *outline = &design->outlines[card->outline];
	const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
	double longest = SIDE_SHARE * hypot(along.x, along.y), slant = 0;
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		struct cutlint_xy a = cutlint_point_mm(vertices[i]);
		struct cutlint_xy b = cutlint_point_mm(vertices[(i + 1) % outline->vertex_count]);
		struct cutlint_xy side = {b.x - a.x, b.y - a.y};
		double length = hypot(side.x, side.y), leans = cutlint_angle_between(along, side);
		if (length <= longest || leans > SLANT_MOST)
			continue;
		longest = length;
		slant = leans;
		*against = side;
	}
	return slant;
}

/* From the fold's end square to where it would end along the side; and that line. */
static void show_slant(struct cutlint_finding *finding, const struct cutlint_fold *fold,
		       struct cutlint_xy side)
{
	struct cutlint_xy along = direction_of(fold);
	double share = (along.x * side.x + along.y * side.y) / (side.x * side.x + side.y * side.y);
	const struct cutlint_xy line[] = {
		fold->from, {fold->from.x + share * side.x, fold->from.y + share * side.y}};
	cutlint_show_span(finding, fold->to, line[1]);
	cutlint_show_shape(finding, line, 2, "along the side");
}

static void check_slant(struct cutlint_check *check, const struct options *options,
			const struct cutlint_fold *fold)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_card *card = &cutlint_check_sheet(check)->cards[fold->card];
	struct cutlint_xy against = {1, 0};
	double slant = slant_of(design, card, fold, &against);
	struct cutlint_xy along = direction_of(fold);
	if (slant <= options->slant_rad + 1e-6)
		return;
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_WARNING, cutlint_place_vertex(design, fold->vertex),
		"fold leans %.2f degrees against the card's side, over %.2f degrees: %.2f mm from "
		"end to end",
		slant * 180 / PI, options->slant_rad * 180 / PI,
		hypot(along.x, along.y) * sin(slant));
	cutlint_limit(finding, "slant");
	cutlint_measured(finding, "slant", slant, options->slant_rad, "rad");
	show_slant(finding, fold, against);
	relate_card(check, finding, card);
	cutlint_suggest(finding, "draw it along the side: move one end by %.2f mm",
			hypot(along.x, along.y) * sin(slant));
}

/* The further half of a fold that a pop-up parts: the other half, its card's main fold, is said. */
static bool is_other_half(const struct cutlint_sheet *sheet, const struct cutlint_fold *fold)
{
	return fold->at_edge[0] != fold->at_edge[1] &&
	       fold != &sheet->folds[sheet->cards[fold->card].fold];
}

static struct stopped stop_fold(const struct cutlint_check *check, const struct options *options,
				const struct cutlint_fold *fold)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	double on_mm = most_short(options, fold) + SLACK_MM;
	return (struct stopped){
		.fold = fold,
		.from = {fold->from, fold->to,
			 cutlint_fold_stop(design, sheet, fold, false, on_mm)},
		.to = {fold->to, fold->from, cutlint_fold_stop(design, sheet, fold, true, on_mm)},
	};
}

static double worst_short(const struct stopped *stopped)
{
	return fmax(stopped->from.stop.short_mm, stopped->to.stop.short_mm);
}

/* Whether a fold has nothing to do with the card's edge, a cut or another fold. */
static bool floats(const struct stopped *stopped, const struct options *options)
{
	return is_edge(stopped->from.stop) && is_edge(stopped->to.stop) &&
	       fmin(stopped->from.stop.short_mm, stopped->to.stop.short_mm) >
		       options->short_error_mm;
}

static void report_shape(struct cutlint_check *check, const struct cutlint_fold *fold)
{
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_ERROR,
		cutlint_place_outline(cutlint_check_design(check), fold->outline),
		"closed line of the role fold is scored, not cut: nothing falls out of it");
	cutlint_suggest(finding, "if it is a window, take it out of what is named fold; a fold is "
				 "drawn from edge to edge");
}

/* The ends of all folds that start on one outline: one cause, said at the worst of them. */
static void check_outline(struct cutlint_check *check, const struct options *options,
			  const struct cutlint_fold *folds, uint32_t count)
{
	bool shape = cutlint_check_design(check)->outlines[folds->outline].closed;
	struct stopped worst = stop_fold(check, options, &folds[0]);
	for (uint32_t i = 0; i < count; i++) {
		struct stopped stopped = stop_fold(check, options, &folds[i]);
		shape = shape && floats(&stopped, options);
		if (worst_short(&stopped) > worst_short(&worst) + SLACK_MM)
			worst = stopped;
	}
	if (shape)
		report_shape(check, folds);
	else
		check_ends(check, options, &worst);
}

static void check_fold(struct cutlint_check *check, const struct options *options,
		       const struct cutlint_fold *fold)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	check_centre(check, options, fold);
	if (!is_other_half(sheet, fold))
		check_slant(check, options, fold);
}

static void report_off_card(struct cutlint_check *check, const struct cutlint_fold *fold)
{
	struct cutlint_finding *finding =
		cutlint_report(check, CUTLINT_WARNING,
			       cutlint_place_vertex(cutlint_check_design(check), fold->vertex),
			       "fold lies on no card");
	cutlint_suggest(finding, "move it on to the card, or give the card's edge the role outline "
				 "or blank");
}

static enum cutlint_outcome check_folds(struct cutlint_check *check, const void *options)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (uint32_t i = 0, count; i < sheet->fold_count; i += count) {
		const struct cutlint_fold *folds = &sheet->folds[i];
		for (count = 1; i + count < sheet->fold_count &&
				folds[count].outline == folds->outline &&
				folds[count].card == folds->card;)
			count++;
		if (folds->card != CUTLINT_NONE)
			check_outline(check, options, folds, count);
		for (uint32_t k = 0; k < count; k++) {
			if (folds->card == CUTLINT_NONE)
				report_off_card(check, &folds[k]);
			else
				check_fold(check, options, &folds[k]);
		}
	}
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "fold-line",
	.summary = "folds that stop short of the edge, lie off the middle or lean",
	.advice = "A fold runs from edge to edge, in the middle of the card, along its side.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS,
	.check = check_folds,
};
