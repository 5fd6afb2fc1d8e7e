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

static bool same_place(const struct finding_place *a, const struct finding_place *b)
{
	return a->on_sheet && b->on_sheet && a->element && b->element &&
	       strcmp(a->element, b->element) == 0 &&
	       hypot(a->at.x - b->at.x, a->at.y - b->at.y) <= PRIORITY_NEAR_MM;
}

/* The finding's own place for 0, then its related ones. */
static const struct finding_place *place_of(const struct finding *finding, uint32_t number)
{
	return number == 0 ? &finding->place : &finding->related[number - 1];
}

static bool meet(const struct finding *a, const struct finding *b)
{
	for (uint32_t i = 0; i <= a->related_count; i++) {
		for (uint32_t j = 0; j <= b->related_count; j++) {
			if (same_place(place_of(a, i), place_of(b, j)))
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
