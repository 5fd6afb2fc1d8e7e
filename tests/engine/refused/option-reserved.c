#include "../module.h"

static const struct cutlint_option OPTIONS[] = {
	{.name = "severity",
	 .kind = CUTLINT_OPTION_LENGTH,
	 .fallback = "1 mm",
	 .least = 0,
	 .most = 5,
	 .meaning = "a limit"},
	{0},
};

RULE_WITH_OPTIONS("option-reserved");
