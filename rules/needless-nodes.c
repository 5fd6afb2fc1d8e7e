/* needless-nodes.c - nodes that draw nothing, and segments so short that the head stutters. */
#include "cutlint/rule.h"

#include <math.h>
#include <stdlib.h>

struct options {
	double tolerance_mm, share, least;
	double short_mm, run, places;
};

/*
 * Print shops that cut say that too many nodes slow the head; they give no figure that fits cut
 * paper. All figures are choices: a third of a kerf, three nodes of four, a kerf's length.
 */
static const struct cutlint_option OPTIONS[] = {
	{"tolerance", CUTLINT_OPTION_LENGTH, offsetof(struct options, tolerance_mm), "0.05 mm",
	 0.001, 10, NULL, false,
	 "nodes are needless if without them the line stays this near to itself"},
	{"share", CUTLINT_OPTION_SHARE, offsetof(struct options, share), "75 %", 0, 1, NULL, false,
	 "an element counts if at least this share of its nodes is needless"},
	{"least", CUTLINT_OPTION_NUMBER, offsetof(struct options, least), "500", 1, 1e9, NULL,
	 false, "needless nodes are noted from so many on, over all elements that count"},
	{"short", CUTLINT_OPTION_LENGTH, offsetof(struct options, short_mm), "0.1 mm", 0, 10, NULL,
	 false, "shorter segments make the head stutter where many follow on each other"},
	{"run", CUTLINT_OPTION_NUMBER, offsetof(struct options, run), "100", 2, 1e9, NULL, false,
	 "so many short segments in a row are a warning"},
	{"places", CUTLINT_OPTION_NUMBER, offsetof(struct options, places), "5", 1, 1000, NULL,
	 false, "how many elements with the most of them are named"},
	{.name = NULL},
};

/*
 * The line is looked at in stretches of so many vertices, whose ends stay: the search is quadratic
 * in a stretch at worst, and linear in the drawing.
 */
enum { STRETCH = 1024 };

/* What an element's lines have too much of. */
struct tally {
	uint32_t nodes, needless;
	uint32_t shorts;       /* short segments in runs */
	uint32_t vertex;       /* its first; CUTLINT_NONE without lines */
	uint32_t short_vertex; /* where its first run starts; CUTLINT_NONE without one */
};

/* The vertices of an outline by their number along it; a closed one comes back to its first. */
static struct cutlint_xy vertex_at(const struct cutlint_design *design,
				   const struct cutlint_outline *outline, uint32_t number)
{
	uint32_t at = number < outline->vertex_count ? number : 0;
	return cutlint_point_mm(design->vertices[outline->first_vertex + at]);
}

/* A chord, and what places along it are divided by. */
struct chord {
	struct cutlint_xy from;
	double dx, dy, inverse;
};

static struct chord chord_of(struct cutlint_xy a, struct cutlint_xy b)
{
	double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
	return (struct chord){a, dx, dy, square > 0 ? 1 / square : 0};
}

static double square_from(struct cutlint_xy at, const struct chord *chord)
{
	double x = at.x - chord->from.x, y = at.y - chord->from.y;
	double t = (x * chord->dx + y * chord->dy) * chord->inverse;
	t = t < 0 ? 0 : t > 1 ? 1 : t;
	x -= t * chord->dx;
	y -= t * chord->dy;
	return x * x + y * y;
}

/* The vertex between two that is farthest from their chord; `from` if none is beyond tolerance. */
static uint32_t farthest(const struct cutlint_design *design, const struct cutlint_outline *outline,
			 uint32_t from, uint32_t to, double tolerance_mm)
{
	struct chord chord =
		chord_of(vertex_at(design, outline, from), vertex_at(design, outline, to));
	double most = tolerance_mm * tolerance_mm;
	uint32_t found = from;
	for (uint32_t i = from + 1; i < to; i++) {
		double away = square_from(vertex_at(design, outline, i), &chord);
		if (away <= most)
			continue;
		most = away;
		found = i;
	}
	return found;
}

/*
 * How many straight pieces a stretch needs (D. H. Douglas and T. K. Peucker, "Algorithms for the
 * reduction of the number of points required to represent a digitized line or its caricature",
 * Cartographica 10, 1973). The stack holds the ends of pieces that are not looked at yet.
 */
