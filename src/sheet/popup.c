#include "sheet/popup.h"

#include <stdlib.h>

#include "sheet/xy.h"

/* A pop-up is at least this wide: below 1 mm kept material is fragile. Two cutting services. */
static const double LEAST_WIDTH_MM = 1.0;

static int compare_hinges(const void *left, const void *right)
{
	const struct hinge *a = left, *b = right;
	if (a->cut != b->cut)
		return a->cut < b->cut ? -1 : 1;
	return a->line < b->line ? -1 : a->line > b->line;
}

int popups_init(struct popups *popups, struct fold_cuts *cuts, struct hinge *hinges,
		uint32_t hinge_count)
{
	*popups = (struct popups){cuts, hinges, hinge_count, NULL};
	qsort(hinges, hinge_count, sizeof *hinges, compare_hinges);
	popups->inside = ARENA_ARRAY(cuts->work->scratch, bool,
				     (size_t)cuts->work->design->outline_count + 1);
	return popups->inside ? 0 : -1;
}

/* The first hinge of a cut that is not before a line's. */
static uint32_t find_hinge(const struct popups *popups, uint32_t cut, uint32_t line)
{
	const struct hinge wanted = {.cut = cut, .line = line};
	uint32_t low = 0, high = popups->hinge_count;
	while (low < high) {
		uint32_t middle = low + (high - low) / 2;
		if (compare_hinges(&popups->hinges[middle], &wanted) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

static bool has_hinge(const struct popups *popups, uint32_t cut, uint32_t line)
{
	uint32_t i = find_hinge(popups, cut, line);
	return i < popups->hinge_count && popups->hinges[i].cut == cut &&
	       popups->hinges[i].line == line;
}

/* Whether scores run from one cut to another on both sides of a fold. */
static bool is_hinged(const struct popups *popups, uint32_t from_cut, uint32_t to_cut,
		      struct cutlint_xy from, struct cutlint_xy to)
{
	bool sides[2] = {false, false};
	for (uint32_t i = find_hinge(popups, from_cut, 0);
	     i < popups->hinge_count && popups->hinges[i].cut == from_cut; i++) {
		double left = region_left_of(from, to, popups->hinges[i].at);
		if (fabs(left) > SHEET_ON_CUT_MM &&
		    has_hinge(popups, to_cut, popups->hinges[i].line))
			sides[left > 0] = true;
	}
	return sides[0] && sides[1];
}

/* Whether there is a pop-up between one cut and the next among those that were met. */
static bool has_strip(struct popups *popups, uint32_t count, struct cutlint_xy from,
		      struct cutlint_xy to)
{
	const struct met_cut *met = popups->cuts->met;
	double first = 2 * SHEET_ON_CUT_MM, last = xy_distance(from, to);
	uint32_t within = 0;
	bool found = false;
	for (uint32_t i = 0; i + 1 < count && !found; i++) {
		bool *inside = met[i].unit == CUTLINT_NONE ? NULL : &popups->inside[met[i].unit];
		if (inside) {
			*inside = !*inside;
			within = *inside ? within + 1 : within - 1;
		}
		if (within > 0 || met[i + 1].at - met[i].at < LEAST_WIDTH_MM)
			continue;
		bool fills = met[i].at <= first && met[i + 1].at >= last;
		found = fills || is_hinged(popups, met[i].outline, met[i + 1].outline, from, to);
	}
	for (uint32_t i = 0; i < count; i++) {
		if (met[i].unit != CUTLINT_NONE)
			popups->inside[met[i].unit] = false;
	}
	return found;
}

bool popups_part(struct popups *popups, struct cutlint_xy from, struct cutlint_xy to)
{
	double gap = xy_distance(from, to);
	if (gap <= 0)
		return false;
	struct cutlint_xy along = {(to.x - from.x) / gap, (to.y - from.y) / gap};
	struct cutlint_xy low = {from.x - SHEET_ON_CUT_MM * along.x,
				 from.y - SHEET_ON_CUT_MM * along.y};
	struct cutlint_xy high = {to.x + SHEET_ON_CUT_MM * along.x,
				  to.y + SHEET_ON_CUT_MM * along.y};
	uint32_t count = fold_cuts_meet(popups->cuts, low, high);
	return has_strip(popups, count, from, to);
}
