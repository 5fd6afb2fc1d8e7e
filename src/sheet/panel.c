/* The two halves of an open card, and which of them is the face. */
#include <math.h>

#include "sheet/work.h"

/* A fold that is turned by more than this against upright or level fits no spine: 30 degrees. */
static const double MOST_TURN = 3.14159265358979323846 / 6;

static int measure_panel(struct sheet_work *work, uint32_t number, int side)
{
	struct cutlint_card *card = &work->cards[number];
	const struct cutlint_fold *fold = &work->folds[card->fold];
	struct region half;
	if (region_clip(work->scratch, &work->regions[number], fold->from, fold->to, side == 0,
			&half) != 0)
		return -1;
	struct cutlint_panel *panel = &card->panels[side];
	panel->box = region_box(&half);
	panel->area_mm2 = half.count ? region_area(&half) : 0;
	panel->width_mm = 0;
	for (uint32_t i = 0; i < half.count; i++)
		panel->width_mm = fmax(panel->width_mm,
				       fabs(region_left_of(fold->from, fold->to, half.points[i])));
	return 0;
}

/* The face guides of the drawing. */
struct guides {
	uint32_t *outlines;
	uint32_t count;
};

static int collect_guides(const struct sheet_work *work, struct guides *guides)
{
	uint32_t outlines = work->design->outline_count;
	guides->count = 0;
	guides->outlines = ARENA_ARRAY(work->scratch, uint32_t, (size_t)outlines + 1);
	if (!guides->outlines)
		return -1;
	for (uint32_t i = 0; i < outlines; i++) {
		if (cutlint_outline_role(work->design, i) == CUTLINT_ROLE_FACE)
			guides->outlines[guides->count++] = i;
	}
	return 0;
}

/* The first face guide whose middle lies on one of the card's panels tells the face. */
static void ask_guides(struct sheet_work *work, const struct guides *guides, uint32_t number)
{
	struct cutlint_card *card = &work->cards[number];
	for (uint32_t i = 0; i < guides->count && card->face < 0; i++) {
		uint32_t guide = guides->outlines[i];
		struct cutlint_xy middle =
			cutlint_box_middle(cutlint_outline_box(work->design, guide));
		int panel = region_contains(&work->regions[number], middle)
				    ? cutlint_card_panel(work->sheet, number, middle)
				    : -1;
		if (panel < 0)
			continue;
		card->face = panel;
		card->face_outline = guide;
	}
}

/*
 * The panel that the spine makes the face: 0 lies left of an upright fold, above a level one.
 *
 * Open and seen from the outside, the face lies right of a left spine, left of a right one, below a
 * top one, above a bottom one. The beam sees the outside when the job cuts from the front. For a
 * cut from the back the open card lies turned over about the vertical, as a page is turned: what
 * was right of the fold lies left of it, what was below it still lies below.
 */
static int panel_from_spine(enum cutlint_spine spine, enum cutlint_side side)
{
	bool back = side == CUTLINT_SIDE_BACK;
	switch (spine) {
	case CUTLINT_SPINE_LEFT:
		return back ? 0 : 1;
	case CUTLINT_SPINE_RIGHT:
		return back ? 1 : 0;
	case CUTLINT_SPINE_TOP:
		return 1;
	case CUTLINT_SPINE_BOTTOM:
		return 0;
	}
	return -1;
}

/* Whether the fold lies as the spine says, upright or level; else the whole card lies turned. */
static bool fits_spine(const struct cutlint_fold *fold, enum cutlint_spine spine)
{
	double across = fabs(fold->to.x - fold->from.x), along = fabs(fold->to.y - fold->from.y);
	bool level = spine == CUTLINT_SPINE_TOP || spine == CUTLINT_SPINE_BOTTOM;
	return (level ? atan2(along, across) : atan2(across, along)) <= MOST_TURN;
}

int sheet_find_panels(struct sheet_work *work)
{
	struct guides guides;
	if (collect_guides(work, &guides) != 0)
		return -1;
	for (uint32_t i = 0; i < work->sheet->card_count; i++) {
		struct cutlint_card *card = &work->cards[i];
		if (card->fold == CUTLINT_NONE)
			continue;
		if (measure_panel(work, i, 0) != 0 || measure_panel(work, i, 1) != 0)
			return -1;
		ask_guides(work, &guides, i);
		if (card->face < 0 && fits_spine(&work->folds[card->fold], work->job->spine))
			card->face = panel_from_spine(work->job->spine, work->job->side);
	}
	return 0;
}
