/* set-fit.c - several cards on one sheet, or several insets: gaps, number, and one direction. */
#include "cutlint/rule.h"

#include <math.h>
#include <stdlib.h>

struct options {
	double gap_error_mm, gap_warning_mm;
	double grain_from;
};

/*
 * Two cutting services: lines closer than 0.5 mm may burn away, 1 mm is fragile; both less a kerf
 * of 0.15 mm. A paper mill: stock above 150 g/m² is scored, so it has a grain to heed.
 */
static const struct cutlint_option OPTIONS[] = {
	{"gap-error", CUTLINT_OPTION_LENGTH, offsetof(struct options, gap_error_mm), "0.35 mm", 0,
	 100, NULL, false,
	 "a strip between two cards or two insets that is narrower than this is an error"},
	{"gap-warning", CUTLINT_OPTION_LENGTH, offsetof(struct options, gap_warning_mm), "0.85 mm",
	 0, 100, NULL, false,
	 "a strip between two cards or two insets that is narrower than this is a warning"},
	{"grain-from", CUTLINT_OPTION_NUMBER, offsetof(struct options, grain_from), "150", 0, 5000,
	 NULL, false, "from more g/m2 than this on, folds of one sheet have to run one way"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

/* Edges this near are one line burned twice, another rule's matter: that rule's `apart`. */
static const double SAME_MM = 0.05;

static const double PI = 3.14159265358979323846;

/* An edge of one of the set; those of open pieces have one each. */
struct edge {
	uint32_t outline, member; /* of which card, or which inset */
	struct cutlint_box box;
};

/* What lies on the sheet beside each other: the cards that are burned, or the insets. */
struct set {
	const char *one, *many;
	struct edge *edges;
	uint32_t edge_count, member_count;
	uint32_t first; /* its first outline in the file */
};

static int by_left(const void *a, const void *b)
{
	const struct edge *left = a, *right = b;
	if (left->box.left != right->box.left)
		return left->box.left < right->box.left ? -1 : 1;
	return left->outline < right->outline ? -1 : left->outline > right->outline;
}

static void add_edge(const struct cutlint_design *design, struct set *set, uint32_t outline,
		     uint32_t member)
{
	if (!set->edge_count)
		set->first = outline;
	set->edges[set->edge_count++] =
		(struct edge){outline, member, cutlint_outline_box(design, outline)};
}

/* A blank's edge is not burned: two of them may touch. */
static void find_cards(const struct cutlint_check *check, struct set *set)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (uint32_t i = 0; i < design->outline_count; i++) {
		uint32_t card = cutlint_outline_role(design, i) == CUTLINT_ROLE_OUTLINE
					? cutlint_sheet_card_of(design, sheet, i)
					: CUTLINT_NONE;
		if (card != CUTLINT_NONE && sheet->cards[card].edge_burned)
			add_edge(design, set, i, card);
	}
	for (uint32_t i = 0; i < sheet->card_count; i++)
		set->member_count += sheet->cards[i].outline != CUTLINT_NONE;
}

static bool is_inside_another(const struct cutlint_design *design, const struct set *set,
			      uint32_t number)
{
	const struct edge *edge = &set->edges[number];
	struct cutlint_xy at =
		cutlint_point_mm(design->vertices[design->outlines[edge->outline].first_vertex]);
	for (uint32_t i = 0; i < set->edge_count; i++) {
		const struct cutlint_box *box = &set->edges[i].box;
		bool around = i != number && box->left < edge->box.left &&
			      box->right > edge->box.right && box->top < edge->box.top &&
			      box->bottom > edge->box.bottom;
		if (around && cutlint_outline_contains(design, set->edges[i].outline, at))
			return true;
	}
	return false;
}

/* The outer edges of insets; what is cut out of one belongs to it. */
static void find_insets(const struct cutlint_check *check, struct set *set)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	for (uint32_t i = 0; i < design->outline_count; i++) {
		if (cutlint_outline_role(design, i) == CUTLINT_ROLE_INSET &&
		    design->outlines[i].closed)
			add_edge(design, set, i, set->edge_count);
	}
	uint32_t kept = 0, count = set->edge_count;
	for (uint32_t i = 0; i < count; i++)
		set->edges[i].member = is_inside_another(design, set, i) ? CUTLINT_NONE : 0;
	for (uint32_t i = 0; i < count; i++) {
		struct edge edge = set->edges[i];
		if (edge.member == CUTLINT_NONE)
			continue;
		edge.member = kept;
		set->edges[kept++] = edge;
	}
	set->edge_count = set->member_count = kept;
	set->first = kept ? set->edges[0].outline : CUTLINT_NONE;
}

