#include "engine/silence.h"

#include <string.h>

#include "engine/grow.h"
#include "engine/remark.h"
#include "model/private.h"

static bool add_word(struct silences *silences, const struct remark_word *word)
{
	struct remark_word *words = list_grow(silences->arena, silences->words, silences->count,
					      &silences->capacity, sizeof(*words));
	if (!words)
		return false;
	silences->words = words;
	words[silences->count++] = *word;
	return true;
}

static void read_attribute(struct silences *silences, const struct remark *remark,
			   struct findings *findings)
{
	struct remark_reader reader;
	struct remark_word word;
	remark_start(&reader, silences->design, remark, findings);
	while (remark_next(&reader, &word)) {
		if (!add_word(silences, &word))
			findings->failed = true;
	}
}

void silences_read(struct silences *silences, struct findings *findings)
{
	const struct cutlint_private *priv = silences->design->priv;
	for (uint32_t i = 0; i < priv->remark_count; i++)
		read_attribute(silences, &priv->remarks[i], findings);
}

/* The first word of an element, or where it would stand. */
static uint32_t first_word(const struct silences *silences, uint32_t index)
{
	uint32_t low = 0, high = silences->count;
	while (low < high) {
		uint32_t middle = low + (high - low) / 2;
		if (silences->words[middle].element->index < index)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

/* What has been decided for a finding. */
struct verdict {
	bool severity_set;
	struct finding *finding;
};

static void obey(struct remark_word *word, struct verdict *verdict)
{
	struct finding *finding = verdict->finding;
	if (strcmp(word->silence.rule, finding->rule) != 0 || !remark_reaches(word, finding))
		return;
	word->used = true;
	if (word->kind == REMARK_SILENCE && !finding->silence) {
		finding->silence = &word->silence;
	} else if (word->kind == REMARK_SEVERITY && !verdict->severity_set) {
		finding->severity = word->severity;
		verdict->severity_set = true;
	}
}

/* From the element outwards. */
static void obey_around(struct silences *silences, const struct cutlint_element *element,
			struct verdict *verdict)
{
	for (; element; element = element->parent) {
		uint32_t i = first_word(silences, element->index);
		for (; i < silences->count && silences->words[i].element == element; i++)
			obey(&silences->words[i], verdict);
	}
}

static void judge(struct silences *silences, struct finding *finding)
{
	const struct cutlint_design *design = silences->design;
	struct verdict verdict = {.finding = finding};
	obey_around(silences, design->elements[finding->place.index], &verdict);
	for (uint32_t i = 0; i < finding->related_count; i++) {
		if (!finding->related[i].in_job)
			obey_around(silences, design->elements[finding->related[i].index],
				    &verdict);
	}
}

void silences_apply(struct silences *silences, struct findings *findings)
{
	if (!silences->count)
		return;
	for (uint32_t i = 0; i < findings->count; i++) {
		if (!findings->items[i].place.in_job)
			judge(silences, &findings->items[i]);
	}
}

static const struct setup_rule *rule_of(const struct setup *setup, const char *name)
{
	for (uint32_t i = 0; i < setup->rule_count; i++) {
		if (strcmp(setup->rules[i].module->rule->name, name) == 0)
			return &setup->rules[i];
	}
	return NULL;
}

void silences_apply_stretches(const struct setup *setup, struct findings *findings, bool *met)
{
	for (uint32_t i = 0; setup->stretch_count && i < findings->count; i++) {
		struct finding *finding = &findings->items[i];
		const struct setup_rule *rule = rule_of(setup, finding->rule);
		if (rule && !finding->silence)
			finding->silence = rule->silence;
		for (uint32_t j = 0; j < setup->stretch_count; j++)
			met[j] = met[j] ||
				 strcmp(setup->stretches[j].silence.rule, finding->rule) == 0;
	}
}

static bool is_off(const struct setup *setup, const char *rule)
{
	return !rule_of(setup, rule) && setup->registry && registry_find(setup->registry, rule);
}

static void report_unused(const struct remark_word *word, const struct setup *setup,
			  struct findings *findings)
{
	const char *rule = word->silence.rule;
	const char *near = setup->registry && !registry_find(setup->registry, rule)
				   ? registry_nearest(setup->registry, rule)
				   : NULL;
	bool silence = word->kind == REMARK_SILENCE;
	struct finding *finding =
		findings_say(findings, "unused-silence", CUTLINT_WARNING, &word->silence.place,
			     silence ? "this silence of '%s' silences nothing"
				     : "this severity for '%s' meets no finding",
			     rule);
	if (near)
		findings_suggest(findings, finding, "did you mean '%s'?", near);
	else
		findings_suggest(findings, finding, "%s",
				 word->limited ? "remove it, or look whether the figure is now "
						 "worse than it allows"
					       : "remove it, or look whether what it was written "
						 "for has moved");
}

void silences_report_unused(const struct silences *silences, const struct setup *setup,
			    struct findings *findings)
{
	for (uint32_t i = 0; i < silences->count; i++) {
		const struct remark_word *word = &silences->words[i];
		if (!word->used && !is_off(setup, word->silence.rule))
			report_unused(word, setup, findings);
	}
}
