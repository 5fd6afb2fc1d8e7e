/* name-fit.c - lettering that differs from card to card: inside its box, and clear of the edges. */
#include "cutlint/rule.h"

#include <math.h>
#include <stdlib.h>

struct options {
	double margin_error_mm, margin_warning_mm;
	bool required;
};

/* Print finishers keep 1/8 in free at trim and fold, 1/4 in where a border makes a shift show. */
static const struct cutlint_option OPTIONS[] = {
	{"margin-error", CUTLINT_OPTION_LENGTH, offsetof(struct options, margin_error_mm), "3 mm",
	 0, 100, NULL, false,
	 "lettering nearer than this to an edge or the fold of its panel is an error"},
	{"margin-warning", CUTLINT_OPTION_LENGTH, offsetof(struct options, margin_warning_mm),
	 "6 mm", 0, 100, NULL, false,
	 "lettering nearer than this to an edge or the fold of its panel is a warning"},
	{"required", CUTLINT_OPTION_FLAG, offsetof(struct options, required), "yes", 0, 1, NULL,
	 false, "a card without lettering is a warning"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

/* One piece of lettering on one card: all that the job takes by one element. */
struct lettering {
	const struct cutlint_element *element;
	uint32_t card;
	uint32_t first, last; /* of its outlines: they need not be neighbours */
};

static double along(struct cutlint_xy at, struct cutlint_xy direction)
{
	return at.x * direction.x + at.y * direction.y;
}

/* From where to where something reaches in a direction, and the vertices there, if it has any. */
struct reach {
	double from, to;
	uint32_t first, last;
};

static const struct reach NOTHING = {INFINITY, -INFINITY, CUTLINT_NONE, CUTLINT_NONE};

static void widen(struct reach *reach, double value, uint32_t vertex)
{
	if (value < reach->from) {
		reach->from = value;
		reach->first = vertex;
	}
	if (value > reach->to) {
		reach->to = value;
		reach->last = vertex;
	}
}

static void widen_by_outline(const struct cutlint_design *design, uint32_t number,
			     struct cutlint_xy direction, struct reach *reach)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		uint32_t vertex = outline->first_vertex + i;
		widen(reach, along(cutlint_point_mm(design->vertices[vertex]), direction), vertex);
	}
}

static bool is_lettering(const struct cutlint_design *design, uint32_t outline)
{
	return cutlint_outline_role(design, outline) == CUTLINT_ROLE_ART &&
	       cutlint_outline_shape(design, outline)->lettering;
}

static bool belongs(const struct cutlint_check *check, const struct lettering *lettering,
		    uint32_t outline)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	return is_lettering(design, outline) &&
	       cutlint_outline_shape(design, outline)->lettering == lettering->element &&
	       cutlint_sheet_card_of(design, cutlint_check_sheet(check), outline) ==
		       lettering->card;
}

static struct reach reach_of(const struct cutlint_check *check, const struct lettering *lettering,
			     struct cutlint_xy direction)
{
	struct reach reach = NOTHING;
	for (uint32_t i = lettering->first; i <= lettering->last; i++) {
		if (belongs(check, lettering, i))
			widen_by_outline(cutlint_check_design(check), i, direction, &reach);
	}
	return reach;
}

static struct reach card_reach(const struct cutlint_check *check, uint32_t number,
			       struct cutlint_xy direction)
{
	const struct cutlint_card *card = &cutlint_check_sheet(check)->cards[number];
	struct reach reach = NOTHING;
	if (card->outline != CUTLINT_NONE) {
		const struct cutlint_design *design = cutlint_check_design(check);
		for (uint32_t i = 0; i < design->outline_count; i++) {
			enum cutlint_role role = cutlint_outline_role(design, i);
			if (i == card->outline ||
			    ((role == CUTLINT_ROLE_OUTLINE || role == CUTLINT_ROLE_BLANK) &&
			     cutlint_sheet_card_of(design, cutlint_check_sheet(check), i) ==
				     number))
				widen_by_outline(design, i, direction, &reach);
		}
		return reach;
	}
	struct cutlint_box box = card->box;
	const struct cutlint_xy corners[] = {{box.left, box.top},
					     {box.right, box.top},
					     {box.right, box.bottom},
					     {box.left, box.bottom}};
	for (int i = 0; i < 4; i++)
		widen(&reach, along(corners[i], direction), CUTLINT_NONE);
	return reach;
}

