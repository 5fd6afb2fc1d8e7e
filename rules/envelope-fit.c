/* envelope-fit.c - the folded card and the envelope that it is to go into. */
#include "cutlint/rule.h"

#include <math.h>

struct options {
	double error_mm, warning_mm;
};

static const struct cutlint_option OPTIONS[] = {
	{"error", CUTLINT_OPTION_LENGTH, offsetof(struct options, error_mm), "1.5 mm", 0, 100, NULL,
	 false, "less room than this in all, in width or height, is an error"},
	{"warning", CUTLINT_OPTION_LENGTH, offsetof(struct options, warning_mm), "3 mm", 0, 100,
	 NULL, false, "less room than this in all, in width or height, is a warning"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

struct size {
	double width, height;
};

/* A stretch of a card in a direction: its widest panel. */
struct stretch {
	double from, length;
};

/* What a card measures when it is folded, and where on the sheet that is. */
struct folded {
	struct size size;
	struct cutlint_xy across, down; /* directions of width and height */
	struct cutlint_xy corner;
	bool on_sheet;
};

static double along(struct cutlint_xy at, struct cutlint_xy direction)
{
	return at.x * direction.x + at.y * direction.y;
}

/* From where to where an outline reaches in a direction. */
static void reach_of(const struct cutlint_design *design, uint32_t number,
		     struct cutlint_xy direction, double *from, double *to)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	*from = INFINITY;
	*to = -INFINITY;
	for (uint32_t i = 0; i < outline->vertex_count; i++) {
		struct cutlint_xy at =
			cutlint_point_mm(design->vertices[outline->first_vertex + i]);
		*from = fmin(*from, along(at, direction));
		*to = fmax(*to, along(at, direction));
	}
}

/* Whether a fold goes across its card; those of a pop-up reach no edge where the main fold does. */
static bool folds_card(const struct cutlint_sheet *sheet, const struct cutlint_fold *fold)
{
	const struct cutlint_fold *main = &sheet->folds[sheet->cards[fold->card].fold];
	return fold->at_edge[0] || fold->at_edge[1] || !(main->at_edge[0] || main->at_edge[1]);
}

/* The first place past `from` where a fold crosses the direction; `to` without one. */
static double next_fold(const struct cutlint_check *check, uint32_t card,
			struct cutlint_xy direction, double from, double to)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	double next = to;
	for (uint32_t i = 0; i < sheet->fold_count; i++) {
		const struct cutlint_fold *fold = &sheet->folds[i];
		double a = along(fold->from, direction), b = along(fold->to, direction);
		double span = hypot(fold->to.x - fold->from.x, fold->to.y - fold->from.y);
		bool across = fabs(b - a) < 0.1 * span;
		double at = (a + b) / 2;
		if (fold->card == card && across && at > from + SLACK_MM && at < next &&
		    folds_card(sheet, fold))
			next = at;
	}
	return next;
}

/* The widest panel of a card in a direction: what it measures when it is folded. */
static struct stretch folded_measure(const struct cutlint_check *check, uint32_t number,
				     struct cutlint_xy direction)
{
	const struct cutlint_card *card = &cutlint_check_sheet(check)->cards[number];
	double from, to;
	struct stretch widest = {0, 0};
	if (card->outline != CUTLINT_NONE) {
		reach_of(cutlint_check_design(check), card->outline, direction, &from, &to);
	} else {
		from = fmin(0, along((struct cutlint_xy){card->box.right, card->box.bottom},
				     direction));
		to = fmax(0,
			  along((struct cutlint_xy){card->box.right, card->box.bottom}, direction));
	}
	while (from < to) {
		double next = next_fold(check, number, direction, from, to);
		if (next - from > widest.length)
			widest = (struct stretch){from, next - from};
		from = next;
	}
	return widest;
}

static struct folded fold_card(const struct cutlint_check *check, uint32_t card)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	struct cutlint_xy direction = {1, 0};
	if (sheet->cards[card].fold != CUTLINT_NONE) {
		const struct cutlint_fold *fold = &sheet->folds[sheet->cards[card].fold];
		double x = fold->to.x - fold->from.x, y = fold->to.y - fold->from.y;
		direction = (struct cutlint_xy){x / hypot(x, y), y / hypot(x, y)};
	}
	struct cutlint_xy square = {-direction.y, direction.x};
	struct stretch width = folded_measure(check, card, square);
	struct stretch height = folded_measure(check, card, direction);
	return (struct folded){
		.size = {width.length, height.length},
		.across = square,
		.down = direction,
		.corner = {square.x * width.from + direction.x * height.from,
			   square.y * width.from + direction.y * height.from},
		.on_sheet = true,
	};
}