/* The nearest neighbour of a member that comes earlier in the file. */
struct gap {
	double drawn_mm;
	struct cutlint_wall walls[2]; /* [0] is the member's own */
};

static void take_pair(const struct cutlint_design *design, const struct edge *a,
		      const struct edge *b, double reach_mm, struct gap *gaps)
{
	const struct edge *later = a->outline > b->outline ? a : b;
	const struct edge *earlier = later == a ? b : a;
	if (a->member == b->member || a->box.top > b->box.bottom + reach_mm ||
	    b->box.top > a->box.bottom + reach_mm)
		return;
	struct gap gap;
	gap.drawn_mm =
		cutlint_outline_distance(design, later->outline, earlier->outline, gap.walls);
	if (gap.drawn_mm > SAME_MM && gap.drawn_mm < gaps[later->member].drawn_mm)
		gaps[later->member] = gap;
}

static void report_gap(struct cutlint_check *check, const struct options *options,
		       const struct set *set, const struct gap *gap)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	double kerf_mm = cutlint_check_job(check)->kerf_mm;
	double kept_mm = gap->drawn_mm - kerf_mm;
	bool bad = kept_mm < options->gap_error_mm - SLACK_MM;
	double limit_mm = bad ? options->gap_error_mm : options->gap_warning_mm;
	if (kept_mm >= limit_mm - SLACK_MM)
		return;
	struct cutlint_finding *finding = cutlint_report(
		check, bad ? CUTLINT_ERROR : CUTLINT_WARNING,
		cutlint_place_wall(design, &gap->walls[0]),
		"strip of %.2f mm between two %s is under %.2f mm (%.2f mm as drawn)",
		fmax(kept_mm, 0), set->many, limit_mm, gap->drawn_mm);
	cutlint_limit(finding, bad ? "gap-error" : "gap-warning");
	cutlint_measured(finding, "strip", kept_mm, limit_mm, "mm");
	cutlint_measured(finding, "drawn", gap->drawn_mm, NAN, "mm");
	cutlint_show_span(finding, gap->walls[0].at, gap->walls[1].at);
	cutlint_relate(finding, cutlint_place_wall(design, &gap->walls[1]), "the other %s",
		       set->one);
	cutlint_suggest(finding,
			"move them %.2f mm apart, or let them share one line that is burned once",
			cutlint_at_least(fmax(options->gap_error_mm, options->gap_warning_mm) +
						 kerf_mm - gap->drawn_mm,
					 0.01));
}

/* From left to right; what begins farther right than any gap reaches is not looked at. */
static bool check_gaps(struct cutlint_check *check, const struct options *options, struct set *set,
		       uint32_t members)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	double reach_mm = fmax(options->gap_error_mm, options->gap_warning_mm) +
			  cutlint_check_job(check)->kerf_mm;
	struct gap *gaps = calloc((size_t)members + 1, sizeof(*gaps));
	if (!gaps)
		return false;
	for (uint32_t i = 0; i < members; i++)
		gaps[i].drawn_mm = INFINITY;
	if (set->edge_count)
		qsort(set->edges, set->edge_count, sizeof(*set->edges), by_left);
	for (uint32_t i = 0; i < set->edge_count; i++) {
		for (uint32_t j = i + 1; j < set->edge_count; j++) {
			if (set->edges[j].box.left > set->edges[i].box.right + reach_mm)
				break;
			take_pair(design, &set->edges[i], &set->edges[j], reach_mm, gaps);
		}
	}
	for (uint32_t i = 0; i < members; i++)
		report_gap(check, options, set, &gaps[i]);
	free(gaps);
	return true;
}

static void report_count(struct cutlint_check *check, const struct set *set, uint32_t wanted)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_job *job = cutlint_check_job(check);
	bool named = job->card_count > 0;
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_ERROR, cutlint_place_outline(design, set->first),
		"%u %s on the sheet, %s %u", set->member_count,
		set->member_count == 1 ? set->one : set->many,
		named ? "where the job counts" : "where the cards that need one are", wanted);
	cutlint_measured(finding, "count", set->member_count, wanted, "");
	if (named)
		cutlint_limit_job(finding, "card", NULL, "count");
	cutlint_suggest(finding, set->member_count < wanted
					 ? "draw those that are missing, or change the count"
					 : "take out those that are too many, or change the count");
}

