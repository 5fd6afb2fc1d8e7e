#include "../module.h"

static enum cutlint_outcome check(struct cutlint_check *check, const void *options)
{
	(void)options;
	cutlint_report(check, CUTLINT_ERROR, cutlint_place_design(cutlint_check_design(check)),
		       "declines-mutely was here");
	return CUTLINT_COULD_NOT_LOOK;
}

const struct cutlint_rule cutlint_rule = {SOUND("declines-mutely"), .check = check};
