/* fold-score.c - a card of heavy stock has a fold, scored and not cut, along its grain. */
#include "cutlint/rule.h"

#include <math.h>

struct options {
	double grammage, thickness_mm;
};

static const struct cutlint_option OPTIONS[] = {
	{"grammage", CUTLINT_OPTION_NUMBER, offsetof(struct options, grammage), "150", 0, 5000,
	 NULL, false, "stock of more g/m2 than this has to be scored and has a grain to heed"},
	{"thickness", CUTLINT_OPTION_LENGTH, offsetof(struct options, thickness_mm), "0.15 mm", 0,
	 10, NULL, false,
	 "the same for stock this thick or thicker, where the job gives no grammage"},
	{.name = NULL},
};

static const double PI = 3.14159265358979323846;

/* A line that ends this little before the card's edge was meant to reach it: a choice. */
static const double ON_EDGE_MM = 0.5;
static struct cutlint_xy direction_of(const struct cutlint_fold *fold)
{
	return (struct cutlint_xy){fold->to.x - fold->from.x, fold->to.y - fold->from.y};
}

/* Thin paper folds by hand, with the grain or against it. */
static bool needs_score(const struct cutlint_job *job, const struct options *options)
{
	if (job->stock_grammage > 0)
		return job->stock_grammage > options->grammage;
	return job->stock_thickness_mm >= options->thickness_mm - 1e-6;
}

static void show_grain(struct cutlint_finding *finding, const struct cutlint_fold *fold,
		       struct cutlint_xy grain)
{
	struct cutlint_xy middle = {(fold->from.x + fold->to.x) / 2,
				    (fold->from.y + fold->to.y) / 2};
	struct cutlint_xy along = direction_of(fold);
	double half = hypot(along.x, along.y) / 6;
	const struct cutlint_xy line[] = {{middle.x - half * grain.x, middle.y - half * grain.y},
					  {middle.x + half * grain.x, middle.y + half * grain.y}};
	cutlint_show_shape(finding, line, 2, "grain");
}

static void check_grain(struct cutlint_check *check, const struct options *options,
			const struct cutlint_fold *fold)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	struct cutlint_xy grain = {job->grain == CUTLINT_GRAIN_LEVEL,
				   job->grain == CUTLINT_GRAIN_UPRIGHT};
	double across = cutlint_angle_between(direction_of(fold), grain);
	if (job->grain == CUTLINT_GRAIN_UNKNOWN || !needs_score(job, options) || across <= PI / 4)
		return;
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_WARNING,
		cutlint_place_vertex(cutlint_check_design(check), fold->vertex),
		"fold runs across the grain, at %.0f degrees to it: it cracks sooner than along it",
		across * 180 / PI);
	cutlint_limit_job(finding, "stock", NULL, "grain");
	cutlint_measured(finding, "across the grain", across, PI / 4, "rad");
	show_grain(finding, fold, grain);
	cutlint_suggest(finding, "turn the card by 90 degrees on the sheet, or lay the sheet the "
				 "other way");
}

/* A tag beside the card is no folded card: it is smaller than one that is folded. */
static bool should_fold(const struct cutlint_job *job, const struct cutlint_card *card)
{
	double width = card->box.right - card->box.left, height = card->box.bottom - card->box.top;
	double small = fmin(job->card_width_mm, job->card_height_mm);
	double large = fmax(job->card_width_mm, job->card_height_mm);
	return job->card_given && fmin(width, height) > small - 1 &&
	       fmax(width, height) > large + 1;
}

/* A fold that is drawn and hidden: the unseen-art rule names it. */
static bool has_hidden_fold(const struct cutlint_design *design)
{
	for (uint32_t i = 0; i < design->shape_count; i++) {
		const struct cutlint_shape *shape = &design->shapes[i];
		if (shape->role == CUTLINT_ROLE_FOLD && shape->unburned != CUTLINT_BURNED)
			return true;
	}
	return false;
}

