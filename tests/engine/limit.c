/* limit.c - a message says where its limit comes from. */
#include <string.h>

#include "engine/rule_check.h"

#include "fresh.h"

#include "drawing.h"

static const char JOB_TEXT[] = "[burn]\nkerf = 0.2 mm\n[rule alpha]\nleast = 0.3 mm\n";

struct options {
	double least_mm;
};

static const struct cutlint_option OPTIONS[] = {
	{.name = "least", .kind = CUTLINT_OPTION_LENGTH, .fallback = "0.4 mm"},
	{.name = "most", .kind = CUTLINT_OPTION_LENGTH, .fallback = "9 mm"},
	{.name = NULL},
};

static const struct job_entry KERF = {.key = "kerf", .value = "0.2 mm", .key_byte = 7};
static const struct job_entry LEAST = {.key = "least", .value = "0.3 mm", .key_byte = 34};
static const struct job_section SECTIONS[] = {
	{.kind = "burn", .entries = &KERF, .entry_count = 1},
	{.kind = "rule", .name = "alpha", .entries = &LEAST, .entry_count = 1},
};

/* A rule at work on a drawing, with a job made by hand. */
struct scene {
	struct drawing drawing;
	struct job job;
	struct cutlint_check check;
};

static enum cutlint_outcome look(struct cutlint_check *check, const void *options)
{
	struct cutlint_place place = cutlint_place_design(cutlint_check_design(check));
	(void)options;
	cutlint_limit(cutlint_report(check, CUTLINT_ERROR, place, "1 is under 2"), "least");
	cutlint_limit(cutlint_report(check, CUTLINT_ERROR, place, "3 is over 4"), "most");
	cutlint_limit_job(cutlint_report(check, CUTLINT_ERROR, place, "5 is under 6"), "burn", NULL,
			  "kerf");
	cutlint_limit_job(cutlint_report(check, CUTLINT_ERROR, place, "7 is over 8"), "drawing",
			  NULL, "join");
	return CUTLINT_LOOKED;
}

static enum cutlint_outcome look_wrongly(struct cutlint_check *check, const void *options)
{
	struct cutlint_place place = cutlint_place_design(cutlint_check_design(check));
	(void)options;
	cutlint_limit(cutlint_report(check, CUTLINT_ERROR, place, "1 is under 2"), "least-of-all");
	return CUTLINT_LOOKED;
}

static void run(struct scene *scene, struct arena *arena, bool named,
		enum cutlint_outcome (*check)(struct cutlint_check *, const void *))
{
	const struct cutlint_rule rule = {.name = "alpha",
					  .options = OPTIONS,
					  .options_size = sizeof(struct options),
					  .check = check};
	const struct module module = {.rule = &rule};
	const struct setup_rule setup = {.module = &module};
	drawing_init(&scene->drawing, arena);
	scene->job = (struct job){.sections = SECTIONS, .section_count = 2};
	scene->job.facts.file = named ? "card.job" : NULL;
	source_index(&scene->job.source, arena, "card.job", JOB_TEXT, sizeof(JOB_TEXT) - 1);
	scene->check = (struct cutlint_check){
		.arena = arena, .design = &scene->drawing.design, .job = &scene->job};
	rule_check_run(&scene->check, &setup);
}

static void assert_message(const struct scene *scene, int number, const char *wanted)
{
	const struct cutlint_finding *finding = scene->check.first;
	for (int i = 0; i < number; i++)
		finding = finding->next;
	assert_string_equal(finding->found.message, wanted);
}

static void a_limit_from_the_job_has_its_line(void **state)
{
	struct scene scene;
	run(&scene, *state, true, look);
	assert_message(&scene, 0, "1 is under 2; limit least = 0.3 mm: card.job:4");
	assert_message(&scene, 2, "5 is under 6; limit kerf = 0.2 mm: card.job:2");
}

static void a_limit_that_the_job_does_not_name_is_a_default(void **state)
{
	struct scene scene;
	run(&scene, *state, true, look);
	assert_message(&scene, 1, "3 is over 4; limit most = 9 mm: default");
	assert_message(&scene, 3, "7 is over 8; limit join: default");
}

static void all_of_the_built_in_job_is_default(void **state)
{
	struct scene scene;
	run(&scene, *state, false, look);
	assert_message(&scene, 2, "5 is under 6; limit kerf = 0.2 mm: default");
}

static void a_rule_that_names_no_option_of_its_own_is_unsound(void **state)
{
	struct scene scene;
	run(&scene, *state, true, look_wrongly);
	assert_string_equal(scene.check.reason,
			    "it takes a limit from an option that it does not have");
	assert_message(&scene, 0, "1 is under 2");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(a_limit_from_the_job_has_its_line),
		FRESH(a_limit_that_the_job_does_not_name_is_a_default),
		FRESH(all_of_the_built_in_job_is_default),
		FRESH(a_rule_that_names_no_option_of_its_own_is_unsound),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
