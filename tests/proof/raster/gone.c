/* gone.c - a library that is not there when lacks-library.c is opened. */
#include "cutlint/export.h"

CUTLINT_EXPORT int gone(void);

int gone(void)
{
	return 0;
}
