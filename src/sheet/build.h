/* build.h - computes what the burn does to the sheet. */
#ifndef SHEET_BUILD_H
#define SHEET_BUILD_H

#include "base/arena.h"
#include "cutlint/job.h"
#include "cutlint/sheet.h"
#include "sheet/picture.h"

struct sheet_question {
	uint32_t needs;          /* of enum cutlint_need; the rest stays empty */
	double neck_limit_mm;    /* necks are looked for up to this or to the job's scan width */
	double hole_limit_mm;    /* holes are exact up to this diameter; INFINITY: all */
	uint32_t most_crossings; /* where lines may cross; 0: any number */
	struct sheet_picture
		*picture; /* takes what the sheet falls into, if necks are needed; or NULL */
};

/*
 * Computes what the question names. The result lives in `arena`. NULL where memory ran out, or
 * where lines cross too often: then *crowded, CUTLINT_NONE otherwise, is an outline there.
 */
struct cutlint_sheet *sheet_build(struct arena *arena, const struct cutlint_design *design,
				  const struct cutlint_job *job,
				  const struct sheet_question *question, uint32_t *crowded);

#endif
