#include "cutlint/export.h"

/* The symbol is data, but nothing like a descriptor. */
CUTLINT_EXPORT extern const int cutlint_rule;
const int cutlint_rule = 1;
