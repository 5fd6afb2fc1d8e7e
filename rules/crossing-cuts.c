/* crossing-cuts.c - burn lines that cross or touch each other, themselves, or a card's edge. */
#include "cutlint/rule.h"

#include <math.h>

struct options {
	double most;
};

/* How long a list is read has no source: a choice. */
static const struct cutlint_option OPTIONS[] = {
	{"most", CUTLINT_OPTION_NUMBER, offsetof(struct options, most), "20", 1, 10000, NULL, false,
	 "so many pairs of lines that cross are listed, the gravest first; the rest is counted"},
	{.name = NULL},
};

/* So many places of one pair are named. */
enum { PLACES_MOST = 8 };

/* So many pieces may meet in a crossing. */
enum { LOOSE_AT_CROSSING = 4 };

/* All crossings of one pair of lines: a run of the sheet's list. */
struct pair {
	uint32_t first, count;
	enum cutlint_severity severity;
	bool loose; /* they cut something free */
};

static enum cutlint_role role_of(const struct cutlint_design *design,
				 const struct cutlint_wall *wall)
{
	return wall->outline == CUTLINT_NONE ? CUTLINT_ROLE_BLANK
					     : cutlint_outline_role(design, wall->outline);
}

static bool is_open(const struct cutlint_design *design, const struct cutlint_wall *wall)
{
	return wall->outline != CUTLINT_NONE && !design->outlines[wall->outline].closed;
}

static bool is_at(const struct cutlint_wall *wall, const struct cutlint_design *design,
		  enum cutlint_role role)
{
	return role_of(design, wall) == role;
}

/*
 * Slits are drawn to cross: an X to thread a ribbon through, a fringe that runs out over the edge.
 * An open line may run out over an edge that comes ready cut: it trims the card. What such lines
 * cut free, the loose-part rule says; what runs past the page, the card-margin rule.
 */
static bool is_meant(const struct cutlint_design *design, const struct cutlint_crossing *crossing)
{
	const struct cutlint_wall *later = &crossing->walls[0], *sooner = &crossing->walls[1];
	bool first = is_at(later, design, CUTLINT_ROLE_SLIT);
	bool second = is_at(sooner, design, CUTLINT_ROLE_SLIT);
	if (later->outline == CUTLINT_NONE || sooner->outline == CUTLINT_NONE)
		return true;
	if (crossing->kind != CUTLINT_CROSSING_EDGE)
		return first && second;
	bool ready_cut = is_at(later, design, CUTLINT_ROLE_BLANK) ||
			 is_at(sooner, design, CUTLINT_ROLE_BLANK);
	bool open = is_open(design, later) || is_open(design, sooner);
	return first || second || (open && ready_cut);
}

static bool has_paint(const struct cutlint_shape *shape)
{
	return shape->fill.kind != CUTLINT_PAINT_NONE;
}

static bool same_paint(const struct cutlint_design *design, const struct cutlint_crossing *crossing)
{
	const struct cutlint_shape *a = cutlint_outline_shape(design, crossing->walls[0].outline);
	const struct cutlint_shape *b = cutlint_outline_shape(design, crossing->walls[1].outline);
	return a == b || !has_paint(a) || !has_paint(b) ||
	       (a->fill.kind == b->fill.kind && a->fill.rgb == b->fill.rgb);
}

/* Whether nothing stays between two windows, or a window and the edge, where they touch. */
static bool leaves_nothing(const struct cutlint_design *design,
			   const struct cutlint_crossing *crossing)
{
	return crossing->kind == CUTLINT_CROSSING_TOUCH && !is_open(design, &crossing->walls[0]) &&
	       !is_open(design, &crossing->walls[1]);
}

static bool frees(const struct cutlint_crossing *crossing)
{
	return crossing->loose[0] != CUTLINT_NONE;
}

