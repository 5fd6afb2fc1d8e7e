/* bridge-width.c - places where kept material is too narrow to live through cut and handling. */
#include "cutlint/rule.h"

#include <math.h>

struct options {
	double error_mm, warning_mm;
	double sole_error_mm, sole_warning_mm;
};

/*
 * The trade names widths as drawn: 0.5 mm "may burn away", 1 mm "fragile", 1 and 2 mm where one
 * bridge carries a part. The defaults are these less a kerf of 0.15 mm.
 */
static const struct cutlint_option OPTIONS[] = {
	{"error", CUTLINT_OPTION_LENGTH, offsetof(struct options, error_mm), "0.35 mm", 0, 50, NULL,
	 true, "a bridge or thin wall narrower than this after the burn is an error"},
	{"warning", CUTLINT_OPTION_LENGTH, offsetof(struct options, warning_mm), "0.85 mm", 0, 50,
	 NULL, true, "a bridge or thin wall narrower than this after the burn is a warning"},
	{"sole-error", CUTLINT_OPTION_LENGTH, offsetof(struct options, sole_error_mm), "0.85 mm", 0,
	 50, NULL, true, "the same for a bridge that alone holds a part: an error"},
	{"sole-warning", CUTLINT_OPTION_LENGTH, offsetof(struct options, sole_warning_mm),
	 "1.85 mm", 0, 50, NULL, true, "the same for a bridge that alone holds a part: a warning"},
	{.name = NULL},
};

/* Widths are known to a micrometre; one that misses its limit by less is equal to it. */
static const double SLACK_MM = 0.001;

/* The two limits that a neck has to meet. */
struct limits {
	double error_mm, warning_mm;
};

static bool holds_alone(const struct cutlint_neck *neck)
{
	return neck->kind == CUTLINT_NECK_BRIDGE && neck->held != CUTLINT_NONE &&
	       neck->held_with == 0;
}

static struct limits limits_of(const struct cutlint_neck *neck, const struct options *options)
{
	struct limits plain = {options->error_mm, options->warning_mm};
	if (!holds_alone(neck))
		return plain;
	return (struct limits){fmax(plain.error_mm, options->sole_error_mm),
			       fmax(plain.warning_mm, options->sole_warning_mm)};
}

/* The option that a limit comes from: of a bridge that alone holds a part the larger of two. */
static const char *option_of(const struct cutlint_neck *neck, const struct options *options,
			     bool bad)
{
	if (bad)
		return holds_alone(neck) && options->sole_error_mm > options->error_mm
			       ? "sole-error"
			       : "error";
	return holds_alone(neck) && options->sole_warning_mm > options->warning_mm ? "sole-warning"
										   : "warning";
}

static bool is_loose(const struct cutlint_sheet *sheet, uint32_t part)
{
	return part != CUTLINT_NONE && sheet->parts[part].kind == CUTLINT_PART_LOOSE;
}

/* Whether this rule has to judge a neck at all. */
static bool is_judged(const struct cutlint_check *check, const struct cutlint_neck *neck)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);

	if (neck->kind != CUTLINT_NECK_BRIDGE && neck->kind != CUTLINT_NECK_THIN_WALL)
		return false;
	/* What falls out anyway may be as narrow as it likes. */
	if (is_loose(sheet, neck->parts[0]) && is_loose(sheet, neck->parts[1]))
		return false;
	/* The mouth of an open path is the closed-path rule's matter, unless it is meant. */
	uint32_t outline = neck->walls[0].outline;
	return !neck->open_gap || (outline != CUTLINT_NONE &&
				   cutlint_outline_role(design, outline) == CUTLINT_ROLE_SLIT);
}

static const char *kind_word(const struct cutlint_neck *neck)
{
	if (neck->kind == CUTLINT_NECK_BRIDGE)
		return "bridge";
	return neck->at_edge ? "thin wall at the card's edge" : "thin wall";
}

/* Two walls that run side by side; round ones that only pass each other are near for less. */
static bool is_corridor(const struct cutlint_neck *neck)
{
	return neck->length_mm >= fmax(1, 2 * neck->drawn_mm);
}

/* What the burn takes off the drawn width: a kerf, or half of one at an edge that comes cut. */
static double burn_mm(const struct cutlint_neck *neck)
{
	return neck->drawn_mm - neck->width_mm;
}

static struct cutlint_finding *report_burned(struct cutlint_check *check,
					     const struct cutlint_neck *neck)
{
	struct cutlint_place place =
		cutlint_place_wall(cutlint_check_design(check), &neck->walls[0]);
	const char *alone = holds_alone(neck) ? ", and nothing else holds its part" : "";
	if (!is_corridor(neck))
		return cutlint_report(check, CUTLINT_ERROR, place,
				      "%s is burned through: %.2f mm as drawn, the kerf takes "
				      "%.2f mm%s",
				      kind_word(neck), neck->drawn_mm, burn_mm(neck), alone);
	return cutlint_report(
		check, CUTLINT_ERROR, place,
		"%s is burned through: %.2f mm as drawn along %.2f mm, the kerf takes "
		"%.2f mm%s",
		kind_word(neck), neck->drawn_mm, neck->length_mm, burn_mm(neck), alone);
}

