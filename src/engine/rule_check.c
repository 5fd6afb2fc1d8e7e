/* rule_check.c - what a rule says: findings, and that it could not look. */
#include "engine/rule_check.h"

#include <stdarg.h>
#include <string.h>

#include "base/text.h"
#include "engine/grow.h"
#include "engine/option.h"
#include "engine/place.h"

#define OUT_OF_MEMORY "memory ran out"

const struct cutlint_design *cutlint_check_design(const struct cutlint_check *check)
{
	return check->design;
}

const struct cutlint_job *cutlint_check_job(const struct cutlint_check *check)
{
	return &check->job->facts;
}

const struct cutlint_sheet *cutlint_check_sheet(const struct cutlint_check *check)
{
	return check->sheet;
}

struct cutlint_place cutlint_place_job(const struct cutlint_check *check, const char *section,
				       const char *name, const char *key)
{
	if (!check->job->facts.file)
		return cutlint_place_design(check->design);
	return place_in_job(check->job, section, name, key);
}

/* The first reason stays: what follows may only be its echo. */
static void stop(struct cutlint_check *check, const char *reason)
{
	if (!check->reason)
		check->reason = reason;
}

static const char *format_copy(struct cutlint_check *check, const char *format, va_list arguments)
{
	const char *copy = text_vkeep(check->arena, format, arguments);
	if (!copy)
		stop(check, OUT_OF_MEMORY);
	return copy;
}

void *rule_check_room(struct cutlint_check *check, void *items, uint32_t count, uint32_t *capacity,
		      size_t size)
{
	void *grown = list_grow(check->arena, items, count, capacity, size);
	if (!grown)
		stop(check, OUT_OF_MEMORY);
	return grown;
}

void *rule_check_array(struct cutlint_check *check, size_t count, size_t size)
{
	void *items = arena_take(check->arena, count, size);
	if (!items)
		stop(check, OUT_OF_MEMORY);
	return items;
}

bool rule_check_is_dummy(const struct cutlint_finding *finding)
{
	return finding == &finding->check->dummy;
}

static struct cutlint_finding *dummy_of(struct cutlint_check *check)
{
	check->dummy = (struct cutlint_finding){.check = check};
	return &check->dummy;
}

static void set_place(struct cutlint_check *check, struct finding_place *out,
		      const struct cutlint_place *place, const char *text)
{
	if (place->in_job)
		place_set_job(out, check->job, place, text);
	else if (place_set(out, check->arena, check->design, place, text) < 0)
		stop(check, OUT_OF_MEMORY);
}

static void relate(struct cutlint_finding *finding, const struct cutlint_place *place,
		   const char *text)
{
	struct cutlint_check *check = finding->check;
	struct finding *found = &finding->found;
	struct finding_place *related =
		rule_check_room(check, found->related, found->related_count,
				&finding->related_capacity, sizeof(*found->related));
	if (!related || !text)
		return;
	found->related = related;
	set_place(check, &related[found->related_count], place, text);
	found->related_count++;
}

static const char PLACED[] = "placed on the sheet by this use";

static bool is_placed_by(const struct finding *found, const struct cutlint_element *use)
{
	for (uint32_t i = 0; i < found->related_count; i++) {
		const struct finding_place *related = &found->related[i];
		if (related->index == use->index && strcmp(related->text, PLACED) == 0)
			return true;
	}
	return false;
}

/* An instance is found at the drawn element; where it was placed follows, each use once. */
static void relate_placements(struct cutlint_finding *finding, const struct cutlint_place *place)
{
	for (const struct cutlint_placement *step = place->placement; step; step = step->outer) {
		struct cutlint_place use = cutlint_place_element(step->use);
		if (!is_placed_by(&finding->found, step->use))
			relate(finding, &use, PLACED);
	}
}

static struct cutlint_finding *add(struct cutlint_check *check)
{
	struct cutlint_finding *finding = ARENA_NEW(check->arena, struct cutlint_finding);
	if (!finding) {
		stop(check, OUT_OF_MEMORY);
		return NULL;
	}
	finding->check = check;
	if (check->last)
		check->last->next = finding;
	else
		check->first = finding;
	check->last = finding;
	check->count++;
	return finding;
}

struct cutlint_finding *cutlint_report(struct cutlint_check *check, enum cutlint_severity severity,
				       struct cutlint_place place, const char *format, ...)
{
	if (check->count >= FINDINGS_MOST && check->count >= check->design->vertex_count) {
		stop(check, "it reports without end");
		return dummy_of(check);
	}
	va_list arguments;
	va_start(arguments, format);
	const char *message = format_copy(check, format, arguments);
	va_end(arguments);

	struct cutlint_finding *finding = message ? add(check) : NULL;
	if (!finding)
		return dummy_of(check);
	finding->found.severity = (unsigned)severity > CUTLINT_ERROR ? CUTLINT_ERROR : severity;
	finding->found.message = message;
	set_place(check, &finding->found.place, &place, NULL);
	relate_placements(finding, &place);
	return finding;
}

