#include "cli/timeout.h"

#include <string.h>

#include "base/number.h"
#include "cli/command.h"

int timeout_take(double *limit_s, const char *value)
{
	double seconds;
	const char *end = value + strlen(value);
	size_t length = number_parse(value, end, &seconds);
	if (!length || value + length != end || !(seconds >= 0 && seconds <= 1e6)) {
		say_error("option '--rule-timeout' takes seconds from 0 (no limit) to 1000000, "
			  "not '%s'",
			  value);
		return -1;
	}
	*limit_s = seconds;
	return 0;
}
