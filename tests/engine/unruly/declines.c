#include "../module.h"

static enum cutlint_outcome check(struct cutlint_check *check, const void *options)
{
	(void)options;
	cutlint_report(check, CUTLINT_ERROR, cutlint_place_design(cutlint_check_design(check)),
		       "declines was here");
	return cutlint_could_not_look(check, "no %s today", "light");
}

const struct cutlint_rule cutlint_rule = {SOUND("declines"), .check = check};