void cutlint_suggest(struct cutlint_finding *finding, const char *format, ...)
{
	if (rule_check_is_dummy(finding))
		return;
	va_list arguments;
	va_start(arguments, format);
	finding->found.suggestion = format_copy(finding->check, format, arguments);
	va_end(arguments);
}

const char *rule_check_copy(struct cutlint_check *check, const char *string)
{
	const char *text = string ? string : "";
	const char *copied = arena_copy(check->arena, text, strlen(text));
	if (!copied)
		stop(check, OUT_OF_MEMORY);
	return copied;
}

void cutlint_measured(struct cutlint_finding *finding, const char *what, double value, double limit,
		      const char *unit)
{
	if (rule_check_is_dummy(finding))
		return;
	struct cutlint_check *check = finding->check;
	struct finding *found = &finding->found;
	struct finding_measure *measures =
		rule_check_room(check, found->measures, found->measure_count,
				&finding->measure_capacity, sizeof(*found->measures));
	struct finding_measure measure = {.what = rule_check_copy(check, what),
					  .unit = rule_check_copy(check, unit),
					  .value = value,
					  .limit = limit};
	if (!measures || !measure.what || !measure.unit)
		return;
	measures[found->measure_count++] = measure;
	found->measures = measures;
}

static const char *format_for(struct cutlint_check *check, const char *format, ...)
	CUTLINT_PRINTF(2, 3);

static const char *format_for(struct cutlint_check *check, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	const char *text = format_copy(check, format, arguments);
	va_end(arguments);
	return text;
}

/* Adds "; limit KEY = VALUE: ORIGIN" to the message; `fallback` is the value without an entry. */
static void add_limit(struct cutlint_finding *finding, const char *key,
		      const struct job_entry *entry, const char *fallback)
{
	struct cutlint_check *check = finding->check;
	const struct source *source = &check->job->source;
	const char *value = entry ? entry->value : fallback;
	const char *sign = value ? " = " : "", *message;
	if (entry && check->job->facts.file)
		message = format_for(check, "%s; limit %s%s%s: %s:%u", finding->found.message, key,
				     sign, value, source->name,
				     (unsigned)source_position(source, entry->key_byte).line);
	else
		message = format_for(check, "%s; limit %s%s%s: default", finding->found.message,
				     key, sign, value ? value : "");
	if (message)
		finding->found.message = message;
}

void cutlint_limit(struct cutlint_finding *finding, const char *option)
{
	struct cutlint_check *check = finding->check;
	const struct cutlint_option *found = option_find(check->rule, option);
	if (rule_check_is_dummy(finding))
		return;
	if (!found) {
		stop(check, "it takes a limit from an option that it does not have");
		return;
	}
	add_limit(finding, option, place_find_entry(check->job, "rule", check->rule->name, option),
		  found->fallback);
}

void cutlint_limit_job(struct cutlint_finding *finding, const char *section, const char *name,
		       const char *key)
{
	if (!rule_check_is_dummy(finding))
		add_limit(finding, key, place_find_entry(finding->check->job, section, name, key),
			  NULL);
}

void cutlint_edit(struct cutlint_finding *finding, struct cutlint_span span, const char *text)
{
	if (rule_check_is_dummy(finding))
		return;
	struct cutlint_check *check = finding->check;
	struct finding *found = &finding->found;
	struct finding_edit *edits =
		rule_check_room(check, found->edits, found->edit_count, &finding->edit_capacity,
				sizeof(*found->edits));
	struct finding_edit edit = {span.byte, span.length, rule_check_copy(check, text)};
	if (!edits || !edit.text)
		return;
	edits[found->edit_count++] = edit;
	found->edits = edits;
}

struct cutlint_span cutlint_element_span(struct cutlint_check *check,
					 const struct cutlint_element *element)
{
	return edit_element_span(&check->facts, check->arena, check->design, element);
}

void cutlint_relate(struct cutlint_finding *finding, struct cutlint_place place, const char *format,
		    ...)
{
	if (rule_check_is_dummy(finding))
		return;
	va_list arguments;
	va_start(arguments, format);
	const char *text = format_copy(finding->check, format, arguments);
	va_end(arguments);
	relate(finding, &place, text);
	relate_placements(finding, &place);
}

enum cutlint_outcome cutlint_could_not_look(struct cutlint_check *check, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	const char *reason = format_copy(check, format, arguments);
	va_end(arguments);
	if (reason)
		stop(check, reason);
	return CUTLINT_COULD_NOT_LOOK;
}

void rule_check_run(struct cutlint_check *check, const struct setup_rule *rule)
{
	check->rule = rule->module->rule;
	enum cutlint_outcome outcome = rule->module->rule->check(check, rule->options);
	if (outcome == CUTLINT_COULD_NOT_LOOK)
		stop(check, "it gives no reason");
	else if (outcome != CUTLINT_LOOKED)
		stop(check, "it does not say whether it looked");
}
