/* weak-hold.c - parts that hang by too little: one bridge, slim bridges, tongues with thin roots.
 */
#include "cutlint/rule.h"

#include <math.h>
#include <stdlib.h>

struct options {
	double one_bridge_mm2;
	double area_per_mm;
	double reach_times, tongue_times, tongue_least_mm;
};

/*
 * A stencil maker gives a tiny island one bridge and others two or more, and "an island on one
 * bridge flops" is a card maker's; no source puts a figure to it. All are choices.
 */
static const struct cutlint_option OPTIONS[] = {
	{"one-bridge", CUTLINT_OPTION_AREA, offsetof(struct options, one_bridge_mm2), "250 mm2", 0,
	 1e6, NULL, false,
	 "a part larger than this as drawn that hangs by one bridge is a warning"},
	{"area", CUTLINT_OPTION_NUMBER, offsetof(struct options, area_per_mm), "300", 0.001, 1e6,
	 NULL, false,
	 "a part with more mm2 than this to each mm of its bridges' widths is a warning"},
	{"reach", CUTLINT_OPTION_NUMBER, offsetof(struct options, reach_times), "12", 1, 1e6, NULL,
	 false,
	 "a part that reaches farther from its one bridge than so many of its widths is a "
	 "warning"},
	{"tongue", CUTLINT_OPTION_NUMBER, offsetof(struct options, tongue_times), "15", 1, 1e6,
	 NULL, false, "a free tongue longer than so many times the width of its root is a warning"},
	{"tongue-least", CUTLINT_OPTION_LENGTH, offsetof(struct options, tongue_least_mm), "10 mm",
	 0, 1000, NULL, false, "a shorter tongue is no warning, however slim"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

/* So many further bridges are named. */
enum { BRIDGES_MOST = 8 };

static struct cutlint_place place_of(const struct cutlint_check *check,
				     const struct cutlint_neck *neck)
{
	return cutlint_place_wall(cutlint_check_design(check), &neck->walls[0]);
}

/* Of a bridge something is left after the burn; the gap of an open path is no bridge that is meant.
 */
static bool is_sound(const struct cutlint_neck *neck)
{
	return neck->kind == CUTLINT_NECK_BRIDGE && neck->width_mm > 0 && !neck->open_gap;
}

/* A bridge that alone holds something. */
static bool is_sole(const struct cutlint_neck *neck)
{
	return is_sound(neck) && neck->load_mm2 > 0 && neck->held != CUTLINT_NONE;
}

/* How many times over its limits a bridge that alone holds something is loaded. */
static double strain_of(const struct cutlint_neck *neck, const struct options *options)
{
	double area = neck->load_mm2 / fmax(options->one_bridge_mm2, 1e-9);
	double reach = neck->reach_mm / (options->reach_times * neck->width_mm);
	return fmax(area, reach);
}

/* What alone holds each part, and of bridges that hang on one another the most strained. */
struct trees {
	const struct cutlint_sheet *sheet;
	const struct options *options;
	uint32_t *by;    /* of each part: its sole bridge, or CUTLINT_NONE */
	uint32_t *down;  /* of each bridge: one nearer to the frame, or CUTLINT_NONE */
	uint32_t *worst; /* of each bridge nearest to the frame: the most strained of its tree */
};

static uint32_t above(const struct trees *trees, uint32_t neck)
{
	const struct cutlint_neck *found = &trees->sheet->necks[neck];
	uint32_t part = found->parts[0] == found->held ? found->parts[1] : found->parts[0];
	return part == CUTLINT_NONE ? CUTLINT_NONE : trees->by[part];
}

/* The bridge of a tree that is nearest to the frame. What was walked leads there at once from now
 * on. */
static uint32_t root_of(const struct trees *trees, uint32_t neck)
{
	uint32_t root = neck;
	while (trees->down[root] != CUTLINT_NONE)
		root = trees->down[root];
	while (trees->down[neck] != CUTLINT_NONE && trees->down[neck] != root) {
		uint32_t next = trees->down[neck];
		trees->down[neck] = root;
		neck = next;
	}
	return root;
}

/* Returns 0, or -1 where memory ran out. */
static int grow_trees(struct trees *trees)
{
	const struct cutlint_sheet *sheet = trees->sheet;
	trees->by = malloc((sheet->part_count + 1) * sizeof(*trees->by));
	trees->down = malloc((sheet->neck_count + 1) * sizeof(*trees->down));
	trees->worst = malloc((sheet->neck_count + 1) * sizeof(*trees->worst));
	if (!trees->by || !trees->down || !trees->worst)
		return -1;
	for (uint32_t i = 0; i < sheet->part_count; i++)
		trees->by[i] = CUTLINT_NONE;
	for (uint32_t i = 0; i < sheet->neck_count; i++) {
		trees->worst[i] = CUTLINT_NONE;
		if (is_sole(&sheet->necks[i]))
			trees->by[sheet->necks[i].held] = i;
	}
	for (uint32_t i = 0; i < sheet->neck_count; i++)
		trees->down[i] = is_sole(&sheet->necks[i]) ? above(trees, i) : CUTLINT_NONE;
	for (uint32_t i = 0; i < sheet->neck_count; i++) {
		if (!is_sole(&sheet->necks[i]))
			continue;
		uint32_t *worst = &trees->worst[root_of(trees, i)];
		if (*worst == CUTLINT_NONE ||
		    strain_of(&sheet->necks[i], trees->options) >
			    strain_of(&sheet->necks[*worst], trees->options))
			*worst = i;
	}
	return 0;
}

static void relate_tree(struct cutlint_check *check, struct cutlint_finding *finding,
			const struct trees *trees, uint32_t worst)
{
	uint32_t named = 0;
	for (uint32_t i = worst; named < BRIDGES_MOST; named++) {
		i = above(trees, i);
		if (i == CUTLINT_NONE)
			return;
		cutlint_relate(finding, place_of(check, &trees->sheet->necks[i]),
			       "it hangs on this bridge in turn, of %.2f mm",
			       trees->sheet->necks[i].width_mm);
	}
}

static void show_bridge(struct cutlint_finding *finding, const struct cutlint_neck *neck)
{
	cutlint_show_span(finding, neck->walls[0].at, neck->walls[1].at);
}

static void show_reach(struct cutlint_finding *finding, const struct cutlint_neck *neck)
{
	const struct cutlint_wall *walls = neck->walls;
	struct cutlint_xy middle = {(walls[0].at.x + walls[1].at.x) / 2,
				    (walls[0].at.y + walls[1].at.y) / 2};
	cutlint_show_span(finding, middle, neck->farthest);
}

static void report_sole(struct cutlint_check *check, const struct trees *trees, uint32_t number)
{
	const struct options *options = trees->options;
	const struct cutlint_neck *neck = &trees->sheet->necks[number];
	double reach_limit = options->reach_times * neck->width_mm;
	bool heavy = neck->load_mm2 > options->one_bridge_mm2 * (1 + 1e-9);
	bool far = neck->reach_mm > reach_limit + SLACK_MM;
	struct cutlint_finding *finding;
	if (heavy)
		finding = cutlint_report(check, CUTLINT_WARNING, place_of(check, neck),
					 "part of %.1f mm², over %.1f mm², hangs by one bridge of "
					 "%.2f mm (%.2f mm as drawn)",
					 neck->load_mm2, options->one_bridge_mm2, neck->width_mm,
					 neck->drawn_mm);
	else if (far)
		finding = cutlint_report(check, CUTLINT_WARNING, place_of(check, neck),
					 "part reaches %.1f mm from its only bridge, over %.1f mm: "
					 "%g times the bridge's %.2f mm (%.2f mm as drawn)",
					 neck->reach_mm, reach_limit, options->reach_times,
					 neck->width_mm, neck->drawn_mm);
	else
		return;
	cutlint_limit(finding, heavy ? "one-bridge" : "reach");
	cutlint_measured(finding, "load", neck->load_mm2, options->one_bridge_mm2, "mm²");
	cutlint_measured(finding, "reach", neck->reach_mm, reach_limit, "mm");
	cutlint_measured(finding, "width", neck->width_mm, NAN, "mm");
	if (!heavy)
		show_reach(finding, neck);
	show_bridge(finding, neck);
	relate_tree(check, finding, trees, number);
	if (heavy)
		cutlint_suggest(finding, "give it a second bridge, on the other side of the part");
	else
		cutlint_suggest(finding,
				"give it a second bridge at its far end, or draw this one at least "
				"%.2f mm wide",
				cutlint_at_least(neck->reach_mm / options->reach_times +
							 neck->drawn_mm - neck->width_mm,
						 0.01));
}

/* What holds a part with several bridges, and what hangs on it. */
struct hold {
	double area_mm2, width_mm, drawn_mm;
	uint32_t bridges, slimmest;
};

/* Adds a bridge to what it holds: both its parts, or of a sole bridge the held one. */
static void add_bridge(const struct cutlint_sheet *sheet, uint32_t number, struct hold *holds)
{
	const struct cutlint_neck *neck = &sheet->necks[number];
	if (!is_sound(neck))
		return;
	for (int i = 0; i < 2; i++) {
		uint32_t part = neck->parts[i];
		if (part == CUTLINT_NONE)
			continue;
		struct hold *hold = &holds[part];
		if (is_sole(neck) && part != neck->held) {
			hold->area_mm2 += neck->load_mm2;
			continue;
		}
		hold->width_mm += neck->width_mm;
		hold->drawn_mm += neck->drawn_mm;
		if (hold->bridges++ == 0 || neck->width_mm < sheet->necks[hold->slimmest].width_mm)
			hold->slimmest = number;
	}
}

static void relate_bridges(struct cutlint_check *check, struct cutlint_finding *finding,
			   uint32_t part, uint32_t said)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	uint32_t named = 0;
	for (uint32_t i = 0; i < sheet->neck_count && named < BRIDGES_MOST; i++) {
		const struct cutlint_neck *neck = &sheet->necks[i];
		if (i == said || !is_sound(neck) ||
		    (neck->parts[0] != part && neck->parts[1] != part))
			continue;
		show_bridge(finding, neck);
		cutlint_relate(finding, place_of(check, neck), "another of its bridges, %.2f mm",
			       neck->width_mm);
		named++;
	}
}

static void check_slim(struct cutlint_check *check, const struct options *options, uint32_t part,
		       const struct hold *hold)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	double most_mm2 = options->area_per_mm * hold->width_mm;
	/* What reaches the edge is the card itself, parted by a row of slits such as a hinge. */
	if (sheet->parts[part].kind != CUTLINT_PART_HELD || sheet->parts[part].at_edge ||
	    hold->bridges < 2 || hold->area_mm2 <= most_mm2 * (1 + 1e-9))
		return;
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_WARNING, place_of(check, &sheet->necks[hold->slimmest]),
		"part of %.1f mm² hangs by %u bridges, together %.2f mm wide (%.2f mm as drawn): "
		"too slim for more than %.1f mm²",
		hold->area_mm2, (unsigned)hold->bridges, hold->width_mm, hold->drawn_mm, most_mm2);
	cutlint_limit(finding, "area");
	cutlint_measured(finding, "load", hold->area_mm2, most_mm2, "mm²");
	cutlint_measured(finding, "width", hold->width_mm, NAN, "mm");
	show_bridge(finding, &sheet->necks[hold->slimmest]);
	relate_bridges(check, finding, part, hold->slimmest);
	cutlint_suggest(
		finding, "draw its bridges %.2f mm wider together, or give it one more",
		cutlint_at_least(hold->area_mm2 / options->area_per_mm - hold->width_mm, 0.01));
}

