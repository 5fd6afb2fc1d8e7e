/* loose-part.c - kept material that nothing holds. */
#include "cutlint/rule.h"

#include <math.h>
#include <stdlib.h>

struct options {
	double small_mm2;
	double trim;
	double two_mm2, three_mm2;
};

/*
 * A stencil maker's counts are one bridge for a tiny island, two for a small simple one, three for
 * a large one; the areas that part them, and the one below which a loss hardly shows, are choices.
 */
static const struct cutlint_option OPTIONS[] = {
	{"small", CUTLINT_OPTION_AREA, offsetof(struct options, small_mm2), "1 mm2", 0, 1e6, NULL,
	 false, "a loose part smaller than this as drawn is a warning, a larger one an error"},
	{"trim", CUTLINT_OPTION_SHARE, offsetof(struct options, trim), "25 %", 0, 1, NULL, false,
	 "a piece cut off at an edge that comes ready cut is a trimming up to this share of the "
	 "card"},
	{"two-bridges", CUTLINT_OPTION_AREA, offsetof(struct options, two_mm2), "25 mm2", 0, 1e6,
	 NULL, false, "from this area on two bridges are suggested"},
	{"three-bridges", CUTLINT_OPTION_AREA, offsetof(struct options, three_mm2), "900 mm2", 0,
	 1e6, NULL, false, "from this area on three bridges are suggested"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

/* So many places where its lines cross are named. */
enum { CORNERS_MOST = 8 };

/* A piece at the card's edge has windows in it, too: the line that takes it off is the cause. */
static struct cutlint_place place_of(const struct cutlint_check *check,
				     const struct cutlint_part *part)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	struct cutlint_place place = cutlint_place_outline(design, part->outline);
	if (part->at_edge && part->site_count > 0) {
		const struct cutlint_site *site =
			&cutlint_check_sheet(check)->sites[part->first_site];
		if (site->apart_mm < cutlint_check_job(check)->kerf_mm)
			place = cutlint_place_outline(design, site->part.outline);
	}
	place.at = part->at;
	place.on_sheet = true;
	return place;
}

static struct cutlint_finding *report(struct cutlint_check *check, const struct options *options,
				      const struct cutlint_part *part)
{
	struct cutlint_place place = place_of(check, part);
	bool small = part->area_mm2 < options->small_mm2;
	enum cutlint_severity severity = small ? CUTLINT_WARNING : CUTLINT_ERROR;
	if (part->at_edge)
		return cutlint_report(check, severity, place,
				      "a piece of %.2f mm² at the card's edge is cut off: nothing "
				      "holds it to the card",
				      part->area_mm2);
	return cutlint_report(check, severity, place,
			      "loose part of %.2f mm² falls out: nothing holds it", part->area_mm2);
}

/* Numbers grouped by part, ascending: items[first[p]] to items[first[p + 1]] are those of part p.
 */
struct groups {
	size_t *first;
	uint32_t *items;
};

/* What a drawing has at each of its loose parts, so that none of them has to look through it all.
 */
struct surroundings {
	struct groups crossings, burned;
	bool *traced; /* of each outline: it is an edge of a traced stroke */
};

/* The parts at one crossing or neck: at most four. Returns how many. */
enum { PARTS_MOST = 4 };
typedef uint32_t parts_at(const struct cutlint_sheet *sheet, uint32_t number,
			  uint32_t parts[PARTS_MOST]);

static uint32_t loose_at_crossing(const struct cutlint_sheet *sheet, uint32_t number,
				  uint32_t parts[PARTS_MOST])
{
	uint32_t count = 0;
	for (int k = 0; k < 4; k++) {
		uint32_t part = sheet->crossings[number].loose[k];
		if (part < sheet->part_count)
			parts[count++] = part;
	}
	return count;
}

/* Those at a bridge that would have held one, had the burn left anything of it. */
static uint32_t freed_by_burn(const struct cutlint_sheet *sheet, uint32_t number,
			      uint32_t parts[PARTS_MOST])
{
	const struct cutlint_neck *neck = &sheet->necks[number];
	uint32_t count = 0;
	if (neck->kind != CUTLINT_NECK_BRIDGE || neck->width_mm > 0)
		return 0;
	if (neck->parts[0] < sheet->part_count)
		parts[count++] = neck->parts[0];
	if (neck->parts[1] < sheet->part_count && neck->parts[1] != neck->parts[0])
		parts[count++] = neck->parts[1];
	return count;
}

/* Returns 0, or -1 where memory ran out. */
static int group(const struct cutlint_sheet *sheet, uint32_t count, parts_at *at,
		 struct groups *groups)
{
	uint32_t parts[PARTS_MOST];
	/* A place more than the ends of the groups: filling moves each group's start to its end. */
	groups->first = calloc((size_t)sheet->part_count + 2, sizeof(*groups->first));
	if (!groups->first)
		return -1;
	size_t *next = groups->first + 1;
	for (uint32_t i = 0; i < count; i++) {
		for (uint32_t k = at(sheet, i, parts); k > 0; k--)
			next[parts[k - 1] + 1]++;
	}
	for (uint32_t p = 0; p < sheet->part_count; p++)
		next[p + 1] += next[p];
	groups->items = malloc((next[sheet->part_count] + 1) * sizeof(*groups->items));
	if (!groups->items)
		return -1;
	for (uint32_t i = 0; i < count; i++) {
		for (uint32_t k = at(sheet, i, parts); k > 0; k--)
			groups->items[next[parts[k - 1]]++] = i;
	}
	return 0;
}

/* Returns 0, or -1 where memory ran out; clear them in either case. */
static int look_around(const struct cutlint_check *check, struct surroundings *around)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	uint32_t outlines = cutlint_check_design(check)->outline_count;
	around->traced = calloc((size_t)outlines + 1, sizeof(*around->traced));
	if (!around->traced)
		return -1;
	for (uint32_t i = 0; i < sheet->traced_count; i++) {
		around->traced[sheet->traced[i].inner] = true;
		around->traced[sheet->traced[i].outer] = true;
	}
	if (group(sheet, sheet->crossing_count, loose_at_crossing, &around->crossings) != 0)
		return -1;
	return group(sheet, sheet->neck_count, freed_by_burn, &around->burned);
}

