#include "engine/keep.h"

#include <string.h>

/* What copying needs; after the first failure all that follows is nothing. */
struct copier {
	struct arena *arena;
	bool failed;
};

static const char *copy(struct copier *copier, const char *string)
{
	const char *made = string ? arena_copy(copier->arena, string, strlen(string)) : NULL;
	copier->failed = copier->failed || (string && !made);
	return made;
}

static void *copy_items(struct copier *copier, const void *items, uint32_t count, size_t size)
{
	void *made = arena_take(copier->arena, count, size);
	copier->failed = copier->failed || !made;
	if (made && count)
		memcpy(made, items, count * size);
	return made;
}

static void copy_place(struct copier *copier, struct finding_place *place)
{
	place->file = copy(copier, place->file);
	place->element = copy(copier, place->element);
	place->text = copy(copier, place->text);
}

static const struct silence *copy_silence(struct copier *copier, const struct silence *silence)
{
	struct silence *made = copy_items(copier, silence, 1, sizeof(*silence));
	if (!made)
		return NULL;
	made->rule = copy(copier, made->rule);
	made->reason = copy(copier, made->reason);
	copy_place(copier, &made->place);
	return made;
}

static void copy_parts(struct copier *copier, struct finding *finding)
{
	finding->related = copy_items(copier, finding->related, finding->related_count,
				      sizeof(*finding->related));
	finding->measures = copy_items(copier, finding->measures, finding->measure_count,
				       sizeof(*finding->measures));
	finding->figures = copy_items(copier, finding->figures, finding->figure_count,
				      sizeof(*finding->figures));
	for (uint32_t i = 0; i < finding->figure_count && !copier->failed; i++) {
		struct finding_figure *figure = &finding->figures[i];
		figure->points = copy_items(copier, figure->points, figure->point_count,
					    sizeof(*figure->points));
		figure->label = copy(copier, figure->label);
	}
	for (uint32_t i = 0; i < finding->related_count && !copier->failed; i++)
		copy_place(copier, &finding->related[i]);
	for (uint32_t i = 0; i < finding->measure_count && !copier->failed; i++) {
		finding->measures[i].what = copy(copier, finding->measures[i].what);
		finding->measures[i].unit = copy(copier, finding->measures[i].unit);
	}
}

static struct finding copy_finding(struct copier *copier, const struct finding *finding)
{
	struct finding made = *finding;
	made.rule = copy(copier, made.rule);
	made.message = copy(copier, made.message);
	made.suggestion = copy(copier, made.suggestion);
	copy_place(copier, &made.place);
	copy_parts(copier, &made);
	made.edits = NULL; /* they are the drawing's, whose text does not outlive it */
	made.edit_count = 0;
	if (made.silence)
		made.silence = copy_silence(copier, made.silence);
	return made;
}

static struct finding *find_same(const struct findings *kept, const struct finding *finding)
{
	for (uint32_t i = 0; i < kept->count; i++) {
		struct finding *other = &kept->items[i];
		if (other->place.byte == finding->place.byte &&
		    other->severity == finding->severity &&
		    strcmp(other->rule, finding->rule) == 0 &&
		    strcmp(other->message, finding->message) == 0)
			return other;
	}
	return NULL;
}

void findings_keep(struct findings *kept, const struct finding *finding)
{
	struct copier copier = {.arena = kept->arena};
	struct finding *same = find_same(kept, finding);
	if (same) {
		if (!finding->silence)
			same->silence = NULL;
		return;
	}
	struct finding made = copy_finding(&copier, finding);
	struct finding *room = copier.failed ? NULL : findings_add(kept);
	kept->failed = kept->failed || copier.failed;
	if (room)
		*room = made;
}

void findings_keep_job(struct findings *kept, struct findings *findings)
{
	uint32_t left = 0;
	for (uint32_t i = 0; i < findings->count; i++) {
		if (findings->items[i].place.in_job)
			findings_keep(kept, &findings->items[i]);
		else
			findings->items[left++] = findings->items[i];
	}
	findings->count = left;
}