static enum cutlint_severity severity_of(const struct cutlint_design *design,
					 const struct cutlint_crossing *crossing)
{
	bool grave = crossing->kind == CUTLINT_CROSSING_EDGE || frees(crossing) ||
		     leaves_nothing(design, crossing);
	return grave ? CUTLINT_ERROR : CUTLINT_WARNING;
}

static bool same_pair(const struct cutlint_crossing *a, const struct cutlint_crossing *b)
{
	return a->walls[0].outline == b->walls[0].outline &&
	       a->walls[1].outline == b->walls[1].outline;
}

/* The crossings from `first` on that are one pair's. */
static struct pair take_pair(const struct cutlint_design *design, const struct cutlint_sheet *sheet,
			     uint32_t first)
{
	const struct cutlint_crossing *crossings = &sheet->crossings[first];
	struct pair pair = {.first = first, .severity = CUTLINT_NOTE};
	while (first + pair.count < sheet->crossing_count &&
	       same_pair(&crossings[0], &crossings[pair.count])) {
		const struct cutlint_crossing *crossing = &crossings[pair.count++];
		enum cutlint_severity severity = severity_of(design, crossing);
		if (severity > pair.severity)
			pair.severity = severity;
		pair.loose = pair.loose || frees(crossing);
	}
	return pair;
}

/* The gravest crossing of a pair speaks for it: touching weighs more than crossing only as error.
 */
static const struct cutlint_crossing *speaker(const struct cutlint_design *design,
					      const struct cutlint_sheet *sheet,
					      const struct pair *pair)
{
	const struct cutlint_crossing *crossings = &sheet->crossings[pair->first];
	for (uint32_t i = 0; i < pair->count; i++) {
		if (severity_of(design, &crossings[i]) == pair->severity)
			return &crossings[i];
	}
	return crossings;
}

static const char *what_happens(enum cutlint_crossing_kind kind)
{
	switch (kind) {
	case CUTLINT_CROSSING_TOUCH:
		return "two lines touch";
	case CUTLINT_CROSSING_SELF:
		return "a line crosses itself";
	case CUTLINT_CROSSING_EDGE:
		return "a line crosses the card's edge";
	case CUTLINT_CROSSING_CROSS:
		break;
	}
	return "two lines cross";
}

static void suggest(const struct cutlint_design *design, struct cutlint_finding *finding,
		    const struct cutlint_crossing *crossing)
{
	switch (crossing->kind) {
	case CUTLINT_CROSSING_EDGE:
		cutlint_suggest(finding, "keep the art inside the card, or draw the edge with its "
					 "notch as one outline");
		return;
	case CUTLINT_CROSSING_SELF:
		cutlint_suggest(finding, "draw only the outer line of the shape, or two shapes "
					 "with a bridge between them");
		return;
	case CUTLINT_CROSSING_TOUCH:
		cutlint_suggest(finding, "move them apart by a bridge's width, or unite them into "
					 "one window");
		return;
	case CUTLINT_CROSSING_CROSS:
		break;
	}
	if (is_open(design, &crossing->walls[0]) || is_open(design, &crossing->walls[1]))
		cutlint_suggest(finding, "end the one where it meets the other, or give lines that "
					 "are meant to cross the role slit");
	else if (same_paint(design, crossing))
		cutlint_suggest(finding, "unite the two shapes into one window, or move them apart "
					 "by a bridge's width");
	else
		cutlint_suggest(finding, "cut the one shape out of the other, or give both one "
					 "paint and unite them");
}