/* What an envelope leaves in width and height, the card turned so that the lesser is larger. */
static struct size room_of(const struct cutlint_job *job, struct size card)
{
	struct size as_is = {job->envelope_width_mm - card.width,
			     job->envelope_height_mm - card.height};
	struct size turned = {job->envelope_width_mm - card.height,
			      job->envelope_height_mm - card.width};
	return fmin(as_is.width, as_is.height) >= fmin(turned.width, turned.height) ? as_is
										    : turned;
}

static struct cutlint_xy place_on(const struct folded *folded, double across, double down)
{
	return (struct cutlint_xy){
		folded->corner.x + folded->across.x * across + folded->down.x * down,
		folded->corner.y + folded->across.y * across + folded->down.y * down};
}

/* The envelope, with the card pushed into one of its corners, and what it leaves. */
static void show_room(struct cutlint_finding *finding, const struct folded *folded,
		      struct size room)
{
	double width = folded->size.width, height = folded->size.height;
	double wide = width + room.width, high = height + room.height;
	const struct cutlint_xy corners[] = {place_on(folded, 0, 0), place_on(folded, wide, 0),
					     place_on(folded, wide, high),
					     place_on(folded, 0, high), place_on(folded, 0, 0)};
	bool width_first = room.width <= room.height;
	for (int i = 0; i < 2; i++) {
		if ((i == 0) == width_first)
			cutlint_show_span(finding, place_on(folded, width, height / 2),
					  place_on(folded, wide, height / 2));
		else
			cutlint_show_span(finding, place_on(folded, width / 2, height),
					  place_on(folded, width / 2, high));
	}
	cutlint_show_shape(finding, corners, 5, "envelope");
}

static void judge(struct cutlint_check *check, const struct options *options,
		  const struct folded *folded, struct cutlint_place place)
{
	const struct cutlint_job *job = cutlint_check_job(check);
	struct size card = folded->size;
	struct size room = room_of(job, card);
	double least_mm = fmin(room.width, room.height);
	bool bad = least_mm < options->error_mm - SLACK_MM;
	double limit_mm = bad ? options->error_mm : options->warning_mm;
	if (least_mm >= limit_mm - SLACK_MM)
		return;

	enum cutlint_severity severity = bad ? CUTLINT_ERROR : CUTLINT_WARNING;
	struct cutlint_finding *finding =
		least_mm < -SLACK_MM
			? cutlint_report(
				  check, severity, place,
				  "folded card of %.2f mm x %.2f mm is %.2f mm too large for "
				  "the envelope %s, %.2f mm x %.2f mm",
				  card.width, card.height, -least_mm, job->envelope,
				  job->envelope_width_mm, job->envelope_height_mm)
			: cutlint_report(check, severity, place,
					 "folded card of %.2f mm x %.2f mm has %.2f mm and %.2f mm "
					 "of room in the envelope %s, %.2f mm x %.2f mm: under "
					 "%.2f mm",
					 card.width, card.height, fmax(room.width, 0),
					 fmax(room.height, 0), job->envelope,
					 job->envelope_width_mm, job->envelope_height_mm, limit_mm);
	cutlint_limit(finding, bad ? "error" : "warning");
	cutlint_measured(finding, "room in width", room.width, limit_mm, "mm");
	cutlint_measured(finding, "room in height", room.height, limit_mm, "mm");
	if (folded->on_sheet)
		show_room(finding, folded, room);
	if (!place.in_job)
		cutlint_relate(finding, cutlint_place_job(check, "card", NULL, "envelope"),
			       "the envelope");
	double wanted_mm = fmax(options->error_mm, options->warning_mm);
	cutlint_suggest(finding,
			"make the folded card at most %.2f mm x %.2f mm, or take a larger envelope",
			cutlint_at_most(job->envelope_width_mm - wanted_mm, 0.01),
			cutlint_at_most(job->envelope_height_mm - wanted_mm, 0.01));
}

static enum cutlint_outcome check_envelope(struct cutlint_check *check, const void *options)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_job *job = cutlint_check_job(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	bool by_job = false;
	if (!job->envelope)
		return CUTLINT_LOOKED;
	for (uint32_t i = 0; i < sheet->card_count; i++) {
		const struct cutlint_card *card = &sheet->cards[i];
		if (card->fold == CUTLINT_NONE &&
		    (job->card_given || card->outline == CUTLINT_NONE)) {
			by_job = true;
			continue;
		}
		struct folded folded = fold_card(check, i);
		judge(check, options, &folded, cutlint_place_outline(design, card->outline));
	}
	struct folded named = {.size = {job->card_width_mm, job->card_height_mm}};
	if (by_job && job->card_given)
		judge(check, options, &named, cutlint_place_job(check, "card", NULL, "envelope"));
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "envelope-fit",
	.summary = "folded cards that are too large for the envelope that the job names",
	.advice = "Leave a quarter of an inch (6 mm) in width and in height, more for thick cards.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS,
	.check = check_envelope,
};
