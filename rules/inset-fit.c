/* inset-fit.c - the coloured panel behind the face: hidden by the face, and behind every window. */
#include "cutlint/rule.h"

#include <math.h>

struct options {
	double margin_error_mm, margin_warning_mm;
	double cover_error_mm, cover_warning_mm;
};

static const struct cutlint_option OPTIONS[] = {
	{"margin-error", CUTLINT_OPTION_LENGTH, offsetof(struct options, margin_error_mm), "0.5 mm",
	 0, 100, NULL, false, "an inset closer than this to an edge of the face is an error"},
	{"margin-warning", CUTLINT_OPTION_LENGTH, offsetof(struct options, margin_warning_mm),
	 "1.5 mm", 0, 100, NULL, false,
	 "an inset closer than this to an edge of the face is a warning"},
	{"cover-error", CUTLINT_OPTION_LENGTH, offsetof(struct options, cover_error_mm), "2 mm", 0,
	 100, NULL, false, "an inset that reaches less than this past a window is an error"},
	{"cover-warning", CUTLINT_OPTION_LENGTH, offsetof(struct options, cover_warning_mm), "3 mm",
	 0, 100, NULL, false, "an inset that reaches less than this past a window is a warning"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

/* How an inset is laid behind a face: shifted by its middles, and turned a quarter if so. */
struct laying {
	uint32_t inset, card;
	struct cutlint_xy from, to; /* the inset's point `from` comes to `to` */
	bool turned;
	bool in_place;
};

/* What comes of it. A limit is met where it is at least as large as wanted. */
struct fit {
	struct laying laying;
	double left_mm, top_mm, right_mm, bottom_mm; /* what the face shows past the inset */
	double margin_mm;                            /* the smallest of them */
	double cover_mm;            /* past the worst window, negative where that peeks out */
	uint32_t window;            /* that window; CUTLINT_NONE without windows */
	uint32_t vertex;            /* its worst vertex */
	struct cutlint_xy edge;     /* the place of the inset, as laid, that is nearest to it */
	uint32_t short_count;       /* windows that are covered too little */
	struct cutlint_box windows; /* all of them, on the card */
};

static struct cutlint_box face_box(const struct cutlint_card *card)
{
	return card->panels[card->face].box;
}

/* Whether a card has a face whose edges are upright, as its box is. */
static bool has_face(const struct cutlint_sheet *sheet, const struct cutlint_card *card)
{
	if (card->face < 0 || card->fold == CUTLINT_NONE)
		return false;
	const struct cutlint_fold *fold = &sheet->folds[card->fold];
	double x = fabs(fold->to.x - fold->from.x), y = fabs(fold->to.y - fold->from.y);
	return fmin(x, y) <= 0.01 * fmax(x, y);
}

/* The outer edge of an inset: closed, and in no other inset. */
static bool is_inset(const struct cutlint_design *design, uint32_t outline)
{
	if (cutlint_outline_role(design, outline) != CUTLINT_ROLE_INSET ||
	    !design->outlines[outline].closed)
		return false;
	struct cutlint_xy at =
		cutlint_point_mm(design->vertices[design->outlines[outline].first_vertex]);
	for (uint32_t i = 0; i < design->outline_count; i++)
		if (i != outline && cutlint_outline_role(design, i) == CUTLINT_ROLE_INSET &&
		    design->outlines[i].closed && cutlint_outline_contains(design, i, at))
			return false;
	return true;
}

static bool is_window(const struct cutlint_check *check, uint32_t outline, uint32_t card)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	if (cutlint_outline_role(design, outline) != CUTLINT_ROLE_ART ||
	    !design->outlines[outline].closed ||
	    cutlint_sheet_card_of(design, sheet, outline) != card)
		return false;
	struct cutlint_xy middle = cutlint_box_middle(cutlint_outline_box(design, outline));
	return cutlint_card_panel(sheet, card, middle) == sheet->cards[card].face;
}

/* Where a place on the card comes to lie on the inset as it is drawn. */
static struct cutlint_xy on_inset(const struct laying *laying, struct cutlint_xy at)
{
	double x = at.x - laying->to.x, y = at.y - laying->to.y;
	if (laying->turned)
		return (struct cutlint_xy){laying->from.x + y, laying->from.y - x};
	return (struct cutlint_xy){laying->from.x + x, laying->from.y + y};
}

/* Where a place of the inset comes to lie on the card. */
static struct cutlint_xy on_card(const struct laying *laying, struct cutlint_xy at)
{
	double x = at.x - laying->from.x, y = at.y - laying->from.y;
	if (laying->turned)
		return (struct cutlint_xy){laying->to.x - y, laying->to.y + x};
	return (struct cutlint_xy){laying->to.x + x, laying->to.y + y};
}

/* How far an inset reaches past a window, at its worst vertex; with the inset's nearest place. */
static double cover_of(const struct cutlint_design *design, const struct laying *laying,
		       uint32_t window, uint32_t *vertex, struct cutlint_xy *edge)
{
	const struct cutlint_outline *outline = &design->outlines[window];
	double least = INFINITY;
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		struct cutlint_wall wall;
		uint32_t number = outline->first_vertex + i;
		struct cutlint_xy at = on_inset(laying, cutlint_point_mm(design->vertices[number]));
		double past = cutlint_segment_distance(design, laying->inset, at, at, &wall);
		if (!cutlint_outline_contains(design, laying->inset, at))
			past = -past;
		if (past >= least)
			continue;
		least = past;
		*vertex = number;
		*edge = on_card(laying, wall.at);
	}
	return least;
}

