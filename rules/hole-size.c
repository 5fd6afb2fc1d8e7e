/* hole-size.c - openings too small to come out clean. */
#include "cutlint/rule.h"

#include <math.h>

struct options {
	double error_mm, warning_mm;
};

/* Cutting services ask for 0.5 to 1.5 times the stock's thickness; below a kerf nothing is left. */
static const struct cutlint_option OPTIONS[] = {
	{"error", CUTLINT_OPTION_LENGTH, offsetof(struct options, error_mm), "0.2 mm", 0, 50, NULL,
	 false, "an opening whose largest inscribed circle is smaller as drawn is an error"},
	{"warning", CUTLINT_OPTION_LENGTH, offsetof(struct options, warning_mm), "0.5 mm", 0, 50,
	 NULL, false, "an opening whose largest inscribed circle is smaller as drawn is a warning"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

/* How many times longer than wide an opening has to be to be called a slot. */
static const double SLOT_RATIO = 3;

/* The length of a strip of the opening's width that has its area. */
static double strip_length(const struct cutlint_hole *hole)
{
	return hole->diameter_mm > 0 ? hole->area_mm2 / hole->diameter_mm : 0;
}

static bool is_slot(const struct cutlint_hole *hole)
{
	return strip_length(hole) > SLOT_RATIO * hole->diameter_mm;
}

/*
 * Whether the opening is the gap between both edges of a traced stroke: one cause, and the
 * duplicate-outline rule names it.
 */
static bool is_traced(const struct cutlint_sheet *sheet, const struct cutlint_hole *hole)
{
	for (uint32_t i = 0; i < sheet->traced_count; i++) {
		const struct cutlint_traced *pair = &sheet->traced[i];
		if ((pair->outer == hole->outline || pair->inner == hole->outline) &&
		    hole->diameter_mm <= pair->apart_mm + pair->spread_mm + SLACK_MM)
			return true;
	}
	return false;
}

static struct cutlint_finding *report(struct cutlint_check *check, enum cutlint_severity severity,
				      const struct cutlint_hole *hole, double limit_mm)
{
	double kerf_mm = cutlint_check_job(check)->kerf_mm;
	bool below = hole->diameter_mm < kerf_mm - SLACK_MM;
	const char *relation = below ? "narrower than the kerf of" : "under";
	double bound_mm = below ? kerf_mm : limit_mm;
	double burned_mm = hole->diameter_mm + kerf_mm;
	struct cutlint_place place =
		cutlint_place_vertex(cutlint_check_design(check), hole->vertex);
	place.at = hole->centre;
	if (is_slot(hole))
		return cutlint_report(check, severity, place,
				      "slot of %.2f mm as drawn, about %.2f mm long, is %s %.2f mm "
				      "(it burns %.2f mm wide)",
				      hole->diameter_mm, strip_length(hole), relation, bound_mm,
				      burned_mm);
	return cutlint_report(check, severity, place,
			      "opening of %.2f mm as drawn is %s %.2f mm (it burns %.2f mm wide)",
			      hole->diameter_mm, relation, bound_mm, burned_mm);
}

static void judge(struct cutlint_check *check, const struct options *options,
		  const struct cutlint_hole *hole)
{
	bool bad = hole->diameter_mm < options->error_mm - SLACK_MM;
	if (!bad && hole->diameter_mm >= options->warning_mm - SLACK_MM)
		return;
	if (is_traced(cutlint_check_sheet(check), hole))
		return;

	double limit_mm = bad ? options->error_mm : options->warning_mm;
	double wanted_mm = cutlint_at_least(fmax(options->error_mm, options->warning_mm), 0.01);
	struct cutlint_finding *finding =
		report(check, bad ? CUTLINT_ERROR : CUTLINT_WARNING, hole, limit_mm);
	if (hole->diameter_mm < cutlint_check_job(check)->kerf_mm - SLACK_MM)
		cutlint_limit_job(finding, "burn", NULL, "kerf");
	else
		cutlint_limit(finding, bad ? "error" : "warning");
	cutlint_measured(finding, "inscribed circle", hole->diameter_mm, limit_mm, "mm");
	cutlint_measured(finding, "area", hole->area_mm2, NAN, "mm²");
	cutlint_measured(finding, "length",
			 fmax(hole->box.right - hole->box.left, hole->box.bottom - hole->box.top),
			 NAN, "mm");
	cutlint_show_circle(finding, hole->centre, hole->diameter_mm);
	if (is_slot(hole))
		cutlint_suggest(finding,
				"draw it at least %.2f mm wide, or as one open line with the role "
				"slit, which burns a kerf wide in one pass",
				wanted_mm);
	else
		cutlint_suggest(finding, "draw it at least %.2f mm wide, or leave it out",
				wanted_mm);
}

static enum cutlint_outcome check_holes(struct cutlint_check *check, const void *options)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (uint32_t i = 0; i < sheet->hole_count; i++)
		judge(check, options, &sheet->holes[i]);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "hole-size",
	.summary = "openings and slots too small to come out clean: their edges burn into one",
	.advice = "Draw the opening wider, or leave it out. A slot about as wide as the kerf is "
		  "better drawn as one open line with the role slit.",
	.severity = CUTLINT_ERROR,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_HOLES | CUTLINT_NEEDS_OVERLAPS,
	.check = check_holes,
};
