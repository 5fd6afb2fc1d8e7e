/* page-scale.c - a card that is not the size that it should be, and the ratio that says why. */
#include "cutlint/rule.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct options {
	double tolerance_mm, alike;
};

static const struct cutlint_option OPTIONS[] = {
	{"tolerance", CUTLINT_OPTION_LENGTH, offsetof(struct options, tolerance_mm), "0.5 mm", 0,
	 10, NULL, false, "a card within this of the job's size, in both directions, has it"},
	{"alike", CUTLINT_OPTION_SHARE, offsetof(struct options, alike), "0.5 %", 0, 0.05, NULL,
	 false, "a ratio, or without a size in the job a known size, counts within this"},
	{.name = NULL},
};

/* What a drawing has been scaled by when its units were taken for others. */
static const struct ratio {
	double value;
	const char *why;
} RATIOS[] = {
	{72.0 / 96, "drawn with 72 units to the inch, read with 96"},
	{96.0 / 72, "drawn with 96 units to the inch, read with 72"},
	{90.0 / 96, "drawn with 90 units to the inch, read with 96"},
	{96.0 / 90, "drawn with 96 units to the inch, read with 90"},
	{72.0 / 90, "drawn with 72 units to the inch, read with 90"},
	{90.0 / 72, "drawn with 90 units to the inch, read with 72"},
	{300.0 / 96, "drawn with 300 units to the inch, read with 96"},
	{300.0 / 90, "drawn with 300 units to the inch, read with 90"},
	{300.0 / 72, "drawn with 300 units to the inch, read with 72"},
	{96.0 / 300, "drawn with 96 units to the inch, read with 300"},
	{96 / 25.4, "pixels taken for millimetres"},
	{25.4 / 96, "millimetres taken for pixels"},
	{72 / 25.4, "points taken for millimetres"},
	{25.4 / 72, "millimetres taken for points"},
	{25.4, "millimetres taken for inches"},
	{1 / 25.4, "inches taken for millimetres"},
	{1.0 / 96, "inches taken for pixels"},
	{10, "millimetres taken for centimetres"},
	{0.1, "centimetres taken for millimetres"},
};
#define RATIO_COUNT (sizeof(RATIOS) / sizeof(*RATIOS))

/* The short side first: a card may lie either way round. */
struct size {
	double small, large;
};

/* A size with what it is. */
struct target {
	struct size size;
	char name[96];
};

static struct size size_of(double width, double height)
{
	return (struct size){fmin(width, height), fmax(width, height)};
}

static bool same_size(struct size a, struct size b, double tolerance_mm)
{
	return fabs(a.small - b.small) <= tolerance_mm + 0.001 &&
	       fabs(a.large - b.large) <= tolerance_mm + 0.001;
}

static bool same_share(double a, double b, double share)
{
	return fabs(a - b) <= share * b;
}

/* The known reason for the size that a card has instead of another; NULL without one. */
static const struct ratio *find_ratio(struct size is, struct size should, double alike)
{
	for (size_t i = 0; i < RATIO_COUNT; i++) {
		if (same_share(is.small, RATIOS[i].value * should.small, alike) &&
		    same_share(is.large, RATIOS[i].value * should.large, alike))
			return &RATIOS[i];
	}
	return NULL;
}

/* The direction of an outline's longest straight side, if that makes up an eighth of it. */
static struct cutlint_xy direction_of(const struct cutlint_design *design, uint32_t number)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
	struct cutlint_xy best = {1, 0};
	double longest = cutlint_outline_length(design, number) / 8;
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		struct cutlint_xy a = cutlint_point_mm(vertices[i]);
		struct cutlint_xy b = cutlint_point_mm(vertices[(i + 1) % outline->vertex_count]);
		double length = hypot(b.x - a.x, b.y - a.y);
		if (length <= longest)
			continue;
		longest = length;
		best = (struct cutlint_xy){(b.x - a.x) / length, (b.y - a.y) / length};
	}
	return best;
}

/* A card along its own sides, the first of which has this direction. */
struct laid {
	struct cutlint_xy along;
	struct cutlint_box box;
};