/* Whether a cut goes straight from edge to edge of a card, as a fold would. */
static bool cuts_through(const struct cutlint_check *check, uint32_t number, uint32_t card)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	const struct cutlint_outline *outline = &design->outlines[number];
	enum cutlint_role role = cutlint_outline_role(design, number);
	if ((role != CUTLINT_ROLE_ART && role != CUTLINT_ROLE_SLIT) || outline->closed ||
	    outline->vertex_count < 2 || cutlint_sheet_card_of(design, sheet, number) != card)
		return false;
	const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
	const struct cutlint_fold line = {
		.card = card,
		.from = cutlint_point_mm(vertices[0]),
		.to = cutlint_point_mm(vertices[outline->vertex_count - 1])};
	double length = hypot(line.to.x - line.from.x, line.to.y - line.from.y);
	for (int last = 0; last < 2 && length > 0; last++) {
		struct cutlint_stop stop =
			cutlint_fold_stop(design, sheet, &line, last == 1, ON_EDGE_MM);
		if (stop.cut != CUTLINT_NONE || stop.fold != CUTLINT_NONE ||
		    stop.short_mm > ON_EDGE_MM)
			return false;
	}
	return length > 0 && cutlint_outline_length(design, number) <= length + ON_EDGE_MM;
}

/* The cut that a card's fold was drawn as: in its middle, within a quarter of its size. */
static uint32_t find_cut_fold(const struct cutlint_check *check, uint32_t number)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	struct cutlint_box box = cutlint_check_sheet(check)->cards[number].box;
	struct cutlint_xy middle = cutlint_box_middle(box);
	double nearest = fmax(box.right - box.left, box.bottom - box.top) / 4;
	uint32_t found = CUTLINT_NONE;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		struct cutlint_wall wall;
		if (!cuts_through(check, i, number))
			continue;
		double off = cutlint_segment_distance(design, i, middle, middle, &wall);
		if (off < nearest) {
			nearest = off;
			found = i;
		}
	}
	return found;
}

static void report_cut_fold(struct cutlint_check *check, uint32_t cut)
{
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_ERROR, cutlint_place_outline(cutlint_check_design(check), cut),
		"line cuts the card in two where its fold should be: its role is %s",
		cutlint_role_word(cutlint_outline_role(cutlint_check_design(check), cut)));
	cutlint_measured(finding, "scored", 0, NAN, "mm");
	cutlint_limit_job(finding, "card", NULL, "size");
	cutlint_suggest(finding, "give it the role fold: call it or its group fold, or name a "
				 "pattern for it in the job");
}

static void check_card(struct cutlint_check *check, const struct options *options, uint32_t number)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_card *card = &cutlint_check_sheet(check)->cards[number];
	const struct cutlint_job *job = cutlint_check_job(check);
	if (card->fold_count > 0 || !should_fold(job, card) || has_hidden_fold(design))
		return;
	uint32_t cut = find_cut_fold(check, number);
	if (cut != CUTLINT_NONE) {
		report_cut_fold(check, cut);
		return;
	}
	if (!needs_score(job, options))
		return;
	struct cutlint_finding *finding =
		cutlint_report(check, CUTLINT_WARNING, cutlint_place_outline(design, card->outline),
			       "card has no fold, although the job names a folded card of %.2f mm "
			       "x %.2f mm: stock of %.2f mm has to be scored",
			       job->card_width_mm, job->card_height_mm, job->stock_thickness_mm);
	cutlint_limit(finding, job->stock_grammage > 0 ? "grammage" : "thickness");
	cutlint_suggest(finding, "draw the fold from edge to edge, with the role fold");
}

/* Of a fold that a pop-up parts one half; and none of a pop-up's own, which follow it. */
static bool goes_across(const struct cutlint_sheet *sheet, const struct cutlint_fold *fold)
{
	return fold == &sheet->folds[sheet->cards[fold->card].fold] ||
	       (fold->at_edge[0] && fold->at_edge[1]);
}

static enum cutlint_outcome check_scores(struct cutlint_check *check, const void *options)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (uint32_t i = 0; i < sheet->card_count; i++)
		check_card(check, options, i);
	for (uint32_t i = 0; i < sheet->fold_count; i++) {
		const struct cutlint_fold *fold = &sheet->folds[i];
		if (fold->card != CUTLINT_NONE && goes_across(sheet, fold))
			check_grain(check, options, fold);
	}
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "fold-score",
	.summary = "cards without a fold, with a cut in its place, or with one across the grain",
	.advice = "Score the fold of heavy stock from edge to edge, along the grain.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS,
	.check = check_scores,
};
