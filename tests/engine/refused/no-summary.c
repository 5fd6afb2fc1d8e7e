#include "../module.h"

const struct cutlint_rule cutlint_rule = {.abi = CUTLINT_RULE_ABI,
					  .size = sizeof(struct cutlint_rule),
					  .name = "no-summary",
					  .advice = "nothing to do",
					  .check = looked};