/* It may lie turned on the page. */
static struct laid lay_card(const struct cutlint_design *design, const struct cutlint_card *card)
{
	if (card->outline == CUTLINT_NONE)
		return (struct laid){{1, 0}, card->box};
	const struct cutlint_outline *outline = &design->outlines[card->outline];
	struct cutlint_xy along = direction_of(design, card->outline);
	struct cutlint_box box = cutlint_box_empty();
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		struct cutlint_xy at =
			cutlint_point_mm(design->vertices[outline->first_vertex + i]);
		cutlint_box_add(&box, (struct cutlint_xy){at.x * along.x + at.y * along.y,
							  at.y * along.x - at.x * along.y});
	}
	return (struct laid){along, box};
}

static struct size measure_card(const struct cutlint_design *design,
				const struct cutlint_card *card)
{
	struct cutlint_box box = lay_card(design, card).box;
	return size_of(box.right - box.left, box.bottom - box.top);
}

static struct target make_target(const char *name, const char *how, double width, double height)
{
	struct target target = {.size = size_of(width, height)};
	snprintf(target.name, sizeof(target.name), "%s%s", name, how);
	return target;
}

/* What the job's card is, opened flat; a card of `folds` folds has a panel more than folds. */
static struct target job_target(const struct cutlint_job *job, uint32_t folds)
{
	bool across = job->spine == CUTLINT_SPINE_LEFT || job->spine == CUTLINT_SPINE_RIGHT;
	double panels = folds > 1 ? folds + 1 : 2;
	return make_target(job->card_size, " opened flat",
			   across ? panels * job->card_width_mm : job->card_width_mm,
			   across ? job->card_height_mm : panels * job->card_height_mm);
}

/* The three ways in which a card of a named size can be drawn. */
static struct target paper_target(const char *name, double width, double height, int way)
{
	static const char *const HOW[] = {"", " opened flat", " opened flat at its short side"};
	struct size size = size_of(width, height);
	return make_target(name, HOW[way], way == 1 ? 2 * size.small : size.small,
			   way == 2 ? 2 * size.large : size.large);
}

/* Adds a name behind those that are there: "ISO A6 or ISO A7 opened flat". */
static void add_name(char *names, size_t size, const char *name)
{
	size_t used = strlen(names);
	snprintf(names + used, size - used, "%s%s", used ? " or " : "", name);
}

/*
 * The names that a size has, but for those of another size that is alike; most often two: a card of
 * its own, and another one opened flat. The job's own size comes first. False where it has none.
 */
static bool name_size(const struct cutlint_job *job, struct size size, double share,
		      const struct size *except, struct target *out)
{
	struct cutlint_paper paper = {job->card_size, job->card_width_mm, job->card_height_mm};
	bool more = job->card_given || cutlint_paper(0, &paper);
	*out = (struct target){.size = size};
	for (size_t i = job->card_given ? 0 : 1; more; more = cutlint_paper(i++, &paper)) {
		bool own = job->card_given && i > 0 && strcmp(paper.name, job->card_size) == 0;
		for (int way = 0; way < 3 && !own; way++) {
			struct target target =
				paper_target(paper.name, paper.width_mm, paper.height_mm, way);
			if (same_share(size.small, target.size.small, share) &&
			    same_share(size.large, target.size.large, share) &&
			    !(except && same_size(target.size, *except, 0)))
				add_name(out->name, sizeof(out->name), target.name);
		}
	}
	return out->name[0] != '\0';
}

/* Sizes that cards are made in: neither gift tags nor posters, nor the B series of books. */
static bool is_usual(const struct cutlint_paper *paper)
{
	return paper->width_mm >= 70 && paper->height_mm <= 300 &&
	       strncmp(paper->name, "ISO B", 5) != 0;
}

/* A size in whole millimetres was meant so; hardly one becomes that by a wrong unit. */
static bool is_round(struct size size)
{
	return fabs(remainder(size.small, 1)) < 0.01 && fabs(remainder(size.large, 1)) < 0.01;
}