/* Returns 0, or -1 where memory ran out. */
static int check_parts(struct cutlint_check *check, const struct options *options)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	struct trees trees = {.sheet = sheet, .options = options};
	struct hold *holds = calloc((size_t)sheet->part_count + 1, sizeof(*holds));
	int status = holds && grow_trees(&trees) == 0 ? 0 : -1;
	for (uint32_t i = 0; status == 0 && i < sheet->neck_count; i++) {
		if (trees.worst[i] != CUTLINT_NONE)
			report_sole(check, &trees, trees.worst[i]);
		add_bridge(sheet, i, holds);
	}
	for (uint32_t i = 0; status == 0 && i < sheet->part_count; i++) {
		holds[i].area_mm2 += sheet->parts[i].area_mm2;
		if (trees.by[i] == CUTLINT_NONE)
			check_slim(check, options, i, &holds[i]);
	}
	free(trees.by);
	free(trees.down);
	free(trees.worst);
	free(holds);
	return status;
}

/* NULL where it is not too long for its root. */
static struct cutlint_finding *report_tongue(struct cutlint_check *check,
					     const struct options *options,
					     struct cutlint_place place, double length_mm,
					     double root_mm)
{
	double limit_mm = options->tongue_times * root_mm;
	if (!(root_mm > 0) || length_mm <= fmax(limit_mm, options->tongue_least_mm) + SLACK_MM)
		return NULL;
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_WARNING, place,
		"free tongue of %.1f mm, over %.1f mm: %g times the %.2f mm at its root", length_mm,
		limit_mm, options->tongue_times, root_mm);
	cutlint_limit(finding, "tongue");
	cutlint_measured(finding, "length", length_mm, limit_mm, "mm");
	cutlint_measured(finding, "width", root_mm, NAN, "mm");
	cutlint_suggest(finding,
			"join its end to the card, draw its root at least %.2f mm wider, or "
			"shorten it by %.2f mm",
			cutlint_at_least(length_mm / options->tongue_times - root_mm, 0.01),
			cutlint_at_least(length_mm - limit_mm, 0.01));
	return finding;
}