static struct cutlint_finding *report_thin(struct cutlint_check *check,
					   enum cutlint_severity severity,
					   const struct cutlint_neck *neck, double limit_mm)
{
	struct cutlint_place place =
		cutlint_place_wall(cutlint_check_design(check), &neck->walls[0]);
	const char *alone = holds_alone(neck) ? ", the only one that holds its part," : "";
	/* Three decimals where two would show the limit that it misses, or nothing. */
	int places = limit_mm - neck->width_mm < 0.01 || neck->width_mm < 0.01 ? 3 : 2;
	if (!is_corridor(neck))
		return cutlint_report(check, severity, place,
				      "%s of %.*f mm%s is under %.2f mm (%.*f mm as drawn)",
				      kind_word(neck), places, neck->width_mm, alone, limit_mm,
				      places, neck->drawn_mm);
	return cutlint_report(check, severity, place,
			      "%s of %.*f mm%s is under %.2f mm (%.*f mm as drawn, along %.2f mm)",
			      kind_word(neck), places, neck->width_mm, alone, limit_mm, places,
			      neck->drawn_mm, neck->length_mm);
}

/* Names the other wall, and the part that a bridge holds. */
static void relate(struct cutlint_check *check, struct cutlint_finding *finding,
		   const struct cutlint_neck *neck)
{
	const struct cutlint_design *design = cutlint_check_design(check);
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);

	cutlint_show_span(finding, neck->walls[0].at, neck->walls[1].at);
	if (neck->length_mm > 0)
		cutlint_show_span(finding, neck->ends[0], neck->ends[1]);
	cutlint_relate(finding, cutlint_place_wall(design, &neck->walls[1]), "the other wall");
	if (neck->kind != CUTLINT_NECK_BRIDGE || neck->held == CUTLINT_NONE)
		return;

	const struct cutlint_part *part = &sheet->parts[neck->held];
	struct cutlint_place place = part->outline == CUTLINT_NONE
					     ? cutlint_place_design(design)
					     : cutlint_place_vertex(design, part->vertex);
	place.at = part->at;
	place.on_sheet = true;
	if (neck->held_with == 0)
		cutlint_relate(finding, place,
			       "the part that it holds, %.1f mm², hangs on nothing else",
			       part->area_mm2);
	else
		cutlint_relate(finding, place,
			       "the part that it holds, %.1f mm², has %u other sound %s",
			       part->area_mm2, (unsigned)neck->held_with,
			       neck->held_with == 1 ? "bridge" : "bridges");
}

static void suggest(struct cutlint_finding *finding, const struct cutlint_neck *neck,
		    double wanted_mm)
{
	double drawn_mm = cutlint_at_least(wanted_mm + burn_mm(neck), 0.01);
	if (holds_alone(neck))
		cutlint_suggest(finding,
				"draw it at least %.2f mm wide, or give the part a second bridge",
				drawn_mm);
	else
		cutlint_suggest(finding, "draw it at least %.2f mm wide: move the cuts apart",
				drawn_mm);
}

static void judge(struct cutlint_check *check, const struct options *options,
		  const struct cutlint_neck *neck)
{
	struct limits limits = limits_of(neck, options);
	bool bad = neck->width_mm <= 0 || neck->width_mm < limits.error_mm - SLACK_MM;
	if (!bad && neck->width_mm >= limits.warning_mm - SLACK_MM)
		return;

	double limit_mm = bad ? limits.error_mm : limits.warning_mm;
	enum cutlint_severity severity = bad ? CUTLINT_ERROR : CUTLINT_WARNING;
	struct cutlint_finding *finding = neck->width_mm <= 0
						  ? report_burned(check, neck)
						  : report_thin(check, severity, neck, limit_mm);
	if (neck->width_mm <= 0)
		cutlint_limit_job(finding, "burn", NULL, "kerf");
	else
		cutlint_limit(finding, option_of(neck, options, bad));
	cutlint_measured(finding, "width", neck->width_mm, limit_mm, "mm");
	cutlint_measured(finding, "drawn", neck->drawn_mm, NAN, "mm");
	relate(check, finding, neck);
	suggest(finding, neck, fmax(limits.warning_mm, limits.error_mm));
}

static enum cutlint_outcome check_bridges(struct cutlint_check *check, const void *options)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (uint32_t i = 0; i < sheet->neck_count; i++)
		if (is_judged(check, &sheet->necks[i]))
			judge(check, options, &sheet->necks[i]);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "bridge-width",
	.summary = "bridges and thin walls of kept material that are narrower than the limit after "
		   "the burn",
	.advice = "Move the cuts on both sides apart, or add another bridge. A bridge that alone "
		  "holds a part needs more width than one of several.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_NECKS,
	.check = check_bridges,
};
