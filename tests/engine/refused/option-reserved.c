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

const struct cutlint_rule cutlint_rule = {SOUND("option-reserved"), .options = OPTIONS,
					  .options_size = sizeof(struct one_length),
					  .check = looked};