/* The page's edge has no outline. */
static bool is_slit(const struct cutlint_check *check, uint32_t outline)
{
	return outline != CUTLINT_NONE &&
	       cutlint_outline_role(cutlint_check_design(check), outline) == CUTLINT_ROLE_SLIT;
}

/* Where tips are, from left to right. */
struct tips {
	struct cutlint_xy *at;
	uint32_t count;
};

static int by_x(const void *left, const void *right)
{
	const struct cutlint_xy *a = left, *b = right;
	return (a->x > b->x) - (a->x < b->x);
}

/* Returns 0, or -1 where memory ran out. */
static int sort_tips(const struct cutlint_sheet *sheet, struct tips *tips)
{
	tips->at = malloc(((size_t)sheet->tip_count + 1) * sizeof(*tips->at));
	if (!tips->at)
		return -1;
	for (; tips->count < sheet->tip_count; tips->count++)
		tips->at[tips->count] = sheet->tips[tips->count].at;
	qsort(tips->at, tips->count, sizeof(*tips->at), by_x);
	return 0;
}

static bool is_tip_near(const struct tips *tips, struct cutlint_xy at, double reach_mm)
{
	uint32_t low = 0, high = tips->count;
	while (low < high) {
		uint32_t middle = low + (high - low) / 2;
		if (at.x - tips->at[middle].x > reach_mm)
			low = middle + 1;
		else
			high = middle;
	}
	for (; low < tips->count && tips->at[low].x - at.x <= reach_mm; low++) {
		if (hypot(tips->at[low].x - at.x, tips->at[low].y - at.y) <= reach_mm)
			return true;
	}
	return false;
}

