#include "../module.h"

static const struct cutlint_option OPTIONS[] = {
	{.name = "limit",
	 .kind = CUTLINT_OPTION_LENGTH,
	 .fallback = "9 mm",
	 .least = 0,
	 .most = 5,
	 .meaning = "a limit"},
	{0},
};

const struct cutlint_rule cutlint_rule = {SOUND("default-out-of-range"), .options = OPTIONS,
					  .options_size = sizeof(struct one_length),
					  .check = looked};
