/* configure.c - a job's rule sections against the descriptors of the modules alpha and omega. */
#define _GNU_SOURCE /* mkstemp */
#include "engine/configure.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "fresh.h"

/* As in sound/alpha.c. */
struct alpha {
	double least_mm, turn_rad, share;
	unsigned count;
	bool strict;
};

struct configured {
	struct notices notices;
	struct job *job;
	struct setup setup;
	int result;
};

static struct configured configure_text(struct arena *arena, const char *text)
{
	struct configured out = {.notices = {.arena = arena}};
	struct registry registry = {.arena = arena};
	struct troubles troubles = {.arena = arena};
	registry_add_folder(&registry, SOUND_FOLDER, &troubles);
	assert_int_equal(registry.count, 2);

	char path[] = "/tmp/cutlint-test-XXXXXX";
	int file = mkstemp(path);
	assert_true(file >= 0);
	assert_int_equal(write(file, text, strlen(text)), strlen(text));
	close(file);
	int loaded = job_load(arena, path, &out.notices, &out.job);
	unlink(path);
	for (uint32_t i = 0; loaded < 0 && i < out.notices.count; i++)
		print_message("%s\n", out.notices.items[i].message);
	assert_int_equal(loaded, 0);
	out.result = configure(arena, &registry, out.job, &out.notices, &out.setup);
	return out;
}

static void finish(struct configured *configured)
{
	job_finish(configured->job);
}

static void without_sections_the_defaults_hold(void **state)
{
	struct configured out = configure_text(*state, "");
	assert_int_equal(out.result, 0);
	assert_int_equal(out.setup.rule_count, 2);
	const struct alpha *alpha = out.setup.rules[0].options;
	assert_true(alpha->least_mm == 0.4);
	assert_true(fabs(alpha->turn_rad - 2 * acos(-1) / 180) < 1e-15);
	assert_true(alpha->share == 0.2);
	assert_int_equal(alpha->count, 1);
	assert_false(alpha->strict);
	assert_false(out.setup.rules[0].severity_given);
	assert_int_equal(out.setup.needs, CUTLINT_NEEDS_NECKS | CUTLINT_NEEDS_CARDS);
	assert_true(out.setup.neck_limit_mm == 0.4);
	finish(&out);
}

static void the_job_sets_options_with_units(void **state)
{
	struct configured out = configure_text(*state, "[rule alpha]\n"
						       "least = 0.1 in\n"
						       "turn = 0.5 rad\n"
						       "share = 35 %\n"
						       "count = three\n"
						       "strict = yes\n");
	assert_int_equal(out.result, 0);
	const struct alpha *alpha = out.setup.rules[0].options;
	assert_true(fabs(alpha->least_mm - 2.54) < 1e-12);
	assert_true(alpha->turn_rad == 0.5);
	assert_true(fabs(alpha->share - 0.35) < 1e-12);
	assert_int_equal(alpha->count, 2);
	assert_true(alpha->strict);
	assert_true(fabs(out.setup.neck_limit_mm - 2.54) < 1e-12);
	finish(&out);
}

static void flatness_is_a_tenth_of_the_smallest_limit_in_force(void **state)
{
	struct configured coarse = configure_text(*state, "[drawing]\nflatness = 0.1 mm\n");
	assert_true(fabs(coarse.setup.flatness_mm - 0.04) < 1e-12);
	struct configured fine = configure_text(*state, "[drawing]\nflatness = 0.001 mm\n");
	assert_true(fabs(fine.setup.flatness_mm - 0.001) < 1e-12);
	struct configured off = configure_text(*state, "[drawing]\nflatness = 0.1 mm\n"
						       "[rule alpha]\nseverity = off\n");
	assert_true(fabs(off.setup.flatness_mm - 0.1) < 1e-12);
	finish(&coarse);
	finish(&fine);
	finish(&off);
}

static void severity_is_overridden_or_the_rule_is_off(void **state)
{
	struct configured out = configure_text(*state, "[rule alpha]\nseverity = note\n"
						       "[rule omega]\nseverity = off\n");
	assert_int_equal(out.result, 0);
	assert_int_equal(out.setup.rule_count, 1);
	assert_true(out.setup.rules[0].severity_given);
	assert_int_equal(out.setup.rules[0].severity, CUTLINT_NOTE);
	finish(&out);
}

/* One mistake in a job: where it stands, what is said, and the word that is offered. */
static void assert_mistake(void **state, const char *text, unsigned line, unsigned column,
			   const char *message, const char *suggestion)
{
	struct configured out = configure_text(*state, text);
	assert_int_equal(out.result, -1);
	assert_int_equal(out.notices.fatal_count, 1);
	const struct notice *notice = &out.notices.items[out.notices.count - 1];
	struct source_position position = source_position(&out.job->source, notice->byte);
	assert_int_equal(position.line, line);
	assert_int_equal(position.column, column);
	if (!strstr(notice->message, message))
		fail_msg("'%s' does not hold '%s'", notice->message, message);
	if (suggestion)
		assert_string_equal(notice->suggestion, suggestion);
	finish(&out);
}

static void mistakes_stand_at_their_place_with_the_nearest_word(void **state)
{
	assert_mistake(state, "[rule alhpa]\n", 1, 1, "no rule 'alhpa'", "did you mean 'alpha'?");
	assert_mistake(state, "[rule alpha]\nleats = 1 mm\n", 2, 1, "no option 'leats'",
		       "did you mean 'least'?");
	assert_mistake(state, "[rule alpha]\n  severty = note\n", 2, 3, "no option 'severty'",
		       "did you mean 'severity'?");
	assert_mistake(state, "[rule alpha]\nseverity = warnign\n", 2, 12, "'warnign'",
		       "did you mean 'warning'?");
	assert_mistake(state, "[rule alpha]\ncount = tow\n", 2, 9, "did you mean 'two'?", NULL);
	assert_mistake(state, "[rule alpha]\nleast = 9 mm\n", 2, 9, "0.01 mm to 5 mm", NULL);
	assert_mistake(state, "[rule alpha]\nleast = much\n", 2, 9,
		       "option 'least' of rule 'alpha'", NULL);
	assert_mistake(state, "[rule alpha]\nstrict = perhaps\n", 2, 10, "option 'strict'", NULL);
	assert_mistake(state, "[modules]\nrequire = omgea\n", 2, 11, "'omgea'",
		       "did you mean 'omega'?");
	assert_mistake(state, "[modules]\nrequire = quite-different\n", 2, 11, "is not there",
		       "install it, or name its folder with --rules");
}

static void a_required_module_that_is_there_is_fine(void **state)
{
	struct configured out =
		configure_text(*state, "[modules]\nrequire = omega\nrequire = alpha\n");
	assert_int_equal(out.result, 0);
	finish(&out);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(without_sections_the_defaults_hold),
		FRESH(the_job_sets_options_with_units),
		FRESH(flatness_is_a_tenth_of_the_smallest_limit_in_force),
		FRESH(severity_is_overridden_or_the_rule_is_off),
		FRESH(mistakes_stand_at_their_place_with_the_nearest_word),
		FRESH(a_required_module_that_is_there_is_fine),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
