#include "../module.h"

const struct cutlint_rule cutlint_rule = {.abi = CUTLINT_RULE_ABI + 1,
					  .size = sizeof(struct cutlint_rule) + 64};