/*
 * Whether a strip is the rest of a tongue that a tip at its end stands for. How near a tip lies to
 * the end of its strip is a choice.
 */
static bool has_tip(const struct tips *tips, const struct cutlint_neck *strip)
{
	double reach_mm = fmax(2, 3 * strip->drawn_mm);
	return is_tip_near(tips, strip->ends[0], reach_mm) ||
	       is_tip_near(tips, strip->ends[1], reach_mm);
}

/*
 * Tongues with parallel sides and a broad end. Between two slits they are a fringe, and meant.
 * Returns 0, or -1 where memory ran out.
 */
static int check_strips(struct cutlint_check *check, const struct options *options)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	struct tips tips = {0};
	if (sort_tips(sheet, &tips) != 0)
		return -1;
	for (uint32_t i = 0; i < sheet->neck_count; i++) {
		const struct cutlint_neck *neck = &sheet->necks[i];
		if (neck->kind != CUTLINT_NECK_STRIP ||
		    neck->length_mm <= options->tongue_times * neck->width_mm ||
		    (is_slit(check, neck->walls[0].outline) &&
		     is_slit(check, neck->walls[1].outline)) ||
		    has_tip(&tips, neck))
			continue;
		struct cutlint_finding *finding = report_tongue(
			check, options, place_of(check, neck), neck->length_mm, neck->width_mm);
		if (!finding)
			continue;
		cutlint_show_span(finding, neck->ends[0], neck->ends[1]);
		show_bridge(finding, neck);
	}
	free(tips.at);
	return 0;
}