/* Without any outline or blank the page is one card, unless it is a sheet of insets. */
static void check_counts(struct cutlint_check *check, struct set *cards, const struct set *insets)
{
	uint32_t wanted = cutlint_check_job(check)->card_count;
	bool page = !cards->member_count && !insets->member_count;
	if (page)
		cards->member_count = 1;
	if (wanted && cards->member_count && cards->member_count != wanted)
		report_count(check, cards, wanted);
	if (!wanted && insets->member_count > 1 && cards->member_count > 0)
		wanted = cards->member_count;
	if (wanted && insets->member_count && insets->member_count != wanted &&
	    (!cards->member_count || cards->member_count == wanted))
		report_count(check, insets, wanted);
}

static double angle_between(const struct cutlint_fold *a, const struct cutlint_fold *b)
{
	return cutlint_angle_between((struct cutlint_xy){a->to.x - a->from.x, a->to.y - a->from.y},
				     (struct cutlint_xy){b->to.x - b->from.x, b->to.y - b->from.y});
}

/* Where the grain is known, each fold is judged against it, by another rule. */
static bool heeds_grain(const struct cutlint_job *job, const struct options *options)
{
	return job->grain == CUTLINT_GRAIN_UNKNOWN && job->stock_grammage > options->grain_from;
}

static uint32_t count_along(const struct cutlint_sheet *sheet, const struct cutlint_fold *fold)
{
	uint32_t count = 0;
	for (uint32_t i = 0; i < sheet->card_count; i++)
		count += sheet->cards[i].fold != CUTLINT_NONE &&
			 angle_between(&sheet->folds[sheet->cards[i].fold], fold) <= PI / 4;
	return count;
}

static void report_turned(struct cutlint_check *check, const struct cutlint_card *card,
			  const struct cutlint_card *usual, uint32_t others)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_WARNING,
		cutlint_place_outline(design, sheet->folds[card->fold].outline),
		"fold runs across those of %u other card%s of the sheet: some of them fold across "
		"the grain",
		others, others == 1 ? "" : "s");
	cutlint_limit(finding, "grain-from");
	cutlint_relate(finding, cutlint_place_outline(design, sheet->folds[usual->fold].outline),
		       "a fold that runs the other way");
	cutlint_suggest(finding, "turn the card a quarter, so that all folds can run along the "
				 "grain");
}

/* The way that most folds run is the usual one; of two as frequent that of the first card. */
static void check_directions(struct cutlint_check *check)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	const struct cutlint_card *usual = NULL;
	uint32_t most = 0;
	for (uint32_t i = 0; i < sheet->card_count; i++) {
		const struct cutlint_card *card = &sheet->cards[i];
		uint32_t count = card->fold == CUTLINT_NONE
					 ? 0
					 : count_along(sheet, &sheet->folds[card->fold]);
		if (count <= most)
			continue;
		most = count;
		usual = card;
		if (2 * count > sheet->card_count)
			break;
	}
	for (uint32_t i = 0; usual && i < sheet->card_count; i++) {
		const struct cutlint_card *card = &sheet->cards[i];
		if (card->fold != CUTLINT_NONE &&
		    angle_between(&sheet->folds[card->fold], &sheet->folds[usual->fold]) > PI / 4)
			report_turned(check, card, usual, most);
	}
}

static enum cutlint_outcome check_set(struct cutlint_check *check, const void *data)
{
	const struct options *options = data;
	const struct cutlint_job *job = cutlint_check_job(check);
	size_t room = (size_t)cutlint_check_design(check)->outline_count + 1;
	struct set cards = {.one = "card", .many = "cards", .first = CUTLINT_NONE};
	struct set insets = {.one = "inset", .many = "insets", .first = CUTLINT_NONE};
	cards.edges = calloc(room, sizeof(*cards.edges));
	insets.edges = calloc(room, sizeof(*insets.edges));
	bool whole = cards.edges && insets.edges;
	if (whole) {
		find_cards(check, &cards);
		find_insets(check, &insets);
		whole = check_gaps(check, options, &cards,
				   cutlint_check_sheet(check)->card_count) &&
			check_gaps(check, options, &insets, insets.member_count);
		check_counts(check, &cards, &insets);
		if (heeds_grain(job, options))
			check_directions(check);
	}
	free(cards.edges);
	free(insets.edges);
	return whole ? CUTLINT_LOOKED : cutlint_could_not_look(check, "out of memory");
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "set-fit",
	.summary = "cards or insets of one sheet that lie too close, are too many or too few, or "
		   "fold across each other",
	.advice = "Leave a strip of 1 mm between two of them, and lay all of them the same way "
		  "round.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS,
	.check = check_set,
};
