#include "../module.h"

static enum cutlint_outcome check(struct cutlint_check *check, const void *options)
{
	(void)options;
	for (int i = 0; i <= 100000; i++)
		cutlint_report(check, CUTLINT_NOTE,
			       cutlint_place_design(cutlint_check_design(check)), "again");
	return CUTLINT_LOOKED;
}

const struct cutlint_rule cutlint_rule = {SOUND("gushes"), .check = check};
