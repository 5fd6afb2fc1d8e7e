/* speck.c - trace dust: many openings and loose bits too small to matter, said once. */
#include "cutlint/rule.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

struct options {
	double area_mm2, width_mm;
	double count, places;
};

/*
 * A tracing manual has a filter by size and no figure; 1 mm² is common practice, no source. An
 * opening as wide as hole-size asks for comes out clean and may be meant, such as a pricked dot.
 */
static const struct cutlint_option OPTIONS[] = {
	{"area", CUTLINT_OPTION_AREA, offsetof(struct options, area_mm2), "1 mm2", 0, 1e4, NULL,
	 false, "openings and loose bits smaller than this as drawn may be specks"},
	{"width", CUTLINT_OPTION_LENGTH, offsetof(struct options, width_mm), "0.5 mm", 0, 50, NULL,
	 false, "openings whose largest inscribed circle is smaller as drawn may be specks"},
	{"count", CUTLINT_OPTION_NUMBER, offsetof(struct options, count), "10", 1, 1e6, NULL, false,
	 "from so many on specks are said together; fewer are left to hole-size and loose-part"},
	{"places", CUTLINT_OPTION_NUMBER, offsetof(struct options, places), "5", 1, 1000, NULL,
	 false, "how many elements with the most specks are named"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

/* The specks of one element. */
struct dust {
	uint32_t openings, bits;
	uint32_t vertex; /* of its first speck; CUTLINT_NONE where it has none */
	struct cutlint_xy at;
	double smallest_mm2;
};

static uint32_t count_of(const struct dust *dust)
{
	return dust->openings + dust->bits;
}

/* What is longer is a slot or a splinter, whatever its area. */
static double longest_mm(const struct options *options)
{
	return 2 * sqrt(options->area_mm2);
}

static bool is_traced(const struct cutlint_sheet *sheet, uint32_t outline)
{
	for (uint32_t i = 0; i < sheet->traced_count; i++) {
		if (sheet->traced[i].outer == outline || sheet->traced[i].inner == outline)
			return true;
	}
	return false;
}

static bool is_dust(const struct cutlint_sheet *sheet, const struct options *options,
		    const struct cutlint_hole *hole)
{
	double wide = hole->box.right - hole->box.left, high = hole->box.bottom - hole->box.top;
	return hole->outline != CUTLINT_NONE && hole->area_mm2 < options->area_mm2 &&
	       hole->diameter_mm < options->width_mm - SLACK_MM &&
	       fmax(wide, high) < longest_mm(options) && !is_traced(sheet, hole->outline);
}

static bool is_bit(const struct cutlint_sheet *sheet, const struct options *options,
		   const struct cutlint_part *part)
{
	return part->kind == CUTLINT_PART_LOOSE && !part->at_edge &&
	       part->outline != CUTLINT_NONE && part->area_mm2 < options->area_mm2 &&
	       !is_traced(sheet, part->outline);
}

static struct dust *dust_of(const struct cutlint_design *design, struct dust *dusts,
			    uint32_t outline)
{
	return &dusts[cutlint_outline_shape(design, outline)->element->index];
}

static void add(struct dust *dust, uint32_t vertex, struct cutlint_xy at, double area_mm2)
{
	if (dust->vertex == CUTLINT_NONE || vertex < dust->vertex) {
		dust->vertex = vertex;
		dust->at = at;
	}
	dust->smallest_mm2 = fmin(dust->smallest_mm2, area_mm2);
}

static void collect(const struct cutlint_check *check, const struct options *options,
		    struct dust *dusts)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (uint32_t i = 0; i < design->element_count; i++)
		dusts[i] = (struct dust){.vertex = CUTLINT_NONE, .smallest_mm2 = INFINITY};
	for (uint32_t i = 0; i < sheet->hole_count; i++) {
		const struct cutlint_hole *hole = &sheet->holes[i];
		if (!is_dust(sheet, options, hole))
			continue;
		struct dust *dust = dust_of(design, dusts, hole->outline);
		dust->openings++;
		add(dust, hole->vertex, hole->centre, hole->area_mm2);
	}
	for (uint32_t i = 0; i < sheet->part_count; i++) {
		const struct cutlint_part *part = &sheet->parts[i];
		if (!is_bit(sheet, options, part))
			continue;
		struct dust *dust = dust_of(design, dusts, part->outline);
		dust->bits++;
		add(dust, part->vertex, part->at, part->area_mm2);
	}
}

static struct dust add_up(const struct dust *dusts, uint32_t count)
{
	struct dust all = {.vertex = CUTLINT_NONE, .smallest_mm2 = INFINITY};
	for (uint32_t i = 0; i < count; i++) {
		all.openings += dusts[i].openings;
		all.bits += dusts[i].bits;
		all.smallest_mm2 = fmin(all.smallest_mm2, dusts[i].smallest_mm2);
	}
	return all;
}

static int by_count(const void *left, const void *right)
{
	const struct dust *a = left, *b = right;
	if (count_of(a) != count_of(b))
		return count_of(a) > count_of(b) ? -1 : 1;
	return a->vertex < b->vertex ? -1 : a->vertex > b->vertex;
}

static struct cutlint_place place_of(const struct cutlint_design *design, const struct dust *dust)
{
	struct cutlint_place place = cutlint_place_vertex(design, dust->vertex);
	place.at = dust->at;
	return place;
}

static const char *s(uint32_t count)
{
	return count == 1 ? "" : "s";
}

static void write_kinds(const struct dust *all, char *out, size_t size)
{
	if (all->bits == 0)
		snprintf(out, size, "openings");
	else if (all->openings == 0)
		snprintf(out, size, "loose bits");
	else
		snprintf(out, size, "%u opening%s and %u loose bit%s", (unsigned)all->openings,
			 s(all->openings), (unsigned)all->bits, s(all->bits));
}

/* `dusts` has the elements with the most specks first. */
static void report(struct cutlint_check *check, const struct options *options,
		   const struct dust *all, const struct dust *dusts, uint32_t count)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	char kinds[80];
	write_kinds(all, kinds, sizeof(kinds));
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_WARNING, place_of(design, &dusts[0]),
		"%u specks: %s under %.2f mm², the smallest %.3f mm²", (unsigned)count_of(all),
		kinds, options->area_mm2, all->smallest_mm2);
	cutlint_limit(finding, "count");
	cutlint_measured(finding, "specks", count_of(all), NAN, "");
	cutlint_measured(finding, "area", all->smallest_mm2, options->area_mm2, "mm²");
	cutlint_measured(finding, "inscribed circle", NAN, options->width_mm - SLACK_MM, "mm");
	cutlint_measured(finding, "length", NAN, longest_mm(options), "mm");
	for (uint32_t i = 1; i < count && i < (uint32_t)options->places; i++) {
		if (count_of(&dusts[i]) == 0)
			break;
		cutlint_relate(finding, place_of(design, &dusts[i]), "%u more here",
			       (unsigned)count_of(&dusts[i]));
	}
	cutlint_suggest(finding,
			"take them out: delete what is smaller than %.2f mm², or let the "
			"tracing leave it out",
			options->area_mm2);
}

static enum cutlint_outcome check_specks(struct cutlint_check *check, const void *data)
{
	const struct options *options = data;
	uint32_t count = cutlint_check_design(check)->element_count;
	struct dust *dusts = calloc((size_t)count + 1, sizeof(*dusts));
	if (!dusts)
		return cutlint_could_not_look(check, "out of memory");
	collect(check, options, dusts);
	struct dust all = add_up(dusts, count);
	if (count_of(&all) >= options->count) {
		qsort(dusts, count, sizeof(*dusts), by_count);
		report(check, options, &all, dusts, count);
	}
	free(dusts);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "speck",
	.summary = "trace dust: many openings and loose bits too small to matter",
	.advice = "Take the specks out, or let the tracing program leave out what is smaller than "
		  "the limit.",
	.severity = CUTLINT_WARNING,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_NECKS | CUTLINT_NEEDS_HOLES | CUTLINT_NEEDS_OVERLAPS,
	.check = check_specks,
};