static void fit_windows(const struct cutlint_check *check, const struct options *options,
			struct fit *fit)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	double wanted_mm = fmax(options->cover_error_mm, options->cover_warning_mm) - SLACK_MM;
	fit->cover_mm = INFINITY;
	fit->window = CUTLINT_NONE;
	fit->windows = cutlint_box_empty();
	for (uint32_t i = 0; i < design->outline_count; i++) {
		uint32_t vertex = 0;
		struct cutlint_xy edge = {0, 0};
		if (!is_window(check, i, fit->laying.card))
			continue;
		double past = cover_of(design, &fit->laying, i, &vertex, &edge);
		fit->short_count += past < wanted_mm;
		cutlint_box_join(&fit->windows, cutlint_outline_box(design, i));
		if (past >= fit->cover_mm)
			continue;
		fit->cover_mm = past;
		fit->window = i;
		fit->vertex = vertex;
		fit->edge = edge;
	}
}

static struct fit fit_of(const struct cutlint_check *check, const struct options *options,
			 struct laying laying)
{
	struct cutlint_box face = face_box(&cutlint_check_sheet(check)->cards[laying.card]);
	struct cutlint_box box = cutlint_outline_box(cutlint_check_design(check), laying.inset);
	double half_width = (box.right - box.left) / 2, half_height = (box.bottom - box.top) / 2;
	double across = laying.turned ? half_height : half_width;
	double down = laying.turned ? half_width : half_height;
	struct fit fit = {.laying = laying,
			  .left_mm = laying.to.x - across - face.left,
			  .right_mm = face.right - laying.to.x - across,
			  .top_mm = laying.to.y - down - face.top,
			  .bottom_mm = face.bottom - laying.to.y - down};
	fit.margin_mm = fmin(fmin(fit.left_mm, fit.right_mm), fmin(fit.top_mm, fit.bottom_mm));
	fit_windows(check, options, &fit);
	return fit;
}

/* 0 for a good value, 1 for a warning, 2 for an error. */
static int grade(double value_mm, double error_mm, double warning_mm)
{
	if (value_mm < error_mm - SLACK_MM)
		return 2;
	return value_mm < warning_mm - SLACK_MM;
}

static int margin_grade(const struct fit *fit, const struct options *options)
{
	return grade(fit->margin_mm, options->margin_error_mm, options->margin_warning_mm);
}

static int cover_grade(const struct fit *fit, const struct options *options)
{
	return grade(fit->cover_mm, options->cover_error_mm, options->cover_warning_mm);
}

/* How much is wrong with a fit, to choose between two: grades first, then what is missing. */
static double fault_of(const struct fit *fit, const struct options *options)
{
	double missing = fmax(0, options->margin_warning_mm - fit->margin_mm) +
			 fmax(0, options->cover_warning_mm - fit->cover_mm);
	return 1e6 * (margin_grade(fit, options) + cover_grade(fit, options)) + missing;
}

