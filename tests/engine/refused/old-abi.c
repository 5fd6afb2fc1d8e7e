#include "../module.h"

/* As a module of an older cutlint would be: its other fields are not where this one looks. */
const struct cutlint_rule cutlint_rule = {.abi = CUTLINT_RULE_ABI - 1, .size = 8};