/* A card's two directions: `down` runs along its fold, `across` square to it; and its reach. */
struct frame {
	struct cutlint_xy across, down;
	bool folded;
	double fold; /* where the fold lies across */
	struct reach card_across, card_down;
};

static void turn_to_fold(const struct cutlint_fold *fold, struct frame *frame)
{
	double x = fold->to.x - fold->from.x, y = fold->to.y - fold->from.y;
	double length = hypot(x, y);
	frame->down = (struct cutlint_xy){x / length, y / length};
	frame->across = (struct cutlint_xy){-y / length, x / length};
	frame->folded = true;
	frame->fold = along(fold->from, frame->across);
}

static struct frame frame_of(const struct cutlint_check *check, uint32_t card)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	struct frame frame = {.across = {1, 0}, .down = {0, 1}};
	if (sheet->cards[card].fold != CUTLINT_NONE)
		turn_to_fold(&sheet->folds[sheet->cards[card].fold], &frame);
	frame.card_across = card_reach(check, card, frame.across);
	frame.card_down = card_reach(check, card, frame.down);
	return frame;
}

/* Whether lettering is read along the fold: the closed card's spine stands or lies. */
static bool is_swapped(const struct cutlint_job *job, const struct frame *frame)
{
	bool spine_lies = job->spine == CUTLINT_SPINE_TOP || job->spine == CUTLINT_SPINE_BOTTOM;
	return frame->folded && spine_lies;
}

static struct cutlint_place place_of(const struct cutlint_check *check,
				     const struct lettering *lettering)
{
	return cutlint_place_outline(cutlint_check_design(check), lettering->first);
}

/* The place with these two coordinates in a frame. */
static struct cutlint_xy place_in(const struct frame *frame, double across, double down)
{
	return (struct cutlint_xy){frame->across.x * across + frame->down.x * down,
				   frame->across.y * across + frame->down.y * down};
}

/* What a piece of lettering takes of its card. */
struct extent {
	struct reach across, down;
};

/* From end to end of the lettering in one direction, through the middle of the other. */
static void show_extent(struct cutlint_finding *finding, const struct frame *frame,
			const struct extent *extent, bool across)
{
	const struct reach *along = across ? &extent->across : &extent->down;
	const struct reach *other = across ? &extent->down : &extent->across;
	double middle = (other->from + other->to) / 2;
	cutlint_show_span(finding,
			  across ? place_in(frame, along->from, middle)
				 : place_in(frame, middle, along->from),
			  across ? place_in(frame, along->to, middle)
				 : place_in(frame, middle, along->to));
}

/* The job's box round the lettering's middle. */
static void show_box(struct cutlint_finding *finding, const struct frame *frame,
		     const struct extent *extent, double across_mm, double down_mm)
{
	double across = (extent->across.from + extent->across.to - across_mm) / 2;
	double down = (extent->down.from + extent->down.to - down_mm) / 2;
	const struct cutlint_xy corners[] = {
		place_in(frame, across, down), place_in(frame, across + across_mm, down),
		place_in(frame, across + across_mm, down + down_mm),
		place_in(frame, across, down + down_mm), place_in(frame, across, down)};
	cutlint_show_shape(finding, corners, 5, "its box");
}

/* NULL where it is not too large. */
static struct cutlint_finding *report_size(struct cutlint_check *check,
					   const struct lettering *lettering, const char *what,
					   double size_mm, double limit_mm, const char *advice)
{
	if (size_mm <= limit_mm + SLACK_MM)
		return NULL;
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_ERROR, place_of(check, lettering),
		"lettering is %.2f mm %s, over the %.2f mm of its box", size_mm, what, limit_mm);
	cutlint_limit_job(finding, "lettering", NULL, "box");
	cutlint_measured(finding, what, size_mm, limit_mm, "mm");
	cutlint_suggest(finding, "%s: %.0f %% of its size fits", advice,
			floor(100 * limit_mm / size_mm));
	return finding;
}