/* Drawn on a face, an inset is judged where it lies; else centred, as it fits best. */
static bool find_fit(const struct cutlint_check *check, const struct options *options,
		     uint32_t inset, struct fit *out)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	struct cutlint_xy middle =
		cutlint_box_middle(cutlint_outline_box(cutlint_check_design(check), inset));
	struct laying laying = {.inset = inset, .from = middle, .to = middle, .in_place = true};
	for (laying.card = 0; laying.card < sheet->card_count; laying.card++) {
		const struct cutlint_card *card = &sheet->cards[laying.card];
		if (!has_face(sheet, card) || !cutlint_box_contains(face_box(card), middle))
			continue;
		*out = fit_of(check, options, laying);
		return true;
	}

	double least = INFINITY;
	laying.in_place = false;
	for (uint32_t i = 0; i < 2 * sheet->card_count; i++) {
		laying.card = i / 2;
		laying.turned = i % 2 == 1;
		if (!has_face(sheet, &sheet->cards[laying.card]))
			continue;
		laying.to = cutlint_box_middle(face_box(&sheet->cards[laying.card]));
		struct fit fit = fit_of(check, options, laying);
		if (fault_of(&fit, options) >= least)
			continue;
		least = fault_of(&fit, options);
		*out = fit;
	}
	return isfinite(least);
}

static const char *laying_words(const struct laying *laying)
{
	if (laying->in_place)
		return "as it lies";
	return laying->turned ? "centred behind the face, turned a quarter"
			      : "centred behind the face";
}

/* Only so many points of an inset are shown. */
enum { POINTS_MOST = 200 };

/* Of an inset that is drawn elsewhere, where it will lie. */
static void show_laid(const struct cutlint_design *design, struct cutlint_finding *finding,
		      const struct laying *laying)
{
	const struct cutlint_outline *outline = &design->outlines[laying->inset];
	uint32_t step = outline->vertex_count / POINTS_MOST + 1, count = 0;
	struct cutlint_xy points[POINTS_MOST + 1];
	if (laying->in_place)
		return;
	for (uint32_t i = 0; i < outline->vertex_count; i += step)
		points[count++] = on_card(
			laying, cutlint_point_mm(design->vertices[outline->first_vertex + i]));
	points[count++] = points[0];
	cutlint_show_shape(finding, points, count, "inset");
}

/* From the face's edge to the inset's. */
static void show_margin(struct cutlint_finding *finding, const struct fit *fit,
			struct cutlint_box face)
{
	struct cutlint_xy at = fit->laying.to, edge = at;
	if (fit->margin_mm == fit->left_mm || fit->margin_mm == fit->right_mm) {
		bool left = fit->margin_mm == fit->left_mm;
		edge.x = left ? face.left : face.right;
		at.x = left ? edge.x + fit->margin_mm : edge.x - fit->margin_mm;
	} else {
		bool upper = fit->margin_mm == fit->top_mm;
		edge.y = upper ? face.top : face.bottom;
		at.y = upper ? edge.y + fit->margin_mm : edge.y - fit->margin_mm;
	}
	cutlint_show_span(finding, edge, at);
}

static void report_margin(struct cutlint_check *check, const struct options *options,
			  const struct fit *fit)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	int bad = margin_grade(fit, options);
	double limit_mm = bad == 2 ? options->margin_error_mm : options->margin_warning_mm;
	if (bad == 0)
		return;

	enum cutlint_severity severity = bad == 2 ? CUTLINT_ERROR : CUTLINT_WARNING;
	struct cutlint_place place = cutlint_place_outline(design, fit->laying.inset);
	const char *side = fit->margin_mm == fit->left_mm    ? "left"
			   : fit->margin_mm == fit->right_mm ? "right"
			   : fit->margin_mm == fit->top_mm   ? "upper"
							     : "lower";
	struct cutlint_finding *finding =
		fit->margin_mm < 0
			? cutlint_report(check, severity, place,
					 "inset peeks %.2f mm past the %s edge of the face, %s",
					 -fit->margin_mm, side, laying_words(&fit->laying))
			: cutlint_report(check, severity, place,
					 "inset stays %.2f mm inside the %s edge of the face, "
					 "under %.2f mm, %s",
					 fit->margin_mm, side, limit_mm,
					 laying_words(&fit->laying));
	cutlint_limit(finding, bad == 2 ? "margin-error" : "margin-warning");
	const struct cutlint_card *card = &cutlint_check_sheet(check)->cards[fit->laying.card];
	if (card->outline != CUTLINT_NONE)
		cutlint_relate(finding, cutlint_place_outline(design, card->outline),
			       "the card's edge");
	cutlint_measured(finding, "margin", fit->margin_mm, limit_mm, "mm");
	struct cutlint_box face = face_box(card);
	show_margin(finding, fit, face);
	show_laid(design, finding, &fit->laying);
	double both = 2 * fmax(options->margin_error_mm, options->margin_warning_mm);
	cutlint_suggest(finding, "make it at most %.2f mm x %.2f mm, and centre it",
			cutlint_at_most(face.right - face.left - both, 0.01),
			cutlint_at_most(face.bottom - face.top - both, 0.01));
}

