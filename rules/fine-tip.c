/* fine-tip.c - points, tapers and free strips so narrow over a length that they char and curl. */
#include "cutlint/rule.h"

#include <math.h>

struct options {
	double width_mm, length_mm;
};

/*
 * The width is the one below which bridges are an error: about the thickness of card. Over which
 * length it shows has no source: 3 mm is a choice, reached by corners of less than 9.5 degrees.
 */
static const struct cutlint_option OPTIONS[] = {
	{"width", CUTLINT_OPTION_LENGTH, offsetof(struct options, width_mm), "0.35 mm", 0, 3, NULL,
	 true, "a free end narrower than this after the burn is thin"},
	{"length", CUTLINT_OPTION_LENGTH, offsetof(struct options, length_mm), "3 mm", 0, 100, NULL,
	 false, "a free end that is thin along more than this is a warning"},
	{.name = NULL},
};

static const double SLACK_MM = 0.001;

/* How far from its end a tip first grows as wide, as drawn; its whole length if it never does. */
static double grows_to(const struct cutlint_tip *tip, double drawn_mm)
{
	for (uint32_t i = 1; i < tip->width_count; i++) {
		struct cutlint_tip_width a = tip->widths[i - 1], b = tip->widths[i];
		if (b.drawn_mm < drawn_mm)
			continue;
		double rise = b.drawn_mm - a.drawn_mm;
		double share = rise > 0 ? fmax(0, (drawn_mm - a.drawn_mm) / rise) : 0;
		return a.along_mm + share * (b.along_mm - a.along_mm);
	}
	return tip->widths[tip->width_count - 1].along_mm;
}

/* A point that loses less of itself is a strip with a short end: a choice. */
static const double GONE_LEAST_MM = 0.2;

static void suggest(struct cutlint_finding *finding, const struct options *options,
		    const struct cutlint_tip *tip, double gone_mm)
{
	double drawn_mm = cutlint_at_least(options->width_mm + tip->burn_mm, 0.01);
	if (gone_mm >= GONE_LEAST_MM)
		cutlint_suggest(finding,
				"end it blunt, %.2f mm wide as drawn, or join it to the card; its "
				"last %.2f mm burn away anyhow",
				drawn_mm, gone_mm);
	else
		cutlint_suggest(finding, "draw it at least %.2f mm wide, or join it to the card",
				drawn_mm);
}

static void judge(struct cutlint_check *check, const struct options *options,
		  const struct cutlint_tip *tip)
{
	double thin_mm = grows_to(tip, options->width_mm + tip->burn_mm - SLACK_MM);
	if (thin_mm <= options->length_mm + SLACK_MM)
		return;
	double gone_mm = tip->burn_mm > 0 ? grows_to(tip, tip->burn_mm) : 0;
	struct cutlint_place place = cutlint_place_vertex(cutlint_check_design(check), tip->vertex);
	place.at = tip->at;
	struct cutlint_finding *finding = cutlint_report(
		check, CUTLINT_WARNING, place,
		"free end is under %.2f mm wide along %.2f mm, over %.2f mm: it chars and curls",
		options->width_mm, thin_mm, options->length_mm);
	cutlint_limit(finding, "length");
	cutlint_measured(finding, "thin", thin_mm, options->length_mm, "mm");
	cutlint_measured(finding, "burns away", gone_mm, NAN, "mm");
	cutlint_show_tip(finding, tip, thin_mm);
	suggest(finding, options, tip, gone_mm);
}

static enum cutlint_outcome check_tips(struct cutlint_check *check, const void *options)
{
	const struct cutlint_sheet *sheet = cutlint_check_sheet(check);
	for (uint32_t i = 0; i < sheet->tip_count; i++)
		judge(check, options, &sheet->tips[i]);
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "fine-tip",
	.summary = "points, tapers and free strips that are narrower than the limit over a length",
	.advice =
		"End points blunt or broader, or join them to the card: thin free ends char, curl "
		"and break off.",
	.severity = CUTLINT_WARNING,
	.options = OPTIONS,
	.options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_NECKS | CUTLINT_NEEDS_TIPS,
	.check = check_tips,
};
