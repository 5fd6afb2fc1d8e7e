#include "engine/priority.h"

#include <math.h>
#include <string.h>

/* The first of a row says the cause, the second only what follows from it. */
static const struct {
	const char *cause, *effect;
} ORDER[] = {
	/* Between two lines burned in the same place there is always a sliver. */
	{"duplicate-outline", "bridge-width"},
	{"duplicate-outline", "hole-size"},
};

#define ORDER_COUNT (sizeof(ORDER) / sizeof(ORDER[0]))

static bool explains(const char *cause, const char *effect)
{
	for (size_t i = 0; i < ORDER_COUNT; i++) {
		if (strcmp(ORDER[i].cause, cause) == 0 && strcmp(ORDER[i].effect, effect) == 0)
			return true;
	}
	return false;
}

static bool is_cause(const struct finding *finding)
{
	for (size_t i = 0; i < ORDER_COUNT; i++) {
		if (strcmp(ORDER[i].cause, finding->rule) == 0)
			return true;
	}
	return false;
}

/* The finding's own place for 0, then its related ones. */
static const struct finding_place *place_of(const struct finding *finding, uint32_t number)
{
	return number == 0 ? &finding->place : &finding->related[number - 1];
}

static bool same_element(const struct finding_place *a, const struct finding_place *b)
{
	return a->element && b->element && strcmp(a->element, b->element) == 0;
}

static bool near(const struct finding_place *a, const struct finding_place *b)
{
	return a->on_sheet && b->on_sheet &&
	       hypot(a->at.x - b->at.x, a->at.y - b->at.y) <= PRIORITY_NEAR_MM;
}

/* A figure of a finding by its name; NAN without it. */
static double measure_of(const struct finding *finding, const char *what)
{
	for (uint32_t i = 0; i < finding->measure_count; i++) {
		if (strcmp(finding->measures[i].what, what) == 0)
			return finding->measures[i].value;
	}
	return NAN;
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

static bool meet(const struct finding *cause, const struct finding *effect)
{
	bool sliver = same_width(cause, effect);
	for (uint32_t i = 0; i <= cause->related_count; i++) {
		for (uint32_t j = 0; j <= effect->related_count; j++) {
			const struct finding_place *a = place_of(cause, i),
						   *b = place_of(effect, j);
			if (same_element(a, b) && (sliver || near(a, b)))
				return true;
		}
	}
	return false;
}

static bool is_explained(const struct finding *finding, const struct findings *causes)
{
	for (uint32_t i = 0; i < causes->count; i++) {
		if (explains(causes->items[i].rule, finding->rule) &&
		    meet(&causes->items[i], finding))
			return true;
	}
	return false;
}

void priority_apply(struct findings *findings)
{
	struct findings causes = {.arena = findings->arena};
	for (uint32_t i = 0; i < findings->count; i++) {
		if (!is_cause(&findings->items[i]))
			continue;
		struct finding *cause = findings_add(&causes);
		if (!cause) {
			findings->failed = true;
			return;
		}
		*cause = findings->items[i];
	}

	uint32_t kept = 0;
	for (uint32_t i = 0; i < findings->count; i++) {
		if (!is_explained(&findings->items[i], &causes))
			findings->items[kept++] = findings->items[i];
	}
	findings->count = kept;
}
