#include "engine/priority.h"

#include <math.h>
#include <string.h>

#include "engine/clue.h"

/* When a finding explains another one of the same place. */
enum bond {
	SLIVER,   /* always; also where both are about the sliver between two lines */
	GRAVER,   /* both judge the same width as drawn, and the cause is graver */
	AS_GRAVE, /* the same, and the cause is as grave */
	GAP,      /* the same, and both lie at the same spot */
	NEARBY,   /* wherever both are near */
	SPOT,     /* at the very spot */
	AT_FOLD,  /* the effect measures something from the fold */
	CORNER,   /* of one element alone, no farther from the effect's middle than that is long */
	FREED,    /* of one element, where the cause is a cut in the place of a score */
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
	/* So of a cut and of lettering at one edge; a fold near a cut is said with the cut. */
	{"name-fit", "card-margin", AS_GRAVE},
	{"card-margin", "name-fit", GRAVER},
	{"fold-clearance", "name-fit", AT_FOLD},
	/* What a gap leaves standing is said with the gap. */
	{"closed-path", "bridge-width", GAP},
	{"duplicate-outline", "crossing-cuts", NEARBY},
	/* What lines that cross cut free, or leave thin between them, is gone once they are one. */
	{"crossing-cuts", "loose-part", SPOT},
	{"crossing-cuts", "bridge-width", SPOT},
	{"crossing-cuts", "hole-size", CORNER},
	/* The panel that a cut along the fold, or in its place, takes off. */
	{"duplicate-outline", "loose-part", FREED},
	{"fold-score", "loose-part", FREED},
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
	/* Crossings that are too many to list cut pieces free, too. */
	{"crossing-cuts", "loose-part", COUNTED},
};

/* What the effect of AT_FOLD measures. */
#define FROM_FOLD "from the fold"

#define ORDER_COUNT (sizeof(ORDER) / sizeof(ORDER[0]))

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

/* Whether the cause's judgement of the same width takes the place of the effect's. */
static bool outweighs(enum bond bond, const struct finding *cause, const struct finding *effect)
{
	/* What judges the same width takes a silenced finding's place. */
	if (cause->silence && !effect->silence)
		return false;
	int lead = (int)cause->severity - (int)effect->severity;
	double apart_mm = measure_of(cause, "drawn") - measure_of(effect, "drawn");
	return fabs(apart_mm) <= PRIORITY_WIDTH_MM && lead >= (bond == GRAVER ? 1 : 0);
}

/* The places of one row's causes: by where they lie, by what they measured; what counts others. */
struct row {
	const struct order *order;
	struct clues near, alike, counting;
};

static double reach_of(enum bond bond)
{
	if (bond == CORNER)
		return PRIORITY_CORNER_MM;
	return bond == SPOT ? PRIORITY_SPOT_MM : PRIORITY_NEAR_MM;
}

/* By what causes are found that lie elsewhere; NAN for none. */
static double alike_value(enum bond bond, const struct finding *cause)
{
	switch (bond) {
	case SLIVER:
		return measure_of(cause, "apart");
	case GRAVER:
	case AS_GRAVE:
		return measure_of(cause, "drawn");
	case FREED:
		return find_measure(cause, "scored") ? 0 : NAN;
	case AT_FOLD:
		return 0;
	case GAP:
	case NEARBY:
	case SPOT:
	case CORNER:
	case COUNTED:
		break;
	}
	return NAN;
}

static int add_clues(struct arena *arena, struct row *row, const struct finding *cause)
{
	double value = alike_value(row->order->bond, cause);
	if (row->order->bond == COUNTED)
		return clues_add(arena, &row->counting, &(struct clue){.cause = cause});
	for (uint32_t i = 0; i <= cause->related_count; i++) {
		struct clue clue = {.cause = cause, .place = place_of(cause, i)};
		if (!clue.place->element)
			continue;
		clue.key = clue_cell_key(clue.place, reach_of(row->order->bond), 0, 0);
		if (clue.place->on_sheet && clues_add(arena, &row->near, &clue) < 0)
			return -1;
		clue.key = clue_key(clue.place->element);
		clue.value = value;
		if (!isnan(value) && clues_add(arena, &row->alike, &clue) < 0)
			return -1;
	}
	return 0;
}

static bool same_element(const struct clue *clue, const struct finding_place *place)
{
	return strcmp(clue->place->element, place->element) == 0;
}

/* Whether an opening lies at the place where its own line crosses itself. */
static bool is_at_corner(const struct clue *clue, const struct finding *effect,
			 const struct finding_place *place)
{
	return within(clue->place, place, measure_of(effect, "length")) &&
	       names_all(effect, clue->cause);
}

/* What a row asks for of a cause near the effect, besides that. */
static bool is_bound(enum bond bond, const struct clue *clue, const struct finding *effect,
		     const struct finding_place *place)
{
	if (bond == CORNER)
		return is_at_corner(clue, effect, place);
	if (bond == GRAVER || bond == AS_GRAVE || bond == GAP)
		return outweighs(bond, clue->cause, effect);
	return bond != FREED && (bond != AT_FOLD || find_measure(effect, FROM_FOLD));
}

