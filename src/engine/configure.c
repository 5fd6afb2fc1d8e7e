#include "engine/configure.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "engine/option.h"
#include "engine/place.h"
#include "job/nearest.h"
#include "job/word.h"

#define SEVERITY_KEY "severity"

/* The words of the severity key; the first three are enum cutlint_severity. */
static const char *const SEVERITY_WORDS[] = {"note", "warning", "error", "off"};
#define SEVERITY_WORD_COUNT (sizeof(SEVERITY_WORDS) / sizeof(SEVERITY_WORDS[0]))
#define SEVERITY_OFF        ((int)CUTLINT_ERROR + 1)

static void suggest_word(struct notices *notices, struct notice *notice, const char *near)
{
	if (near)
		notice_suggest(notices, notice, "did you mean '%s'?", near);
}

static void check_required(const struct registry *registry, const struct job *job,
			   struct notices *notices)
{
	for (uint32_t i = 0; i < job->module_count; i++) {
		if (registry_find(registry, job->modules[i]))
			continue;
		const struct job_entry *entry = job->module_entries[i];
		struct notice *notice = notice_add(
			notices, NOTICE_FATAL, "job", entry->value_byte, entry->value_length,
			"the rule module '%s' that the job requires is not there", entry->value);
		const char *near = registry_nearest(registry, entry->value);
		if (near)
			suggest_word(notices, notice, near);
		else
			notice_suggest(notices, notice,
				       "install it, or name its folder with --rules");
	}
}

/* Reads the severity key. Returns the place of its word, -1 for an unknown one. */
static int severity_of(const struct job_entry *entry, struct notices *notices)
{
	size_t word = word_find(entry->value, SEVERITY_WORDS, SEVERITY_WORD_COUNT);
	if (word < SEVERITY_WORD_COUNT)
		return (int)word;
	struct notice *notice = notice_add(
		notices, NOTICE_FATAL, "job", entry->value_byte, entry->value_length,
		"'%s' is no severity; there are note, warning, error and off", entry->value);
	suggest_word(notices, notice,
		     nearest_word(entry->value, SEVERITY_WORDS, SEVERITY_WORD_COUNT));
	return -1;
}

static void refuse_key(const struct cutlint_rule *rule, const struct job_entry *entry,
		       struct notices *notices)
{
	struct notice *notice =
		notice_add(notices, NOTICE_FATAL, "job", entry->key_byte, entry->key_length,
			   "the rule '%s' has no option '%s'", rule->name, entry->key);
	size_t count = option_count(rule);
	const char **names = calloc(count + 1, sizeof(*names));
	if (!names)
		return;
	for (size_t i = 0; i < count; i++)
		names[i] = rule->options[i].name;
	names[count] = SEVERITY_KEY;
	suggest_word(notices, notice, nearest_word(entry->key, names, count + 1));
	free(names);
}

static void take_option(const struct cutlint_rule *rule, const struct job_entry *entry,
			void *options, struct notices *notices)
{
	const struct cutlint_option *option = option_find(rule, entry->key);
	if (!option) {
		refuse_key(rule, entry, notices);
		return;
	}
	struct value_error error;
	if (option_parse(option, entry->value, options, &error) == 0)
		return;

	/* A quoted value may be written longer than it reads: then its start has to do. */
	uint32_t offset = error.offset < entry->value_length ? error.offset : 0;
	notice_add(notices, NOTICE_FATAL, "job", entry->value_byte + offset,
		   error.length ? error.length : entry->value_length,
		   "option '%s' of rule '%s': %s", option->name, rule->name, error.text);
}

static void fill_defaults(const struct cutlint_rule *rule, void *options)
{
	struct value_error error;
	for (size_t i = 0; i < option_count(rule); i++)
		option_parse(&rule->options[i], rule->options[i].fallback, options, &error);
}

