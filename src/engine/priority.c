#include "engine/priority.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* When a finding explains another one of the same place. */
enum bond {
	SLIVER,   /* always; also where both are about the sliver between two lines */
	GRAVER,   /* both judge the same width as drawn, and the cause is graver */
	AS_GRAVE, /* the same, and the cause is as grave */
	GAP,      /* the same, and both lie at the same spot */
	NEARBY,   /* wherever both are near */
	SPOT,     /* at the very spot */
	COUNTED, /* wherever it is, the effect is within all of the cause's limits: it is counted */
};

/* The first of a row says the cause, the second only what follows from it. */
static const struct order {
	const char *cause, *effect;
	enum bond bond;
} ORDER[] = {
	/* Between two lines burned in the same place there is always a sliver. */
	{"duplicate-outline", "bridge-width", SLIVER},
	{"duplicate-outline", "hole-size", SLIVER},
	/* Of the edge margin and the thin wall at the edge the more severe; the margin asks for
	   more. */
	{"card-margin", "bridge-width", AS_GRAVE},
	{"bridge-width", "card-margin", GRAVER},
	/* What a gap leaves standing is said with the gap. */
	{"closed-path", "bridge-width", GAP},
	{"duplicate-outline", "crossing-cuts", NEARBY},
	/* What lines that cross cut free, or leave thin between them, is gone once they are one. */
	{"crossing-cuts", "loose-part", SPOT},
	{"crossing-cuts", "bridge-width", SPOT},
	/* A loose part names its burned-through bridges itself. */
	{"loose-part", "bridge-width", SPOT},
	{"bridge-width", "weak-hold", SPOT},
	{"closed-path", "weak-hold", SPOT},
	{"crossing-cuts", "weak-hold", SPOT},
	/* A tongue that is thin all the way, the cusp where two lines touch. */
	{"fine-tip", "weak-hold", SPOT},
	{"crossing-cuts", "fine-tip", SPOT},
	{"duplicate-outline", "fine-tip", NEARBY},
	{"speck", "hole-size", COUNTED},
	{"speck", "loose-part", COUNTED},
};

#define ORDER_COUNT (sizeof(ORDER) / sizeof(ORDER[0]))

static const struct order *find_order(const char *cause, const char *effect)
{
	for (size_t i = 0; i < ORDER_COUNT; i++) {
		if (strcmp(ORDER[i].cause, cause) == 0 && strcmp(ORDER[i].effect, effect) == 0)
			return &ORDER[i];
	}
	return NULL;
}

/* Whether a finding's rule stands anywhere in the table, as a cause or as an effect. */
static bool has_role(const struct finding *finding, bool cause)
{
	for (size_t i = 0; i < ORDER_COUNT; i++) {
		if (strcmp(cause ? ORDER[i].cause : ORDER[i].effect, finding->rule) == 0)
			return true;
	}
	return false;
}

/* The finding's own place for 0, then its related ones. */
static const struct finding_place *place_of(const struct finding *finding, uint32_t number)
{
	return number == 0 ? &finding->place : &finding->related[number - 1];
}

static bool within(const struct finding_place *a, const struct finding_place *b, double reach_mm)
{
	return a->on_sheet && b->on_sheet &&
	       hypot(a->at.x - b->at.x, a->at.y - b->at.y) <= reach_mm;
}

static bool near(const struct finding_place *a, const struct finding_place *b)
{
	return within(a, b, PRIORITY_NEAR_MM);
}

/* A figure of a finding by its name; NULL without it. */
static const struct finding_measure *find_measure(const struct finding *finding, const char *what)
{
	for (uint32_t i = 0; i < finding->measure_count; i++) {
		if (strcmp(finding->measures[i].what, what) == 0)
			return &finding->measures[i];
	}
	return NULL;
}

/* NAN without it. */
static double measure_of(const struct finding *finding, const char *what)
{
	const struct finding_measure *measure = find_measure(finding, what);
	return measure ? measure->value : NAN;
}

/* Whether all that both measure is under the cause's limits, and something is. */
static bool is_counted(const struct finding *cause, const struct finding *effect)
{
	bool any = false;
	for (uint32_t i = 0; i < cause->measure_count; i++) {
		const struct finding_measure *limit = &cause->measures[i];
		double value = measure_of(effect, limit->what);
		if (isnan(value) || isnan(limit->limit))
			continue;
		if (value >= limit->limit)
			return false;
		any = true;
	}
	return any;
}

/* Whether the effect is drawn as wide as the cause's two lines are apart: the sliver between. */
static bool same_width(const struct finding *cause, const struct finding *effect)
{
	double apart_mm = measure_of(cause, "apart");
	double bridge_mm = measure_of(effect, "drawn");
	double hole_mm = measure_of(effect, "inscribed circle");
	return fabs(bridge_mm - apart_mm) <= PRIORITY_WIDTH_MM ||
	       fabs(hole_mm - apart_mm) <= PRIORITY_WIDTH_MM;
}

static bool names(const struct finding *finding, const char *element)
{
	for (uint32_t i = 0; i <= finding->related_count; i++) {
		const char *other = place_of(finding, i)->element;
		if (element && other ? strcmp(element, other) == 0 : element == other)
			return true;
	}
	return false;
}