static uint32_t needed_in(const struct cutlint_design *design,
			  const struct cutlint_outline *outline, uint32_t from, uint32_t to,
			  double tolerance_mm)
{
	uint32_t ends[STRETCH + 1], depth = 0, needed = 0;
	ends[depth++] = to;
	while (depth > 0) {
		uint32_t split = farthest(design, outline, from, ends[depth - 1], tolerance_mm);
		if (split != from) {
			ends[depth++] = split;
			continue;
		}
		from = ends[--depth];
		needed++;
	}
	return needed;
}

static uint32_t needed_by(const struct cutlint_design *design,
			  const struct cutlint_outline *outline, double tolerance_mm)
{
	uint32_t sides = outline->vertex_count - (outline->closed ? 0 : 1), needed = 0;
	for (uint32_t from = 0; from < sides; from += STRETCH) {
		uint32_t to = sides - from > STRETCH ? from + STRETCH : sides;
		needed += needed_in(design, outline, from, to, tolerance_mm);
	}
	return needed;
}

/* The first vertex of a command along its outline; that of the one behind the last is the end. */
static uint32_t start_of(const struct cutlint_design *design, const struct cutlint_outline *outline,
			 uint32_t command)
{
	if (command == outline->command_count)
		return outline->vertex_count - (outline->closed ? 0 : 1);
	return design->commands[outline->first_command + command].first_vertex -
	       outline->first_vertex;
}

static double segment_length(const struct cutlint_design *design,
			     const struct cutlint_outline *outline, uint32_t command)
{
	uint32_t to = start_of(design, outline, command + 1);
	double length = 0;
	for (uint32_t i = start_of(design, outline, command); i < to; i++) {
		struct cutlint_xy a = vertex_at(design, outline, i);
		struct cutlint_xy b = vertex_at(design, outline, i + 1);
		length += hypot(b.x - a.x, b.y - a.y);
	}
	return length;
}

static void count_shorts(const struct cutlint_design *design, const struct options *options,
			 const struct cutlint_outline *outline, struct tally *tally)
{
	uint32_t run = 0;
	for (uint32_t i = 0; i <= outline->command_count; i++) {
		if (i < outline->command_count &&
		    segment_length(design, outline, i) < options->short_mm) {
			run++;
			continue;
		}
		if (run >= options->run) {
			tally->shorts += run;
			if (tally->short_vertex == CUTLINT_NONE)
				tally->short_vertex =
					outline->first_vertex + start_of(design, outline, i - run);
		}
		run = 0;
	}
}

static void count_outline(const struct cutlint_design *design, const struct options *options,
			  uint32_t number, struct tally *tallies)
{
	const struct cutlint_outline *outline = &design->outlines[number];
	const struct cutlint_shape *shape = cutlint_outline_shape(design, number);
	struct tally *tally = &tallies[shape->element->index];
	uint32_t nodes = outline->command_count;
	/* Placed by several uses, an element still has its nodes once. */
	if (!cutlint_role_burned(cutlint_outline_role(design, number)) ||
	    outline->vertex_count < 2 ||
	    (shape->placement && tally->vertex != CUTLINT_NONE &&
	     tally->vertex < design->outlines[shape->first_outline].first_vertex))
		return;
	if (tally->vertex == CUTLINT_NONE)
		tally->vertex = outline->first_vertex;
	uint32_t needed = needed_by(design, outline, options->tolerance_mm);
	tally->nodes += nodes;
	tally->needless += nodes > needed ? nodes - needed : 0;
	count_shorts(design, options, outline, tally);
}

/* Adds up the elements that count, and empties the others. */
static struct tally add_up(const struct options *options, struct tally *tallies, uint32_t count)
{
	struct tally all = {.vertex = CUTLINT_NONE};
	for (uint32_t i = 0; i < count; i++) {
		struct tally *tally = &tallies[i];
		if (tally->needless < options->share * tally->nodes || tally->needless == 0)
			tally->nodes = tally->needless = 0;
		all.nodes += tally->nodes;
		all.needless += tally->needless;
		all.shorts += tally->shorts;
	}
	return all;
}

static int by_needless(const void *left, const void *right)
{
	const struct tally *a = left, *b = right;
	if (a->needless != b->needless)
		return a->needless > b->needless ? -1 : 1;
	if (a->shorts != b->shorts)
		return a->shorts > b->shorts ? -1 : 1;
	return a->vertex < b->vertex ? -1 : a->vertex > b->vertex;
}

