/* burn-order.c - lines that are burned in the drawing's order: scores, inner cuts, then outlines.
 */
#include "cutlint/rule.h"

#include <math.h>
#include <stdlib.h>

struct options {
	double times, least_mm;
};

/* Both figures are choices. */
static const struct cutlint_option OPTIONS[] = {
	{"travel", CUTLINT_OPTION_NUMBER, offsetof(struct options, times), "2", 1, 1000, NULL,
	 false, "moves of more than this many times what a simple order needs are noted"},
	{"travel-least", CUTLINT_OPTION_LENGTH, offsetof(struct options, least_mm), "500 mm", 0,
	 1e6, NULL, false, "moves are noted only if a simple order saves at least this"},
	{.name = NULL},
};

static bool is_inner(enum cutlint_role role)
{
	return role == CUTLINT_ROLE_ART || role == CUTLINT_ROLE_SLIT || role == CUTLINT_ROLE_FOLD;
}

/* Lines of a card that are burned after its outline is cut: the card may have moved. */
static void check_freed(struct cutlint_check *check, uint32_t number)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	const struct cutlint_card *card = &sheet->cards[number];
	uint32_t count = 0, first = CUTLINT_NONE;
	if (card->outline == CUTLINT_NONE || !card->edge_burned)
		return;
	for (uint32_t i = card->outline + 1; i < design->outline_count; i++) {
		if (!is_inner(cutlint_outline_role(design, i)) ||
		    cutlint_sheet_card_of(design, sheet, i) != number)
			continue;
		if (count++ == 0)
			first = i;
	}
	if (count == 0)
		return;
	struct cutlint_finding *finding =
		cutlint_report(check, CUTLINT_WARNING, cutlint_place_outline(design, first),
			       "%u %s burned after the outline that frees the card",
			       (unsigned)count, count == 1 ? "line is" : "lines are");
	cutlint_measured(finding, "lines", count, 0, "");
	cutlint_relate(finding, cutlint_place_outline(design, card->outline), "the outline");
	cutlint_suggest(finding, "draw the outline last");
}

/* Scores that come after cuts of their card. */
static void check_scores(struct cutlint_check *check, uint32_t number)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	uint32_t cuts = 0, first_cut = CUTLINT_NONE;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		enum cutlint_role role = cutlint_outline_role(design, i);
		if (!is_inner(role) || cutlint_sheet_card_of(design, sheet, i) != number)
			continue;
		if (role != CUTLINT_ROLE_FOLD) {
			first_cut = cuts++ == 0 ? i : first_cut;
			continue;
		}
		if (cuts == 0)
			continue;
		struct cutlint_finding *finding =
			cutlint_report(check, CUTLINT_NOTE, cutlint_place_outline(design, i),
				       "fold is scored after %u %s of its card", (unsigned)cuts,
				       cuts == 1 ? "cut" : "cuts");
		cutlint_measured(finding, "cuts", cuts, 0, "");
		cutlint_relate(finding, cutlint_place_outline(design, first_cut),
			       "the first of the cuts");
		cutlint_suggest(finding,
				"draw the fold before the cuts, while the sheet lies flat");
		return;
	}
}

/* One line to burn: where the beam comes to it and leaves it. */
struct stop {
	int phase; /* scores, then inner cuts, then outlines */
	long strip;
	struct cutlint_xy from, to;
	uint32_t outline;
};

static int phase_of(enum cutlint_role role)
{
	if (role == CUTLINT_ROLE_FOLD)
		return 0;
	return role == CUTLINT_ROLE_OUTLINE ? 2 : 1;
}

