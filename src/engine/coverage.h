/* coverage.h - what of a drawing is burned at all: no findings must never mean "did not look". */
#ifndef ENGINE_COVERAGE_H
#define ENGINE_COVERAGE_H

#include "base/text.h"
#include "cutlint/job.h"
#include "engine/finding.h"

/* Shapes of a drawing, by what becomes of them. */
struct coverage {
	uint32_t burned;                               /* cut, scored, or burned on another sheet */
	uint32_t reference[CUTLINT_ROLE_COUNT];        /* not burned, as their role says */
	uint32_t unburned[CUTLINT_UNBURNED_OTHER + 1]; /* burned roles, but never seen */
	uint32_t unnamed;       /* burned as art though no pattern took them */
	uint32_t first_unnamed; /* a shape */
	uint32_t dashed;        /* cut, though drawn with a dash array */
	uint32_t first_dashed;  /* a shape */
};

struct coverage coverage_count(const struct cutlint_design *design);

/*
 * Adds the finding `nothing-to-burn` (error) where no line is burned, and `unnamed-art` (note)
 * where the job has patterns for art and shapes are burned that none of them takes, and `dashes`
 * (warning) where lines are cut whose dashes a viewer shows: they are burned solid.
 */
void coverage_report(const struct coverage *coverage, const struct cutlint_design *design,
		     const struct cutlint_job *job, struct findings *findings);

/* Adds what is left out and why: "2 shapes hidden by display, 1 text". Nothing if nothing is. */
void coverage_add_left_out(struct text *text, const struct coverage *coverage);

#endif
