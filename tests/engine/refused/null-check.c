#include "../module.h"

const struct cutlint_rule cutlint_rule = {SOUND("null-check")};
