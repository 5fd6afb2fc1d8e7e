#define _POSIX_C_SOURCE 200809L
#include "report/colour.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static bool is_set(const char *value)
{
	return value && *value;
}

bool colour_wanted(enum colour_when when, int stream)
{
	if (when != COLOUR_AUTO)
		return when == COLOUR_ALWAYS;
	if (is_set(getenv("NO_COLOR")))
		return false;
	const char *force = getenv("CLICOLOR_FORCE");
	if (is_set(force) && strcmp(force, "0") != 0)
		return true;
	const char *terminal = getenv("TERM");
	return isatty(stream) && is_set(terminal) && strcmp(terminal, "dumb") != 0;
}
