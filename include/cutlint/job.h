/* job.h - what is cut, from what, and how: the job file as a rule sees it. Read-only. */
#ifndef CUTLINT_JOB_H
#define CUTLINT_JOB_H

#include <stdbool.h>
#include <stddef.h>

#include "cutlint/model.h"

/* Where the fold lies on the closed card, seen from the front. */
enum cutlint_spine {
	CUTLINT_SPINE_LEFT,
	CUTLINT_SPINE_RIGHT,
	CUTLINT_SPINE_TOP,
	CUTLINT_SPINE_BOTTOM
};

/* Which side of the open card faces the beam: its outside (front) or its inside (back). */
enum cutlint_side { CUTLINT_SIDE_FRONT, CUTLINT_SIDE_BACK };

/* How the lines of one role are burned. */
struct cutlint_recipe {
	bool given;
	double speed_mm_s;
	double power; /* share of the machine's full power, 0 to 1 */
	unsigned passes;
};

struct cutlint_job {
	const char *file; /* NULL for the embedded default */
	const char *stock_name;
	double stock_thickness_mm;
	double stock_grammage; /* g/m², 0 if not given */
	double kerf_mm;
	double join_mm; /* path ends this close count as one */
	double scan_mm; /* necks are looked for up to this width */
	double flatness_mm;
	double machine_power_w; /* 0 if not given */
	struct cutlint_recipe recipe[CUTLINT_ROLE_COUNT];
	bool card_given;
	double card_width_mm, card_height_mm; /* the finished, folded card; portrait as written */
	const char *card_size;                /* as written: "A6" */
	enum cutlint_spine spine;
	enum cutlint_side side;
	bool side_given, spine_given;
	bool art_named; /* the job has patterns for art */
};

#endif