/* Without a size in the job: the card size that a ratio would make of this one. */
static const struct ratio *guess(struct size size, double alike, struct target *out)
{
	struct cutlint_paper paper;
	for (size_t i = 0; cutlint_paper(i, &paper); i++) {
		for (int way = 0; is_usual(&paper) && way < 3; way++) {
			*out = paper_target(paper.name, paper.width_mm, paper.height_mm, way);
			const struct ratio *ratio = find_ratio(size, out->size, alike);
			if (ratio)
				return ratio;
		}
	}
	return NULL;
}

/* The place at so much of both sides from the card's corner. */
static struct cutlint_xy place_on(const struct laid *laid, double along, double square)
{
	double x = laid->box.left + along, y = laid->box.top + square;
	return (struct cutlint_xy){x * laid->along.x - y * laid->along.y,
				   x * laid->along.y + y * laid->along.x};
}

/* A target more than so many times as large would only make the card itself small: a choice. */
static const double TARGET_MOST = 1.5;

/* Both measures, and the size that it should have, from the same corner. */
static void show_size(const struct cutlint_design *design, struct cutlint_finding *finding,
		      const struct cutlint_card *card, struct size should)
{
	struct laid laid = lay_card(design, card);
	double width = laid.box.right - laid.box.left, height = laid.box.bottom - laid.box.top;
	bool wide = width > height;
	double across = wide ? should.large : should.small;
	double down = wide ? should.small : should.large;
	cutlint_show_span(finding, place_on(&laid, 0, height / 4),
			  place_on(&laid, width, height / 4));
	cutlint_show_span(finding, place_on(&laid, width * 3 / 4, 0),
			  place_on(&laid, width * 3 / 4, height));
	if (across > TARGET_MOST * width || down > TARGET_MOST * height)
		return;
	const struct cutlint_xy corners[] = {place_on(&laid, 0, 0), place_on(&laid, across, 0),
					     place_on(&laid, across, down),
					     place_on(&laid, 0, down), place_on(&laid, 0, 0)};
	cutlint_show_shape(finding, corners, 5, "as it should be");
}

static void add_places(struct cutlint_check *check, struct cutlint_finding *finding,
		       const struct cutlint_card *card, struct size size, struct size should)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	show_size(design, finding, card, should);
	cutlint_measured(finding, "short side", size.small, NAN, "mm");
	cutlint_measured(finding, "long side", size.large, NAN, "mm");
	if (card->outline != CUTLINT_NONE)
		cutlint_relate(finding, cutlint_place_outline(design, card->outline),
			       "the card's edge");
	if (cutlint_check_job(check)->card_given)
		cutlint_relate(finding, cutlint_place_job(check, "card", NULL, "size"),
			       "the card that the job asks for");
}

/* Said of the whole drawing, and so first: all that is measured in mm hangs on it. */
static struct cutlint_finding *report_ratio(struct cutlint_check *check,
					    const struct cutlint_card *card, struct size size,
					    const struct target *target, const struct ratio *ratio)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	struct cutlint_finding *finding = cutlint_report(
		check, cutlint_check_job(check)->card_given ? CUTLINT_ERROR : CUTLINT_WARNING,
		cutlint_place_design(design),
		"%s of %.2f mm x %.2f mm is %.5g times %s, %.2f mm x %.2f mm: %s",
		card->outline == CUTLINT_NONE ? "page" : "card", size.small, size.large,
		ratio->value, target->name, target->size.small, target->size.large, ratio->why);
	cutlint_limit(finding, "alike");
	cutlint_measured(finding, "ratio", ratio->value, 1, "");
	add_places(check, finding, card, size, target->size);
	cutlint_suggest(
		finding,
		design->physical
			? "make the width and height of the root element %.5g times as "
			  "large, or scale the drawing by that"
			: "state the true size, with a unit, in the width and height of the "
			  "root element: %.5g times what is taken now",
		1 / ratio->value);
	return finding;
}

