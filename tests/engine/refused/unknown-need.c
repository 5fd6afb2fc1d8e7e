#include "../module.h"

const struct cutlint_rule cutlint_rule = {SOUND("unknown-need"), .needs = 1u << 30,
					  .check = looked};
