#include "../module.h"

static const struct cutlint_option OPTIONS[] = {
	{.name = "limit",
	 .kind = CUTLINT_OPTION_LENGTH,
	 .fallback = "1 mm",
	 .least = 5,
	 .most = 0,
	 .meaning = "a limit"},
	{0},
};

RULE_WITH_OPTIONS("range-upside-down");
