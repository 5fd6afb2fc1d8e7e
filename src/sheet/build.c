#include "sheet/build.h"

#include <math.h>

#include "cutlint/rule.h"
#include "sheet/opening.h"
#include "sheet/part.h"

static int prepare(struct sheet_work *work)
{
	size_t outlines = work->design->outline_count;
	struct sheet_loops *loops = &work->loops;
	work->sheet = ARENA_NEW(work->arena, struct cutlint_sheet);
	work->dropped = ARENA_ARRAY(work->scratch, bool, outlines + 1);
	loops->items = ARENA_ARRAY(work->scratch, struct sheet_loop, outlines + 1);
	loops->steps = ARENA_ARRAY(work->scratch, struct sheet_step, outlines + 1);
	loops->of = ARENA_ARRAY(work->scratch, uint32_t, outlines + 1);
	if (!work->sheet || !work->dropped || !loops->items || !loops->steps || !loops->of)
		return -1;
	for (uint32_t i = 0; i < outlines; i++)
		loops->of[i] = CUTLINT_NONE;
	return 0;
}

/*
 * A card's edge that is open by so little is meant to be closed: what lies inside is the card all
 * the same, and the gap is for the closed-path rule to say. Common practice, no source.
 */
static const double NEARLY_CLOSED_MM = 1.0;

/* A gap in the art up to the kerf is burned shut. */
static int find_loops(struct sheet_work *work)
{
	double shut = fmax(work->job->join_mm, work->job->kerf_mm);
	double edge = fmax(shut, NEARLY_CLOSED_MM);
	return sheet_find_loops(work, CUTLINT_ROLE_ART, shut) == 0 &&
			       sheet_find_loops(work, CUTLINT_ROLE_OUTLINE, edge) == 0 &&
			       sheet_find_loops(work, CUTLINT_ROLE_BLANK, edge) == 0
		       ? 0
		       : -1;
}

static int find_cards(struct sheet_work *work)
{
	return find_loops(work) == 0 && sheet_find_cards(work) == 0 &&
			       sheet_find_folds(work) == 0 && sheet_find_panels(work) == 0
		       ? 0
		       : -1;
}

static int use_arrangement(struct sheet_work *work, const struct burn *burn,
			   struct geo_arrangement *arrangement)
{
	struct intent intent;
	struct face_sets openings;
	if (intent_find(work, burn, arrangement, &intent) != 0 ||
	    intent_burn_away(work, arrangement, &intent) != 0 ||
	    opening_find(work, arrangement, &intent, &openings) != 0)
		return -1;
	if ((work->needs & CUTLINT_NEEDS_HOLES) &&
	    opening_measure(work, burn, arrangement, &intent, &openings) != 0)
		return -1;
	if (work->needs & CUTLINT_NEEDS_NECKS)
		return part_find(work, burn, arrangement, &intent, &openings);
	return 0;
}

static bool has_folds(const struct sheet_work *work)
{
	for (uint32_t c = 0; c < work->sheet->card_count; c++)
		if (work->cards[c].fold != CUTLINT_NONE)
			return true;
	return false;
}

/* The page's edge has no outline, and no two edges of it cross. */
static uint32_t crowded_outline(const struct burn *burn, const struct geo_crowding *crowding)
{
	uint32_t outline = burn_chain_of(burn, crowding->segments[0])->outline;
	return outline != CUTLINT_NONE ? outline
				       : burn_chain_of(burn, crowding->segments[1])->outline;
}

static int divide(struct sheet_work *work)
{
	struct burn burn;
	if (burn_collect(work, &burn) != 0)
		return -1;
	struct geo_crowding crowding = {.most = work->most_crossings};
	struct geo_arrangement *arrangement =
		geo_arrangement_create(&burn.lines, crowding.most ? &crowding : NULL);
	if (!arrangement) {
		if (crowding.exceeded)
			work->crowded = crowded_outline(&burn, &crowding);
		return -1;
	}
	/* Where a fold lies tells which face is the frame. */
	int status = has_folds(work) ? geo_arrangement_locate(arrangement) : 0;
	if (status == 0)
		status = use_arrangement(work, &burn, arrangement);
	geo_arrangement_destroy(arrangement);
	return status;
}

/* Overlaps come first whatever is needed: lines drawn twice must not look like loops or parts. */
static int build(struct sheet_work *work)
{
	const uint32_t needs = work->needs;
	const uint32_t dividing = CUTLINT_NEEDS_NECKS | CUTLINT_NEEDS_HOLES;
	if (prepare(work) != 0)
		return -1;
	if ((needs & ~(uint32_t)CUTLINT_NEEDS_ENDS) &&
	    sheet_find_overlaps(work, (needs & CUTLINT_NEEDS_OVERLAPS) != 0) != 0)
		return -1;
	if ((needs & (CUTLINT_NEEDS_CARDS | dividing)) && find_cards(work) != 0)
		return -1;
	if ((needs & dividing) && divide(work) != 0)
		return -1;
	if ((needs & CUTLINT_NEEDS_ENDS) && sheet_find_ends(work) != 0)
		return -1;
	return 0;
}

struct cutlint_sheet *sheet_build(struct arena *arena, const struct cutlint_design *design,
				  const struct cutlint_job *job,
				  const struct sheet_question *question, uint32_t *crowded)
{
	struct sheet_work work = {.arena = arena,
				  .scratch = arena_create(),
				  .design = design,
				  .job = job,
				  .needs = question->needs,
				  .limit_mm = fmax(job->scan_mm, question->neck_limit_mm),
				  .hole_limit_mm = question->hole_limit_mm,
				  .most_crossings = question->most_crossings,
				  .crowded = CUTLINT_NONE,
				  .picture = question->picture};
	int status = work.scratch ? build(&work) : -1;
	arena_destroy(work.scratch);
	*crowded = work.crowded;
	return status == 0 ? work.sheet : NULL;
}