/* Reads a section on top of what is set already. */
static void take_section(const struct job_section *section, struct setup_rule *rule, void *options,
			 bool *off, struct notices *notices)
{
	for (uint32_t i = 0; i < section->entry_count; i++) {
		const struct job_entry *entry = &section->entries[i];
		if (strcmp(entry->key, JOB_FILES_KEY) == 0 ||
		    strcmp(entry->key, JOB_REASON_KEY) == 0)
			continue;
		if (strcmp(entry->key, SEVERITY_KEY) != 0) {
			take_option(rule->module->rule, entry, options, notices);
			continue;
		}
		int word = severity_of(entry, notices);
		*off = word == SEVERITY_OFF;
		rule->severity_given = word >= 0 && !*off;
		rule->severity = (enum cutlint_severity)(rule->severity_given ? word : 0);
	}
}

static void refuse_rule(const struct registry *registry, const struct job_section *section,
			const char *name, struct notices *notices)
{
	struct notice *notice = notice_add(notices, NOTICE_FATAL, "job", section->byte,
					   section->length, "there is no rule '%s'", name);
	suggest_word(notices, notice, registry_nearest(registry, name));
}

/* Its keys and values are tried on options of nobody. */
static void check_stretch(struct arena *arena, const struct registry *registry,
			  const struct job_stretch *stretch, struct notices *notices)
{
	const struct job_section *section = stretch->section;
	struct setup_rule rule = {.module = registry_find(registry, stretch->rule)};
	if (!rule.module) {
		refuse_rule(registry, section, stretch->rule, notices);
		return;
	}
	void *options = arena_take(arena, 1, rule.module->rule->options_size + 1);
	bool off;
	if (options)
		take_section(section, &rule, options, &off, notices);
	else
		notice_add(notices, NOTICE_FATAL, "job", 0, 0, "out of memory");
}

static void check_section_names(struct arena *arena, const struct registry *registry,
				const struct job *job, struct notices *notices)
{
	for (uint32_t i = 0; i < job->section_count; i++) {
		const struct job_section *section = &job->sections[i];
		if (strcmp(section->kind, "rule") == 0 && section->name &&
		    !strpbrk(section->name, " \t") && !registry_find(registry, section->name))
			refuse_rule(registry, section, section->name, notices);
	}
	for (uint32_t i = 0; i < job->stretch_count; i++)
		check_stretch(arena, registry, &job->stretches[i], notices);
}

/* Without a length of its own, a rule may want any hole's exact figure. */
static double largest_length_mm(const struct setup_rule *in_force)
{
	const struct cutlint_rule *rule = in_force->module->rule;
	double largest_mm = -INFINITY;
	for (size_t i = 0; i < option_count(rule); i++) {
		if (rule->options[i].kind == CUTLINT_OPTION_LENGTH)
			largest_mm = fmax(largest_mm,
					  option_length_mm(&rule->options[i], in_force->options));
	}
	return largest_mm >= 0 ? largest_mm : INFINITY;
}

/* What the rules that are on ask of the geometry. */
static void take_limits(struct setup *setup, const struct setup_rule *in_force)
{
	const struct cutlint_rule *rule = in_force->module->rule;
	setup->needs |= rule->needs;
	for (size_t i = 0; i < option_count(rule); i++) {
		double length_mm = option_length_mm(&rule->options[i], in_force->options);
		if (length_mm > 0 && length_mm / 10 < setup->flatness_mm)
			setup->flatness_mm = length_mm / 10;
		if (rule->options[i].neck_limit && length_mm > setup->neck_limit_mm)
			setup->neck_limit_mm = length_mm;
	}
	if (rule->needs & CUTLINT_NEEDS_HOLES)
		setup->hole_limit_mm = fmax(setup->hole_limit_mm, largest_length_mm(in_force));
}