/* A root is looked for where a tip has grown as wide as this, as drawn (mm): a choice. */
static const double ROOT_LEAST_MM = 1;

/* Whether a tip is too long for its width at a place, if that is its root. */
static bool is_long(const struct cutlint_tip *tip, struct cutlint_tip_width root, double times)
{
	return root.along_mm > times * (root.drawn_mm - tip->burn_mm);
}

/* The farthest place at which a tip is too long for its width; its width is 0 without one. */
static struct cutlint_tip_width root_of_tip(const struct cutlint_tip *tip, double times)
{
	struct cutlint_tip_width root = {.drawn_mm = 0};
	for (uint32_t i = 1; i < tip->width_count; i++) {
		struct cutlint_tip_width a = tip->widths[i - 1], b = tip->widths[i];
		bool widens = b.drawn_mm - a.drawn_mm > b.along_mm - a.along_mm;
		/* Steep at its own end it is blunt; farther on the card begins. */
		if (widens && a.along_mm > a.drawn_mm)
			return is_long(tip, a, times) ? a : root;
		if (b.drawn_mm < ROOT_LEAST_MM)
			continue;
		if (a.drawn_mm < ROOT_LEAST_MM && !is_long(tip, b, times)) {
			double share = (ROOT_LEAST_MM - a.drawn_mm) / (b.drawn_mm - a.drawn_mm);
			b.along_mm = a.along_mm + share * (b.along_mm - a.along_mm);
			b.drawn_mm = ROOT_LEAST_MM;
		}
		if (is_long(tip, b, times))
			root = b;
	}
	return root;
}

static void check_tips(struct cutlint_check *check, const struct options *options)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (uint32_t i = 0; i < sheet->tip_count; i++) {
		const struct cutlint_tip *tip = &sheet->tips[i];
		const struct cutlint_design *design = cutlint_check_design(check);
		struct cutlint_tip_width root = root_of_tip(tip, options->tongue_times);
		if (root.drawn_mm == 0 || is_slit(check, tip->outline))
			continue;
		struct cutlint_place place = cutlint_place_vertex(design, tip->vertex);
		place.at = tip->at;
		struct cutlint_finding *finding = report_tongue(
			check, options, place, root.along_mm, root.drawn_mm - tip->burn_mm);
		if (finding)
			cutlint_show_tip(finding, tip, root.along_mm);
	}
}

static enum cutlint_outcome check_holds(struct cutlint_check *check, const void *options)
{
	if (check_parts(check, options) != 0 || check_strips(check, options) != 0)
		return cutlint_could_not_look(check, "out of memory");
	check_tips(check, options);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "weak-hold",
	.summary = "parts that hang by one bridge, or by bridges too slim for them, and long free "
		   "tongues",
	.advice = "Hold a part on two sides at least; several slim bridges hold better than one "
		  "broad one. Join the end of a long tongue to the card.",
	.severity = CUTLINT_WARNING,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_NECKS | CUTLINT_NEEDS_TIPS,
	.check = check_holds,
};