static bool is_explained_in(const struct row *row, uint64_t key, const struct finding *effect,
			    const struct finding_place *place)
{
	enum bond bond = row->order->bond;
	const struct clues *clues = &row->near;
	for (uint32_t i = clues_first(clues, key, -INFINITY);
	     i < clues->count && clues->items[i].key == key; i++) {
		const struct clue *clue = &clues->items[i];
		if (within(clue->place, place, reach_of(bond)) && same_element(clue, place) &&
		    is_bound(bond, clue, effect, place))
			return true;
	}
	return false;
}

static bool is_explained_near(const struct row *row, const struct finding *effect,
			      const struct finding_place *place)
{
	if (!row->near.count || !place->on_sheet)
		return false;
	for (int i = 0; i < 9; i++) {
		uint64_t key =
			clue_cell_key(place, reach_of(row->order->bond), i % 3 - 1, i / 3 - 1);
		if (is_explained_in(row, key, effect, place))
			return true;
	}
	return false;
}

/*
 * Whether a cause explains the effect wherever both lie on their element: the effect is the sliver
 * between the cause's two lines, or both are about the same walls.
 */
static bool is_alike(enum bond bond, const struct clue *clue, const struct finding *effect)
{
	return bond == SLIVER || bond == FREED || bond == AT_FOLD ||
	       (outweighs(bond, clue->cause, effect) && names_all(clue->cause, effect));
}

static bool is_explained_by_value(const struct row *row, const struct finding *effect,
				  const struct finding_place *place, double value)
{
	const struct clues *clues = &row->alike;
	uint64_t key = clue_key(place->element);
	if (!clues->count || isnan(value))
		return false;
	for (uint32_t i = clues_first(clues, key, value - 2 * PRIORITY_WIDTH_MM);
	     i < clues->count && clues->items[i].key == key; i++) {
		const struct clue *clue = &clues->items[i];
		if (clue->value > value + 2 * PRIORITY_WIDTH_MM)
			break;
		if (fabs(clue->value - value) <= PRIORITY_WIDTH_MM && same_element(clue, place) &&
		    is_alike(row->order->bond, clue, effect))
			return true;
	}
	return false;
}

static bool is_explained_alike(const struct row *row, const struct finding *effect,
			       const struct finding_place *place)
{
	if (row->order->bond == AT_FOLD && !find_measure(effect, FROM_FOLD))
		return false;
	if (row->order->bond == FREED || row->order->bond == AT_FOLD)
		return is_explained_by_value(row, effect, place, 0);
	return is_explained_by_value(row, effect, place, measure_of(effect, "drawn")) ||
	       (row->order->bond == SLIVER &&
		is_explained_by_value(row, effect, place, measure_of(effect, "inscribed circle")));
}

static bool is_tallied(const struct row *row, const struct finding *effect)
{
	for (uint32_t i = 0; i < row->counting.count; i++) {
		if (is_counted(row->counting.items[i].cause, effect))
			return true;
	}
	return false;
}

static bool is_explained_by(const struct row *row, const struct finding *effect)
{
	for (uint32_t i = 0; i <= effect->related_count; i++) {
		const struct finding_place *place = place_of(effect, i);
		if (place->element && (is_explained_near(row, effect, place) ||
				       is_explained_alike(row, effect, place)))
			return true;
	}
	return is_tallied(row, effect);
}

static bool is_explained(const struct finding *effect, const struct row *rows)
{
	for (size_t r = 0; r < ORDER_COUNT; r++) {
		if (strcmp(rows[r].order->effect, effect->rule) == 0 &&
		    is_explained_by(&rows[r], effect))
			return true;
	}
	return false;
}

static int fill_row(struct arena *arena, const struct findings *findings, struct row *row)
{
	for (uint32_t i = 0; i < findings->count; i++) {
		const struct finding *cause = &findings->items[i];
		if (strcmp(cause->rule, row->order->cause) == 0 && add_clues(arena, row, cause) < 0)
			return -1;
	}
	clues_sort(&row->near);
	clues_sort(&row->alike);
	return 0;
}

static bool is_effect(const struct findings *findings, const struct order *order)
{
	for (uint32_t i = 0; i < findings->count; i++) {
		if (strcmp(findings->items[i].rule, order->effect) == 0)
			return true;
	}
	return false;
}

/* Marks the findings that another one explains. Returns 0, or -1 where memory ran out. */
static int mark_explained(struct arena *arena, const struct findings *findings, bool *explained)
{
	struct row rows[ORDER_COUNT] = {0};
	for (size_t r = 0; r < ORDER_COUNT; r++) {
		rows[r].order = &ORDER[r];
		if (is_effect(findings, &ORDER[r]) && fill_row(arena, findings, &rows[r]) < 0)
			return -1;
	}
	for (uint32_t i = 0; i < findings->count; i++)
		explained[i] = is_explained(&findings->items[i], rows);
	return 0;
}

void priority_apply(struct findings *findings)
{
	struct arena *arena = arena_create();
	bool *explained = arena ? ARENA_ARRAY(arena, bool, findings->count) : NULL;
	uint32_t kept = 0;
	if (!explained || mark_explained(arena, findings, explained) < 0) {
		findings->failed = true;
		goto out;
	}
	for (uint32_t i = 0; i < findings->count; i++) {
		if (!explained[i])
			findings->items[kept++] = findings->items[i];
	}
	findings->count = kept;
out:
	arena_destroy(arena);
}
