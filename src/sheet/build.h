/* build.h - computes what the burn does to the sheet. */
#ifndef SHEET_BUILD_H
#define SHEET_BUILD_H

#include "base/arena.h"
#include "cutlint/job.h"
#include "cutlint/sheet.h"
#include "sheet/picture.h"

/*
 * Computes what `needs` (of enum cutlint_need) names; the rest stays empty. Necks are looked for up
 * to the larger of the job's scan width and `neck_limit_mm`. Holes are measured exactly where their
 * diameter is at most `hole_limit_mm`; INFINITY asks for all. If `needs` names necks, `picture`
 * takes what the sheet falls into; NULL where it is not wanted. The result lives in `arena`.
 * Returns NULL where memory ran out.
 */
struct cutlint_sheet *sheet_build(struct arena *arena, const struct cutlint_design *design,
				  const struct cutlint_job *job, uint32_t needs,
				  double neck_limit_mm, double hole_limit_mm,
				  struct sheet_picture *picture);

#endif