/* Its width and height as it is read against the job's box. */
static void judge_size(struct cutlint_check *check, const struct frame *frame,
		       const struct lettering *lettering, const struct extent *extent)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	double box_width_mm = job->lettering_width_mm, box_height_mm = job->lettering_height_mm;
	bool swapped = is_swapped(job, frame);
	double across_mm = extent->across.to - extent->across.from;
	double down_mm = extent->down.to - extent->down.from;
	struct cutlint_finding *findings[] = {
		report_size(check, lettering, "wide", swapped ? down_mm : across_mm, box_width_mm,
			    "set it smaller or closer, or on two lines"),
		report_size(check, lettering, "tall", swapped ? across_mm : down_mm, box_height_mm,
			    "set it smaller")};
	for (int i = 0; i < 2; i++) {
		if (!findings[i])
			continue;
		show_extent(findings[i], frame, extent, (i == 0) != swapped);
		show_box(findings[i], frame, extent, swapped ? box_height_mm : box_width_mm,
			 swapped ? box_width_mm : box_height_mm);
	}
}

/* Which edge of its panel lettering comes nearest to, and how near; less than 0 beyond it. */
struct nearest {
	double margin_mm;
	uint32_t vertex;
	bool is_fold;
	bool across; /* the edge runs along the fold, at this coordinate */
	double edge;
};

static void take_side(struct nearest *nearest, struct nearest side)
{
	if (side.margin_mm < nearest->margin_mm)
		*nearest = side;
}

static struct nearest nearest_of(const struct frame *frame, const struct reach *across,
				 const struct reach *down)
{
	struct nearest nearest = {.margin_mm = INFINITY, .vertex = CUTLINT_NONE};
	bool before = frame->folded && (across->from + across->to) / 2 < frame->fold;
	bool behind = frame->folded && !before;
	double from = behind ? frame->fold : frame->card_across.from;
	double to = before ? frame->fold : frame->card_across.to;
	double top = frame->card_down.from, bottom = frame->card_down.to;
	take_side(&nearest,
		  (struct nearest){across->from - from, across->first, behind, true, from});
	take_side(&nearest, (struct nearest){to - across->to, across->last, before, true, to});
	take_side(&nearest, (struct nearest){down->from - top, down->first, false, false, top});
	take_side(&nearest, (struct nearest){bottom - down->to, down->last, false, false, bottom});
	return nearest;
}

static void show_margin(const struct cutlint_design *design, struct cutlint_finding *finding,
			const struct frame *frame, const struct nearest *nearest)
{
	struct cutlint_xy at = cutlint_point_mm(design->vertices[nearest->vertex]);
	double across = along(at, frame->across), down = along(at, frame->down);
	cutlint_show_span(finding, at,
			  nearest->across ? place_in(frame, nearest->edge, down)
					  : place_in(frame, across, nearest->edge));
}

/* The fold, or the edge of the card unless the page stands for it. */
static void relate_edge(struct cutlint_check *check, struct cutlint_finding *finding,
			uint32_t number, bool is_fold)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	const struct cutlint_card *card = &sheet->cards[number];
	uint32_t outline = is_fold ? sheet->folds[card->fold].outline : card->outline;
	if (outline != CUTLINT_NONE)
		cutlint_relate(finding, cutlint_place_outline(design, outline),
			       is_fold ? "the fold" : "the card's edge");
}

