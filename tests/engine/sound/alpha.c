#include <math.h>

#include "../module.h"

static const char *const COUNTS[] = {"one", "two", "three", NULL};

struct options {
	double least_mm;
	double turn_rad;
	double share;
	unsigned count;
	bool strict;
};

static const struct cutlint_option OPTIONS[] = {
	{.name = "least",
	 .kind = CUTLINT_OPTION_LENGTH,
	 .offset = offsetof(struct options, least_mm),
	 .fallback = "0.4 mm",
	 .least = 0.01,
	 .most = 5,
	 .neck_limit = true,
	 .meaning = "the least length"},
	{.name = "turn",
	 .kind = CUTLINT_OPTION_ANGLE,
	 .offset = offsetof(struct options, turn_rad),
	 .fallback = "2 deg",
	 .least = 0,
	 .most = 3.2,
	 .meaning = "the largest turn"},
	{.name = "share",
	 .kind = CUTLINT_OPTION_SHARE,
	 .offset = offsetof(struct options, share),
	 .fallback = "20 %",
	 .least = 0,
	 .most = 1,
	 .meaning = "a share"},
	{.name = "count",
	 .kind = CUTLINT_OPTION_WORD,
	 .offset = offsetof(struct options, count),
	 .fallback = "two",
	 .words = COUNTS,
	 .meaning = "how many to report"},
	{.name = "strict",
	 .kind = CUTLINT_OPTION_FLAG,
	 .offset = offsetof(struct options, strict),
	 .fallback = "no",
	 .meaning = "whether to be strict"},
	{0},
};

/* Reports as many findings as its option says, each with all that a finding can have. */
static enum cutlint_outcome check(struct cutlint_check *check, const void *given)
{
	const struct options *options = given;
	const struct cutlint_design *design = cutlint_check_design(check);
	for (unsigned i = 0; i <= options->count; i++) {
		struct cutlint_finding *finding =
			cutlint_report(check, options->strict ? CUTLINT_ERROR : CUTLINT_WARNING,
				       cutlint_place_vertex(design, 1), "finding %u of %.2f mm", i,
				       options->least_mm);
		cutlint_suggest(finding, "make it larger than %.2f mm", options->least_mm);
		cutlint_relate(finding, cutlint_place_design(design), "the whole of %s", "it");
		cutlint_measured(finding, "length", 0.25, options->least_mm, "mm");
		cutlint_measured(finding, "count", i, NAN, "");
	}
	return CUTLINT_LOOKED;
}

const struct cutlint_rule cutlint_rule = {
	SOUND("alpha"), .options = OPTIONS, .options_size = sizeof(struct options),
	.needs = CUTLINT_NEEDS_NECKS | CUTLINT_NEEDS_CARDS, .check = check};
