#include "cutlint/export.h"

CUTLINT_EXPORT int cutlint_rule(void);

int cutlint_rule(void)
{
	return 1;
}
