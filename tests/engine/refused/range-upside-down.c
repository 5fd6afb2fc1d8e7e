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

const struct cutlint_rule cutlint_rule = {SOUND("range-upside-down"), .options = OPTIONS,
					  .options_size = sizeof(struct one_length),
					  .check = looked};
