#include <stdio.h>

#include "../module.h"

static enum cutlint_outcome check(struct cutlint_check *check, const void *options)
{
	(void)options;
	cutlint_report(check, CUTLINT_ERROR, cutlint_place_design(cutlint_check_design(check)),
		       "babbles was here");
	puts("a.svg:1:1: error: forged [babbles]");
	fflush(stdout);
	return CUTLINT_LOOKED;
}

const struct cutlint_rule cutlint_rule = {SOUND("babbles"), .check = check};
