/* unit.h - the units that values are written in. */
#ifndef JOB_UNIT_H
#define JOB_UNIT_H

#include <stddef.h>

#include "job/value.h"

/* value = figure * times / by: two steps, each rounded correctly, so that 0.15 mm is 0.15. */
struct unit {
	const char *name;
	double times, by;
};

#define UNITS_MOST 6

struct units {
	const char *noun;                    /* "a length" */
	struct unit list[UNITS_MOST];        /* the first is the one that values are written in */
	const char *const names[UNITS_MOST]; /* the same names, for suggestions */
	size_t count;
};

/* The units of a kind. */
const struct units *unit_list(enum value_kind kind);

#endif