static void relate(struct cutlint_check *check, struct cutlint_finding *finding,
		   const struct pair *pair, const struct cutlint_crossing *crossing)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_crossing *crossings =
		&cutlint_check_sheet(check)->crossings[pair->first];
	if (crossing->walls[1].outline != crossing->walls[0].outline ||
	    crossing->walls[1].vertex != crossing->walls[0].vertex)
		cutlint_relate(finding, cutlint_place_wall(design, &crossing->walls[1]),
			       "the other line");
	uint32_t named = 1;
	if (pair->count > 1)
		cutlint_show_shape(finding, &crossing->walls[0].at, 1, NULL);
	for (uint32_t i = 0; i < pair->count && named < PLACES_MOST; i++) {
		if (&crossings[i] == crossing)
			continue;
		cutlint_show_shape(finding, &crossings[i].walls[0].at, 1, NULL);
		cutlint_relate(finding, cutlint_place_wall(design, &crossings[i].walls[0]),
			       "also at x %.2f mm, y %.2f mm", crossings[i].walls[0].at.x,
			       crossings[i].walls[0].at.y);
		named++;
	}
}

static void report(struct cutlint_check *check, const struct pair *pair)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_crossing *crossing = speaker(design, cutlint_check_sheet(check), pair);
	struct cutlint_xy at = crossing->walls[0].at;
	struct cutlint_place place = cutlint_place_wall(design, &crossing->walls[0]);
	const char *loose = pair->loose ? ", and cut a piece free" : "";
	const char *nothing =
		leaves_nothing(design, crossing) ? ": nothing stays between them" : "";
	struct cutlint_finding *finding =
		pair->count == 1
			? cutlint_report(check, pair->severity, place,
					 "%s at x %.2f mm, y %.2f mm%s%s",
					 what_happens(crossing->kind), at.x, at.y, nothing, loose)
			: cutlint_report(check, pair->severity, place,
					 "%s in %u places, first at x %.2f mm, y %.2f mm%s%s",
					 what_happens(crossing->kind), (unsigned)pair->count, at.x,
					 at.y, nothing, loose);
	cutlint_measured(finding, "crossings", pair->count, NAN, "");
	relate(check, finding, pair, crossing);
	suggest(design, finding, crossing);
}

/* What there is no room for in the list. */
struct left_over {
	uint32_t pairs;
	uint32_t corners; /* of pieces that these may cut free, at most */
};

/* Reports the pairs of one severity until the list is full. */
static void report_grade(struct cutlint_check *check, enum cutlint_severity severity,
			 uint32_t *room, struct left_over *left_over)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	uint32_t i = 0;
	while (i < sheet->crossing_count) {
		struct pair pair = take_pair(design, sheet, i);
		i += pair.count;
		if (pair.severity != severity || is_meant(design, &sheet->crossings[pair.first]))
			continue;
		if (*room == 0) {
			left_over->pairs++;
			left_over->corners += pair.count * LOOSE_AT_CROSSING;
			continue;
		}
		report(check, &pair);
		(*room)--;
	}
}

static enum cutlint_outcome check_crossings(struct cutlint_check *check, const void *options)
{
	uint32_t room = (uint32_t)((const struct options *)options)->most;
	struct left_over left_over = {0, 0};
	report_grade(check, CUTLINT_ERROR, &room, &left_over);
	enum cutlint_severity worst = left_over.pairs ? CUTLINT_ERROR : CUTLINT_WARNING;
	report_grade(check, CUTLINT_WARNING, &room, &left_over);
	if (left_over.pairs == 0)
		return CUTLINT_LOOKED;
	struct cutlint_finding *finding =
		cutlint_report(check, worst, cutlint_place_design(cutlint_check_design(check)),
			       "%u more pairs of lines cross or touch and are not listed",
			       (unsigned)left_over.pairs);
	cutlint_limit(finding, "most");
	cutlint_measured(finding, "corners", NAN, left_over.corners + 1.0, "");
	cutlint_suggest(finding, "mend those listed, or raise the option 'most'");
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "crossing-cuts",
	.summary = "burn lines that cross or touch each other, themselves or the card's edge",
	.advice = "Unite shapes that overlap into one window, and keep the art inside the card.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS | CUTLINT_NEEDS_NECKS | CUTLINT_NEEDS_CROSSINGS,
	.check = check_crossings,
};
