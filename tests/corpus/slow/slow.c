/* slow.c - takes its time: until the file named by SLOW_UNTIL is there, else two seconds. */
#define _POSIX_C_SOURCE 200809L
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

#include "cutlint/rule.h"

static void pause_ms(long ms)
{
	const struct timespec pause = {.tv_sec = ms / 1000, .tv_nsec = ms % 1000 * 1000000};
	nanosleep(&pause, NULL);
}

static enum cutlint_outcome look(struct cutlint_check *check, const void *options)
{
	(void)options;
	const char *until = getenv("SLOW_UNTIL");
	if (!until)
		pause_ms(2000);
	while (until && access(until, F_OK) != 0)
		pause_ms(10);
	cutlint_report(check, CUTLINT_WARNING, cutlint_place_design(cutlint_check_design(check)),
		       "looked at last");
	return CUTLINT_LOOKED;
}

CUTLINT_EXPORT const struct cutlint_rule cutlint_rule = {
	.abi = CUTLINT_RULE_ABI,
	.size = sizeof(struct cutlint_rule),
	.name = "slow",
	.summary = "anything at all, slowly",
	.advice = "Wait.",
	.severity = CUTLINT_WARNING,
	.check = look,
};