static void clear(struct surroundings *around)
{
	free(around->crossings.first);
	free(around->crossings.items);
	free(around->burned.first);
	free(around->burned.items);
	free(around->traced);
}

/* Returns how many bridges would have held it. */
static size_t relate_burned(struct cutlint_check *check, struct cutlint_finding *finding,
			    const struct groups *burned, uint32_t part)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (size_t i = burned->first[part]; i < burned->first[part + 1]; i++) {
		const struct cutlint_neck *neck = &sheet->necks[burned->items[i]];
		cutlint_show_span(finding, neck->walls[0].at, neck->walls[1].at);
		cutlint_relate(finding, cutlint_place_wall(design, &neck->walls[0]),
			       "its bridge here is burned through: %.2f mm as drawn, the kerf "
			       "takes %.2f mm",
			       neck->drawn_mm, neck->drawn_mm - neck->width_mm);
	}
	return burned->first[part + 1] - burned->first[part];
}

/* Returns how many of its corners are crossings; all its corners at the last one count. */
static int relate_crossings(struct cutlint_check *check, struct cutlint_finding *finding,
			    const struct groups *crossings, uint32_t part)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	uint32_t last = CUTLINT_NONE;
	int count = 0;
	for (size_t i = crossings->first[part]; i < crossings->first[part + 1]; i++) {
		if (count >= CORNERS_MOST && crossings->items[i] != last)
			break;
		last = crossings->items[i];
		cutlint_relate(finding,
			       cutlint_place_wall(cutlint_check_design(check),
						  &sheet->crossings[last].walls[0]),
			       "lines that cross here cut it free");
		count++;
	}
	return count;
}

static uint32_t bridges_for(const struct cutlint_part *part, const struct options *options)
{
	uint32_t wanted = 1;
	if (part->area_mm2 >= options->two_mm2)
		wanted = 2;
	if (part->area_mm2 >= options->three_mm2)
		wanted = 3;
	return wanted < part->site_count ? wanted : part->site_count;
}

