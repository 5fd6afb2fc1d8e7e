#include "cutlint/export.h"

CUTLINT_EXPORT extern const int some_other_symbol;
const int some_other_symbol = 1;
