#include "../module.h"

const struct cutlint_rule cutlint_rule = {.abi = CUTLINT_RULE_ABI, .size = 16};
