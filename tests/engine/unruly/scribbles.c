#include <unistd.h>

#include "../module.h"

static enum cutlint_outcome check(struct cutlint_check *check, const void *options)
{
	(void)options;
	cutlint_report(check, CUTLINT_ERROR, cutlint_place_design(cutlint_check_design(check)),
		       "scribbles was here");
	for (int file = 3; file < 64; file++) {
		if (write(file, "scribble", 8) < 0)
			continue;
	}
	return CUTLINT_LOOKED;
}

const struct cutlint_rule cutlint_rule = {SOUND("scribbles"), .check = check};