static int by_shorts(const void *left, const void *right)
{
	const struct tally *a = left, *b = right;
	if (a->shorts != b->shorts)
		return a->shorts > b->shorts ? -1 : 1;
	return by_needless(left, right);
}

static void report_needless(struct cutlint_check *check, const struct options *options,
			    const struct tally *all, struct tally *tallies, uint32_t count)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	struct cutlint_finding *finding;
	qsort(tallies, count, sizeof(*tallies), by_needless);
	struct cutlint_place place = cutlint_place_vertex(design, tallies[0].vertex);
	if (all->shorts)
		finding = cutlint_report(check, CUTLINT_WARNING, place,
					 "%u of %u nodes are needless within %.2f mm, and %u "
					 "segments in a row are shorter than %.2f mm: the head "
					 "stutters",
					 (unsigned)all->needless, (unsigned)all->nodes,
					 options->tolerance_mm, (unsigned)all->shorts,
					 options->short_mm);
	else
		finding = cutlint_report(check, CUTLINT_NOTE, place,
					 "%u of %u nodes are needless: without them no line moves "
					 "by more than %.2f mm",
					 (unsigned)all->needless, (unsigned)all->nodes,
					 options->tolerance_mm);
	cutlint_limit(finding, "least");
	cutlint_measured(finding, "needless nodes", all->needless, options->least, "");
	cutlint_measured(finding, "nodes", all->nodes, NAN, "");
	for (uint32_t i = 1; i < count && i < (uint32_t)options->places; i++) {
		if (tallies[i].needless == 0)
			break;
		cutlint_relate(finding, cutlint_place_vertex(design, tallies[i].vertex),
			       "%u of %u nodes here", (unsigned)tallies[i].needless,
			       (unsigned)tallies[i].nodes);
	}
	cutlint_suggest(finding,
			"simplify the paths within %.2f mm: %u nodes are enough, and fewer with "
			"curves",
			options->tolerance_mm, (unsigned)(all->nodes - all->needless));
}

static void report_shorts(struct cutlint_check *check, const struct options *options,
			  const struct tally *all, struct tally *tallies, uint32_t count)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	qsort(tallies, count, sizeof(*tallies), by_shorts);
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_WARNING, cutlint_place_vertex(design, tallies[0].short_vertex),
		"%u segments in a row are shorter than %.2f mm: the head stutters and the edge "
		"chars",
		(unsigned)all->shorts, options->short_mm);
	cutlint_limit(finding, "run");
	cutlint_measured(finding, "short segments", all->shorts, options->run, "");
	for (uint32_t i = 1; i < count && i < (uint32_t)options->places; i++) {
		if (tallies[i].shorts == 0)
			break;
		cutlint_relate(finding, cutlint_place_vertex(design, tallies[i].short_vertex),
			       "%u more of them here", (unsigned)tallies[i].shorts);
	}
	cutlint_suggest(finding,
			"smooth the line: draw it with curves, or with segments of at "
			"least %.2f mm",
			options->short_mm);
}

static enum cutlint_outcome check_nodes(struct cutlint_check *check, const void *data)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct options *options = data;
	uint32_t count = design->element_count;
	struct tally *tallies = malloc(((size_t)count + 1) * sizeof(*tallies));
	if (!tallies)
		return cutlint_could_not_look(check, "out of memory");
	for (uint32_t i = 0; i < count; i++)
		tallies[i] = (struct tally){.vertex = CUTLINT_NONE, .short_vertex = CUTLINT_NONE};
	for (uint32_t i = 0; i < design->outline_count; i++)
		count_outline(design, options, i, tallies);
	struct tally all = add_up(options, tallies, count);
	if (all.needless >= options->least)
		report_needless(check, options, &all, tallies, count);
	else if (all.shorts > 0)
		report_shorts(check, options, &all, tallies, count);
	free(tallies);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "needless-nodes",
	.summary = "nodes that could go without moving a line, and segments so short that the head "
		   "stutters",
	.advice = "Simplify traced paths: fewer nodes burn faster and more evenly.",
	.severity = CUTLINT_WARNING,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.check = check_nodes,
};