/* The stretches of files that speak of a rule; one that switches it off leaves it on, silenced. */
static void take_stretches(const struct setup *setup, struct setup_rule *rule, void *options,
			   bool *off, struct notices *notices)
{
	for (uint32_t i = 0; i < setup->stretch_count; i++) {
		const struct setup_stretch *stretch = &setup->stretches[i];
		if (strcmp(stretch->silence.rule, rule->module->rule->name) != 0)
			continue;
		bool before = *off;
		take_section(setup->job->stretches[stretch->number].section, rule, options, off,
			     notices);
		if (stretch->judges)
			rule->silence = stretch->off ? &stretch->silence : NULL;
		*off = stretch->off ? before : *off;
	}
}

static int add_rule(struct arena *arena, const struct module *module, struct notices *notices,
		    struct setup *setup)
{
	void *options = arena_take(arena, 1, module->rule->options_size + 1);
	if (!options)
		return -1;
	fill_defaults(module->rule, options);

	struct setup_rule rule = {.module = module, .options = options};
	const struct job_section *section = job_rule_section(setup->job, module->rule->name);
	bool off = false;
	if (section)
		take_section(section, &rule, options, &off, notices);
	take_stretches(setup, &rule, options, &off, notices);
	if (off)
		return 0;
	setup->rules[setup->rule_count++] = rule;
	take_limits(setup, &rule);
	return 0;
}

static void add_rules(struct arena *arena, const struct registry *registry, struct notices *notices,
		      struct setup *out)
{
	out->flatness_mm = out->job->facts.flatness_mm;
	out->rules = ARENA_ARRAY(arena, struct setup_rule, registry->count + 1);
	bool failed = !out->rules;
	for (uint32_t i = 0; i < registry->count && !failed; i++)
		failed = add_rule(arena, &registry->modules[i], notices, out) < 0;
	if (failed)
		notice_add(notices, NOTICE_FATAL, "job", 0, 0, "out of memory");
}

int configure(struct arena *arena, const struct registry *registry, const struct job *job,
	      struct notices *notices, struct setup *out)
{
	int before = notices->fatal_count;
	*out = (struct setup){.job = job, .registry = registry};
	check_required(registry, job, notices);
	check_section_names(arena, registry, job, notices);
	add_rules(arena, registry, notices, out);
	return notices->fatal_count > before ? -1 : 0;
}

static struct setup_stretch stretch_of(const struct job *job, uint32_t number)
{
	const struct job_stretch *stretch = &job->stretches[number];
	const struct job_entry *severity = job_find_entry(stretch->section, SEVERITY_KEY);
	struct setup_stretch out = {
		.number = number,
		.silence = {.rule = stretch->rule, .reason = stretch->reason},
		.off = severity && strcmp(severity->value, SEVERITY_WORDS[SEVERITY_OFF]) == 0,
		.judges = severity != NULL};
	struct cutlint_place place = {
		.span = {.byte = stretch->section->byte, .length = stretch->section->length}};
	place_set_job(&out.silence.place, job, &place, NULL);
	return out;
}

static void take_drawing(struct arena *arena, const char *drawing, struct notices *notices,
			 struct setup *out)
{
	const struct job *job = out->job;
	struct setup_stretch *stretches =
		ARENA_ARRAY(arena, struct setup_stretch, job->stretch_count);
	out->stretches = stretches;
	if (!stretches)
		notice_add(notices, NOTICE_FATAL, "job", 0, 0, "out of memory");
	for (uint32_t i = 0; stretches && i < job->stretch_count; i++) {
		bool takes = false;
		job_stretch_takes(job, &job->stretches[i], drawing, notices, &takes);
		if (takes)
			stretches[out->stretch_count++] = stretch_of(job, i);
	}
}

int configure_for(struct arena *arena, const struct setup *base, const char *drawing,
		  struct notices *notices, struct setup *out)
{
	int before = notices->fatal_count;
	*out = *base;
	if (!base->job->stretch_count || !base->registry)
		return 0;
	*out = (struct setup){.job = base->job, .registry = base->registry};
	take_drawing(arena, drawing, notices, out);
	if (notices->fatal_count == before)
		add_rules(arena, base->registry, notices, out);
	return notices->fatal_count > before ? -1 : 0;
}