static uint32_t collect(const struct cutlint_design *design, struct stop *stops)
{
	uint32_t count = 0;
	for (uint32_t i = 0; i < design->outline_count; i++) {
		enum cutlint_role role = cutlint_outline_role(design, i);
		const struct cutlint_outline *outline = &design->outlines[i];
		if (!is_inner(role) && role != CUTLINT_ROLE_OUTLINE)
			continue;
		const struct cutlint_point *vertices = &design->vertices[outline->first_vertex];
		uint32_t last = outline->closed ? 0 : outline->vertex_count - 1;
		stops[count++] = (struct stop){.phase = phase_of(role),
					       .from = cutlint_point_mm(vertices[0]),
					       .to = cutlint_point_mm(vertices[last]),
					       .outline = i};
	}
	return count;
}

/* What the beam moves between the lines, from the page's corner on. */
static double travel_of(const struct stop *stops, uint32_t count)
{
	struct cutlint_xy at = {0, 0};
	double travel = 0;
	for (uint32_t i = 0; i < count; i++) {
		travel += hypot(stops[i].from.x - at.x, stops[i].from.y - at.y);
		at = stops[i].to;
	}
	return travel;
}

static int by_strip(const void *left, const void *right)
{
	const struct stop *a = left, *b = right;
	if (a->phase != b->phase)
		return a->phase - b->phase;
	if (a->strip != b->strip)
		return a->strip < b->strip ? -1 : 1;
	double ahead = a->strip % 2 == 0 ? a->from.x - b->from.x : b->from.x - a->from.x;
	if (ahead != 0)
		return ahead < 0 ? -1 : 1;
	return a->outline < b->outline ? -1 : 1;
}

/*
 * A simple order: level strips of the height at which a strip's lines lie about as far apart as
 * strips do, walked to and fro. For many lines spread at random it is about 1.3 times as long as
 * the best one (the strip method of Few, 1955, from memory).
 */
static void sort_by_strips(struct stop *stops, uint32_t count)
{
	struct cutlint_box box = cutlint_box_empty();
	for (uint32_t i = 0; i < count; i++)
		cutlint_box_add(&box, stops[i].from);
	double height = sqrt((box.right - box.left) * (box.bottom - box.top) / count);
	for (uint32_t i = 0; i < count; i++)
		stops[i].strip =
			height > 0.01 ? (long)floor((stops[i].from.y - box.top) / height) : 0;
	qsort(stops, count, sizeof(*stops), by_strip);
}

static void check_travel(struct cutlint_check *check, const struct options *options,
			 struct stop *stops)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	uint32_t count = collect(design, stops);
	if (count < 2)
		return;
	double travel_mm = travel_of(stops, count);
	sort_by_strips(stops, count);
	double simple_mm = travel_of(stops, count);
	if (travel_mm <= options->times * simple_mm || travel_mm < simple_mm + options->least_mm)
		return;
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_NOTE, cutlint_place_design(design),
		"%.0f mm of moves between %u lines, over %g times the %.0f mm of a simple order",
		travel_mm, (unsigned)count, options->times, simple_mm);
	cutlint_limit(finding, "travel");
	cutlint_measured(finding, "travel", travel_mm, options->times * simple_mm, "mm");
	cutlint_suggest(finding, "draw the lines row by row: scores, inner cuts, then outlines");
}

static enum cutlint_outcome check_order(struct cutlint_check *check, const void *options)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	if (!cutlint_check_job(check)->drawing_order)
		return CUTLINT_LOOKED;
	struct stop *stops = calloc((size_t)design->outline_count + 1, sizeof(*stops));
	if (!stops)
		return cutlint_could_not_look(check, "out of memory");
	for (uint32_t i = 0; i < cutlint_check_sheet(check)->card_count; i++) {
		check_freed(check, i);
		check_scores(check, i);
	}
	check_travel(check, options, stops);
	free(stops);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "burn-order",
	.summary = "lines that the drawing's order burns too late: after the outline has freed the "
		   "card",
	.advice = "Where the machine burns in the drawing's order, draw scores first, then inner "
		  "cuts, then the outline.",
	.severity = CUTLINT_WARNING,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS,
	.check = check_order,
};
