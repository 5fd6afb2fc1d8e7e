#include "../module.h"

static const struct cutlint_option OPTIONS[] = {
	{.name = "limit",
	 .kind = CUTLINT_OPTION_LENGTH,
	 .offset = 8,
	 .fallback = "1 mm",
	 .least = 0,
	 .most = 5,
	 .meaning = "a limit"},
	{0},
};

RULE_WITH_OPTIONS("option-outside");
