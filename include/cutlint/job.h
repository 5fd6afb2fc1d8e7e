/* job.h - what is cut, from what, and how: the job file as a rule sees it. Read-only. */
#ifndef CUTLINT_JOB_H
#define CUTLINT_JOB_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

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

/* Which way the fibres of the stock run on the drawing. */
enum cutlint_grain { CUTLINT_GRAIN_UNKNOWN, CUTLINT_GRAIN_UPRIGHT, CUTLINT_GRAIN_LEVEL };

/* How the lines of one role are burned. */
struct cutlint_recipe {
	bool given;
	double speed_mm_s;
	double power; /* share of the machine's full power, 0 to 1 */
	unsigned passes;
};

#define CUTLINT_NO_COLOUR UINT32_MAX

struct cutlint_job {
	const char *file; /* NULL for the embedded default */
	const char *stock_name;
	double stock_thickness_mm;
	double stock_grammage; /* g/m², 0 if not given */
	bool stock_coated;     /* its finish; coated card is thinner at one grammage */
	/* 0xrrggbb, to show it; CUTLINT_NO_COLOUR if not given. */
	uint32_t stock_colour, inset_colour;
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

	const char *envelope; /* as written: "C6"; NULL if not given, and so for 0 in all below */
	double envelope_width_mm, envelope_height_mm;
	double sheet_width_mm, sheet_height_mm; /* of the stock; its corner is the page's */
	enum cutlint_grain grain;
	double bed_width_mm, bed_height_mm; /* what the machine can reach, from its corner on */
	double slowest_mm_s, fastest_mm_s;  /* what speeds the machine keeps */
	double least_power;                 /* the share of its power below which it goes out */
	bool lettering_given;               /* the job has a [lettering] section */
	double lettering_width_mm, lettering_height_mm; /* the box of each piece of lettering */
	bool drawing_order;  /* the machine burns the lines as the drawing has them */
	unsigned card_count; /* cards on one sheet */
};

/* Whether the job tells what a role's lines are burned with: a recipe, and the machine's power. */
CUTLINT_EXPORT bool cutlint_energy_known(const struct cutlint_job *job, enum cutlint_role role);

/*
 * What goes into a mm of a role's lines, in J: power x passes / speed. Where the job does not tell,
 * `nominal` for a cut and half of it for a score; the half is a choice of this project.
 */
CUTLINT_EXPORT double cutlint_energy(const struct cutlint_job *job, enum cutlint_role role,
				     double nominal);

/* A size of card or paper that has a name: "ISO A6", 105 mm x 148 mm. */
struct cutlint_paper {
	const char *name;
	double width_mm, height_mm;
};

/*
 * The named sizes that a job file takes for a card, one after the other from 0 on: ISO 216, DL, and
 * the US announcement cards. False past the last.
 */
CUTLINT_EXPORT bool cutlint_paper(size_t number, struct cutlint_paper *out);

#endif