static void suggest_sites(struct cutlint_check *check, struct cutlint_finding *finding,
			  const struct cutlint_part *part, const struct options *options)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_site *sites = &cutlint_check_sheet(check)->sites[part->first_site];
	uint32_t count = bridges_for(part, options);
	for (uint32_t i = 0; i < count; i++) {
		if (sites[i].apart_mm > SLACK_MM)
			cutlint_show_span(finding, sites[i].part.at, sites[i].kept.at);
		cutlint_relate(finding, cutlint_place_wall(design, &sites[i].kept),
			       "a bridge could go here: %.2f mm from the part", sites[i].apart_mm);
	}
	if (count == 0)
		cutlint_suggest(finding, "draw it so that it is joined to the card");
	else if (sites[0].apart_mm < cutlint_check_job(check)->kerf_mm)
		cutlint_suggest(finding, "leave gaps in the cut that frees it, at least %u",
				(unsigned)count);
	else if (count == 1)
		cutlint_suggest(finding,
				"leave a bridge to it at x %.2f mm, y %.2f mm, where it is %.2f mm "
				"from the rest",
				sites[0].part.at.x, sites[0].part.at.y, sites[0].apart_mm);
	else
		cutlint_suggest(finding,
				"leave %u bridges to it, the first at x %.2f mm, y %.2f mm, where "
				"it is %.2f mm from the rest",
				(unsigned)count, sites[0].part.at.x, sites[0].part.at.y,
				sites[0].apart_mm);
}

/* Where a stroke was traced, both its edges seem to free what lies inside: one cause, not this. */
static bool is_traced(const struct surroundings *around, const struct cutlint_part *part)
{
	return part->outline != CUTLINT_NONE && around->traced[part->outline];
}

/* A blank whose edge is cut anew: what comes off is meant to. */
static bool is_trimming(const struct cutlint_sheet *sheet, const struct options *options,
			const struct cutlint_part *part)
{
	if (!part->at_edge || part->card == CUTLINT_NONE)
		return false;
	const struct cutlint_card *card = &sheet->cards[part->card];
	return !card->edge_burned && part->area_mm2 <= options->trim * card->area_mm2;
}

static void judge(struct cutlint_check *check, const struct options *options,
		  const struct surroundings *around, uint32_t number)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	const struct cutlint_part *part = &sheet->parts[number];
	if (part->kind != CUTLINT_PART_LOOSE || is_traced(around, part) ||
	    is_trimming(sheet, options, part))
		return;
	struct cutlint_finding *finding = report(check, options, part);
	if (part->area_mm2 < options->small_mm2)
		cutlint_limit(finding, "small");
	cutlint_measured(finding, "area", part->area_mm2, NAN, "mm²");
	int corners = relate_crossings(check, finding, &around->crossings, number);
	if (corners > 0)
		cutlint_measured(finding, "corners", corners, NAN, "");
	if (relate_burned(check, finding, &around->burned, number) > 0)
		cutlint_suggest(finding, "draw its burned-through bridges wider than the kerf by "
					 "what they have to hold");
	else
		suggest_sites(check, finding, part, options);
}

static enum cutlint_outcome check_parts(struct cutlint_check *check, const void *options)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	struct surroundings around = {0};
	int status = look_around(check, &around);
	for (uint32_t i = 0; i < sheet->part_count && status == 0; i++)
		judge(check, options, &around, i);
	clear(&around);
	return status == 0 ? CUTLINT_LOOKED : cutlint_could_not_look(check, "out of memory");
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "loose-part",
	.summary = "kept material that nothing holds: counters of letters, islands, what a "
		   "burned-through bridge frees",
	.advice = "Leave bridges to it, as stencil letters have; or cut it from the drawing if it "
		  "is to fall out.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_CARDS | CUTLINT_NEEDS_NECKS | CUTLINT_NEEDS_OVERLAPS |
		 CUTLINT_NEEDS_CROSSINGS,
	.check = check_parts,
};