static void report_other(struct cutlint_check *check, const struct options *options,
			 const struct cutlint_card *card, struct size size,
			 const struct target *target)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	bool page = card->outline == CUTLINT_NONE;
	const char *what = page ? "page" : "card";
	enum cutlint_severity severity = page ? CUTLINT_WARNING : CUTLINT_ERROR;
	struct cutlint_place place = cutlint_place_design(design);
	struct target other;
	struct cutlint_finding *finding;
	if (name_size(cutlint_check_job(check), size, options->alike, &target->size, &other))
		finding = cutlint_report(check, severity, place,
					 "%s of %.2f mm x %.2f mm is %s, not %s, %.2f mm x %.2f mm",
					 what, size.small, size.large, other.name, target->name,
					 target->size.small, target->size.large);
	else
		finding = cutlint_report(check, severity, place,
					 "%s of %.2f mm x %.2f mm is not %s, %.2f mm x %.2f mm",
					 what, size.small, size.large, target->name,
					 target->size.small, target->size.large);
	cutlint_limit(finding, "tolerance");
	add_places(check, finding, card, size, target->size);
	cutlint_suggest(finding,
			page ? "draw the card's edge with the role outline or blank, or name the "
			       "sheet in the job's [stock] section"
			     : "draw the card in the job's size, or correct size and spine in the "
			       "job's [card] section");
}

/* The card's own size will do for one without a fold. */
static bool is_right(const struct cutlint_job *job, const struct options *options,
		     const struct cutlint_card *card, struct size size)
{
	struct size folded = size_of(job->card_width_mm, job->card_height_mm);
	return same_size(size, job_target(job, card->fold_count).size, options->tolerance_mm) ||
	       (card->fold_count == 0 && same_size(size, folded, options->tolerance_mm));
}

/* A tag beside a card that is right. */
static bool is_tag(const struct cutlint_job *job, struct size size)
{
	struct size folded = size_of(job->card_width_mm, job->card_height_mm);
	return size.small <= folded.small && size.large <= folded.large;
}

static void judge(struct cutlint_check *check, const struct options *options,
		  const struct cutlint_card *card, bool any_right)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	struct size size = measure_card(cutlint_check_design(check), card);
	if (is_right(job, options, card, size) || (any_right && is_tag(job, size)))
		return;
	struct target target = job_target(job, card->fold_count);
	const struct ratio *ratio = find_ratio(size, target.size, options->alike);
	if (ratio)
		report_ratio(check, card, size, &target, ratio);
	/* Panels that are folded inwards are made narrower: no one size is right. */
	else if (card->fold_count < 2)
		report_other(check, options, card, size, &target);
}

static void judge_without_size(struct cutlint_check *check, const struct options *options,
			       const struct cutlint_card *card)
{
	struct size size = measure_card(cutlint_check_design(check), card);
	struct target target;
	if (is_round(size) ||
	    name_size(cutlint_check_job(check), size, options->alike, NULL, &target))
		return;
	const struct ratio *ratio = guess(size, options->alike, &target);
	if (!ratio)
		return;
	struct target named;
	if (name_size(cutlint_check_job(check), target.size, options->alike, NULL, &named))
		memcpy(target.name, named.name, sizeof(target.name));
	report_ratio(check, card, size, &target, ratio);
}

/* Whether the page stands for the card, and not for a sheet that an inset is cut from. */
static bool is_card(const struct cutlint_check *check, const struct cutlint_card *card)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	if (card->outline != CUTLINT_NONE)
		return true;
	if (cutlint_check_job(check)->sheet_width_mm > 0)
		return false;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		enum cutlint_role role = cutlint_outline_role(design, i);
		if (cutlint_role_cuts(role) || role == CUTLINT_ROLE_FOLD)
			return true;
	}
	return false;
}

static enum cutlint_outcome check_scale(struct cutlint_check *check, const void *options)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	bool any_right = false;
	for (uint32_t i = 0; job->card_given && i < sheet->card_count; i++)
		any_right = any_right ||
			    is_right(job, options, &sheet->cards[i],
				     measure_card(cutlint_check_design(check), &sheet->cards[i]));
	for (uint32_t i = 0; i < sheet->card_count; i++) {
		const struct cutlint_card *card = &sheet->cards[i];
		if (!is_card(check, card))
			continue;
		if (job->card_given)
			judge(check, options, card, any_right);
		else
			judge_without_size(check, options, card);
	}
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "page-scale",
	.summary =
		"cards that are not the size that the job asks for, with the mix-up that explains "
		"it",
	.advice = "State the drawing's size in mm or in on its root element, and name the card's "
		  "size in the job.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS,
	.check = check_scale,
};