/*
 * The box that an inset has to fill to cover all windows; one that is centred, as far on both
 * sides. False where that is more than the face has room for.
 */
static bool needed_box(const struct cutlint_check *check, const struct options *options,
		       const struct fit *fit, struct cutlint_box *out)
{
	struct cutlint_box face = face_box(&cutlint_check_sheet(check)->cards[fit->laying.card]);
	double cover = fmax(options->cover_error_mm, options->cover_warning_mm);
	double margin = fmax(options->margin_error_mm, options->margin_warning_mm) - SLACK_MM;
	struct cutlint_box box = {fit->windows.left - cover, fit->windows.top - cover,
				  fit->windows.right + cover, fit->windows.bottom + cover};
	if (!fit->laying.in_place) {
		struct cutlint_xy at = fit->laying.to;
		double across = fmax(at.x - box.left, box.right - at.x);
		double down = fmax(at.y - box.top, box.bottom - at.y);
		box = (struct cutlint_box){at.x - across, at.y - down, at.x + across, at.y + down};
	}
	*out = box;
	return box.left >= face.left + margin && box.right <= face.right - margin &&
	       box.top >= face.top + margin && box.bottom <= face.bottom - margin;
}

static void suggest_cover(const struct cutlint_check *check, const struct options *options,
			  const struct fit *fit, struct cutlint_finding *finding)
{
	struct cutlint_box box;
	if (needed_box(check, options, fit, &box)) {
		bool turned = fit->laying.turned;
		double width = cutlint_at_least(box.right - box.left, 0.01);
		double height = cutlint_at_least(box.bottom - box.top, 0.01);
		if (fit->laying.in_place)
			cutlint_suggest(finding,
					"make it at least %.2f mm x %.2f mm, from x %.2f mm, y "
					"%.2f mm on",
					width, height, cutlint_at_most(box.left, 0.01),
					cutlint_at_most(box.top, 0.01));
		else
			cutlint_suggest(finding, "make it at least %.2f mm x %.2f mm",
					turned ? height : width, turned ? width : height);
	} else if (fit->short_count > 1) {
		cutlint_suggest(finding,
				"move or enlarge it: %u windows have too little glue margin",
				(unsigned)fit->short_count);
	} else {
		cutlint_suggest(finding, "move or enlarge it, or move the window inwards");
	}
}

static void report_cover(struct cutlint_check *check, const struct options *options,
			 const struct fit *fit)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	int bad = cover_grade(fit, options);
	double limit_mm = bad == 2 ? options->cover_error_mm : options->cover_warning_mm;
	if (bad == 0)
		return;

	enum cutlint_severity severity = bad == 2 ? CUTLINT_ERROR : CUTLINT_WARNING;
	struct cutlint_place inset = cutlint_place_outline(design, fit->laying.inset);
	struct cutlint_place window = cutlint_place_vertex(design, fit->vertex);
	bool window_later = window.span.byte > inset.span.byte;
	struct cutlint_place place = window_later ? window : inset;
	struct cutlint_finding *finding =
		fit->cover_mm < 0
			? cutlint_report(check, severity, place,
					 "inset leaves %.2f mm of a window uncovered, %s",
					 -fit->cover_mm, laying_words(&fit->laying))
			: cutlint_report(check, severity, place,
					 "inset reaches %.2f mm past a window, under %.2f mm of "
					 "glue margin, %s",
					 fit->cover_mm, limit_mm, laying_words(&fit->laying));
	cutlint_limit(finding, bad == 2 ? "cover-error" : "cover-warning");
	cutlint_measured(finding, "glue margin", fit->cover_mm, limit_mm, "mm");
	cutlint_show_span(finding, cutlint_point_mm(design->vertices[fit->vertex]), fit->edge);
	show_laid(design, finding, &fit->laying);
	cutlint_relate(finding, window_later ? inset : window,
		       window_later ? "the inset" : "the window");
	suggest_cover(check, options, fit, finding);
}

static enum cutlint_outcome check_insets(struct cutlint_check *check, const void *options)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	for (uint32_t i = 0; i < design->outline_count; i++) {
		struct fit fit = {.margin_mm = 0};
		if (!is_inset(design, i) || !find_fit(check, options, i, &fit))
			continue;
		report_margin(check, options, &fit);
		report_cover(check, options, &fit);
	}
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "inset-fit",
	.summary = "insets that peek past the face, or do not cover its windows with a glue margin",
	.advice = "Keep the inset smaller than the face on every side, and larger than the windows "
		  "by the glue margin.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS,
	.check = check_insets,
};