/* Whether the cause names every element that the effect names: the same walls. */
static bool names_all(const struct finding *cause, const struct finding *effect)
{
	for (uint32_t i = 0; i <= effect->related_count; i++) {
		if (!names(cause, place_of(effect, i)->element))
			return false;
	}
	return true;
}

static bool explains(const struct finding *cause, const struct finding_place *cause_place,
		     const struct finding *effect, const struct finding_place *effect_place)
{
	const struct order *order = find_order(cause->rule, effect->rule);
	if (!order)
		return false;
	switch (order->bond) {
	case SLIVER:
		return near(cause_place, effect_place) || same_width(cause, effect);
	case NEARBY:
		return near(cause_place, effect_place);
	case SPOT:
		return within(cause_place, effect_place, PRIORITY_SPOT_MM);
	case GRAVER:
	case AS_GRAVE:
	case GAP:
		break;
	case COUNTED:
		return false;
	}
	/* What judges the same width takes a silenced finding's place. */
	if (cause->silence && !effect->silence)
		return false;
	int lead = (int)cause->severity - (int)effect->severity;
	double apart_mm = measure_of(cause, "drawn") - measure_of(effect, "drawn");
	bool same_walls = order->bond != GAP && names_all(cause, effect);
	return (near(cause_place, effect_place) || same_walls) &&
	       fabs(apart_mm) <= PRIORITY_WIDTH_MM && lead >= (order->bond == GRAVER ? 1 : 0);
}

/* One place of a cause; a list of them is sorted by element, so that few are looked at. */
struct clue {
	const char *element;
	const struct finding *cause;
	const struct finding_place *place;
};

static int by_element(const void *a, const void *b)
{
	return strcmp(((const struct clue *)a)->element, ((const struct clue *)b)->element);
}

static uint32_t add_clues(struct clue *clues, uint32_t count, const struct finding *cause)
{
	for (uint32_t i = 0; i <= cause->related_count; i++) {
		const struct finding_place *place = place_of(cause, i);
		if (place->element)
			clues[count++] = (struct clue){place->element, cause, place};
	}
	return count;
}

/* The first clue of an element, or where it would stand. */
static uint32_t first_clue(const struct clue *clues, uint32_t count, const char *element)
{
	uint32_t low = 0, high = count;
	while (low < high) {
		uint32_t middle = low + (high - low) / 2;
		if (strcmp(clues[middle].element, element) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

static bool is_explained_at(const struct finding *effect, const struct finding_place *place,
			    const struct clue *clues, uint32_t count)
{
	uint32_t i = place->element ? first_clue(clues, count, place->element) : count;
	for (; i < count && strcmp(clues[i].element, place->element) == 0; i++) {
		if (explains(clues[i].cause, clues[i].place, effect, place))
			return true;
	}
	return false;
}

/* All that may explain a finding. */
struct evidence {
	const struct clue *clues;
	uint32_t count;
	struct findings counting; /* those that count others, wherever these are */
};

static bool is_tallied(const struct finding *effect, const struct findings *counting)
{
	for (uint32_t i = 0; i < counting->count; i++) {
		const struct order *order = find_order(counting->items[i].rule, effect->rule);
		if (order && order->bond == COUNTED && is_counted(&counting->items[i], effect))
			return true;
	}
	return false;
}

static bool is_explained(const struct finding *effect, const struct evidence *evidence)
{
	if (!has_role(effect, false))
		return false;
	for (uint32_t i = 0; i <= effect->related_count; i++) {
		if (is_explained_at(effect, place_of(effect, i), evidence->clues, evidence->count))
			return true;
	}
	return is_tallied(effect, &evidence->counting);
}

/* Takes out what is explained. The evidence is made of copies, so that moving is safe. */
static void drop_effects(struct findings *findings, const struct evidence *evidence)
{
	uint32_t kept = 0;
	for (uint32_t i = 0; i < findings->count; i++) {
		if (!is_explained(&findings->items[i], evidence))
			findings->items[kept++] = findings->items[i];
	}
	findings->count = kept;
}

static void add_copy(struct findings *findings, const struct finding *finding)
{
	struct finding *copy = findings_add(findings);
	if (copy)
		*copy = *finding;
}

static bool counts_others(const struct finding *finding)
{
	for (size_t i = 0; i < ORDER_COUNT; i++) {
		if (ORDER[i].bond == COUNTED && strcmp(ORDER[i].cause, finding->rule) == 0)
			return true;
	}
	return false;
}

void priority_apply(struct findings *findings)
{
	struct findings causes = {.arena = findings->arena};
	struct evidence evidence = {.counting = {.arena = findings->arena}};
	uint32_t clue_count = 0;
	for (uint32_t i = 0; i < findings->count; i++) {
		if (!has_role(&findings->items[i], true))
			continue;
		add_copy(&causes, &findings->items[i]);
		if (counts_others(&findings->items[i]))
			add_copy(&evidence.counting, &findings->items[i]);
		clue_count += findings->items[i].related_count + 1;
	}
	struct clue *clues = ARENA_ARRAY(findings->arena, struct clue, clue_count);
	if (causes.failed || evidence.counting.failed || !clues) {
		findings->failed = true;
		return;
	}
	for (uint32_t i = 0; i < causes.count; i++)
		evidence.count = add_clues(clues, evidence.count, &causes.items[i]);
	if (evidence.count) {
		qsort(clues, evidence.count, sizeof(*clues), by_element);
		evidence.clues = clues;
		drop_effects(findings, &evidence);
	}
}