static void report_margin(struct cutlint_check *check, const struct options *options,
			  const struct frame *frame, uint32_t card, const struct nearest *nearest)
{
	bool bad = nearest->margin_mm < options->margin_error_mm - SLACK_MM;
	double limit_mm = bad ? options->margin_error_mm : options->margin_warning_mm;
	double wanted_mm = fmax(options->margin_error_mm, options->margin_warning_mm);
	const char *what = nearest->is_fold ? "the fold" : "the edge of its panel";
	if (nearest->margin_mm >= limit_mm - SLACK_MM)
		return;
	enum cutlint_severity severity = bad ? CUTLINT_ERROR : CUTLINT_WARNING;
	struct cutlint_place place =
		cutlint_place_vertex(cutlint_check_design(check), nearest->vertex);
	struct cutlint_finding *finding =
		nearest->margin_mm < 0
			? cutlint_report(check, severity, place, "lettering runs %.2f mm past %s",
					 -nearest->margin_mm, what)
			: cutlint_report(check, severity, place,
					 "lettering is %.2f mm from %s as drawn, under %.2f mm",
					 nearest->margin_mm, what, limit_mm);
	cutlint_limit(finding, bad ? "margin-error" : "margin-warning");
	cutlint_measured(finding, nearest->is_fold ? "from the fold" : "drawn", nearest->margin_mm,
			 limit_mm, "mm");
	show_margin(cutlint_check_design(check), finding, frame, nearest);
	relate_edge(check, finding, card, nearest->is_fold);
	cutlint_suggest(finding, "move it in by %.2f mm, or set it smaller",
			cutlint_at_least(wanted_mm - nearest->margin_mm, 0.01));
}

static void judge(struct cutlint_check *check, const struct options *options,
		  const struct frame *frame, const struct lettering *lettering)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	const struct extent extent = {reach_of(check, lettering, frame->across),
				      reach_of(check, lettering, frame->down)};
	if (job->lettering_width_mm > 0)
		judge_size(check, frame, lettering, &extent);
	struct nearest nearest = nearest_of(frame, &extent.across, &extent.down);
	report_margin(check, options, frame, lettering->card, &nearest);
}

/* Pieces of lettering in the order of the file. */
struct pieces {
	struct lettering *items;
	uint32_t count;
};

static void add_outline(const struct cutlint_check *check, struct pieces *pieces, uint32_t outline)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	uint32_t card = cutlint_sheet_card_of(design, cutlint_check_sheet(check), outline);
	const struct cutlint_element *element = cutlint_outline_shape(design, outline)->lettering;
	if (card == CUTLINT_NONE)
		return;
	for (uint32_t i = pieces->count; i-- > 0;) {
		struct lettering *piece = &pieces->items[i];
		if (piece->element == element && piece->card == card) {
			piece->last = outline;
			return;
		}
	}
	pieces->items[pieces->count++] = (struct lettering){element, card, outline, outline};
}

static void report_missing(struct cutlint_check *check, uint32_t number)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_card *card = &cutlint_check_sheet(check)->cards[number];
	struct cutlint_finding *finding =
		cutlint_report(check, CUTLINT_WARNING, cutlint_place_outline(design, card->outline),
			       "card has no lettering that the job's section takes");
	cutlint_limit(finding, "required");
	cutlint_suggest(finding, "turn its text into paths and give it the name that the job's "
				 "[lettering] section names");
}

static void check_card(struct cutlint_check *check, const struct options *options,
		       const struct pieces *pieces, uint32_t card)
{
	struct frame frame = frame_of(check, card);
	bool any = false;
	for (uint32_t i = 0; i < pieces->count; i++) {
		if (pieces->items[i].card != card)
			continue;
		judge(check, options, &frame, &pieces->items[i]);
		any = true;
	}
	if (!any && options->required)
		report_missing(check, card);
}

static enum cutlint_outcome check_names(struct cutlint_check *check, const void *data)
{
	const struct options *options = data;
	const struct cutlint_design *design = cutlint_check_design(check);
	struct pieces pieces = {0};
	if (!cutlint_check_job(check)->lettering_given)
		return CUTLINT_LOOKED;
	pieces.items = calloc((size_t)design->outline_count + 1, sizeof(*pieces.items));
	if (!pieces.items)
		return cutlint_could_not_look(check, "out of memory");
	for (uint32_t i = 0; i < design->outline_count; i++) {
		if (is_lettering(design, i))
			add_outline(check, &pieces, i);
	}
	for (uint32_t i = 0; i < cutlint_check_sheet(check)->card_count; i++)
		check_card(check, options, &pieces, i);
	free(pieces.items);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "name-fit",
	.summary =
		"names and other lettering of a batch that leave their box or come near an edge, "
		"and cards without any",
	.advice = "Set a long name smaller, closer or on two lines; keep 6 mm to the edges and the "
		  "fold.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS,
	.check = check_names,
};
