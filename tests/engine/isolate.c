/* isolate.c - rules that report, and rules that misbehave. */
#define _GNU_SOURCE /* usleep */
#include "engine/isolate.h"

#include <math.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "fresh.h"

#include "drawing.h"

/* Long enough for a rule that ends, however slow the machine; short enough to wait for one that
 * does not. */
#define SHORT_LIMIT_S 2.0

struct tried {
	struct registry registry;
	struct troubles troubles;
	struct findings findings;
	struct drawing drawing;
	struct job job;
	struct setup setup;
	struct cutlint_sheet sheet;
};

/* Runs all rules of a folder, or only one of them. */
static void try_rules(struct tried *tried, struct arena *arena, const char *folder,
		      const char *only, bool isolated)
{
	static const uint64_t NO_OPTIONS[16];
	*tried = (struct tried){
		.registry.arena = arena, .troubles.arena = arena, .findings.arena = arena};
	drawing_init(&tried->drawing, arena);
	registry_add_folder(&tried->registry, folder, &tried->troubles);
	assert_int_equal(tried->troubles.count, 0);
	tried->setup = (struct setup){.job = &tried->job,
				      .rules = ARENA_ARRAY(arena, struct setup_rule, 16)};
	for (uint32_t i = 0; i < tried->registry.count; i++) {
		const struct module *module = &tried->registry.modules[i];
		if (!only || strcmp(only, module->rule->name) == 0)
			tried->setup.rules[tried->setup.rule_count++] =
				(struct setup_rule){.module = module, .options = NO_OPTIONS};
	}
	assert_true(tried->setup.rule_count > 0);
	struct rules_run run = {.setup = &tried->setup,
				.arena = arena,
				.design = &tried->drawing.design,
				.sheet = &tried->sheet,
				.findings = &tried->findings,
				.troubles = &tried->troubles,
				.limit_s = SHORT_LIMIT_S};
	if (isolated)
		isolate_run(&run);
	else
		isolate_run_here(&run);
}

static void assert_alpha(const struct finding *finding)
{
	assert_string_equal(finding->rule, "alpha");
	assert_int_equal(finding->severity, CUTLINT_WARNING);
	assert_string_equal(finding->message, "finding 0 of 0.00 mm");
	assert_string_equal(finding->suggestion, "make it larger than 0.00 mm");
	assert_string_equal(finding->place.file, "tri.svg");
	assert_int_equal(finding->place.line, PATH_LINE);
	assert_int_equal(finding->place.column, SECOND_COMMAND_COLUMN);
	assert_string_equal(finding->place.element, "path#tri");
	assert_true(finding->place.on_sheet && finding->place.at.x == 10);
	assert_int_equal(finding->related_count, 1);
	assert_string_equal(finding->related[0].text, "the whole of it");
	assert_string_equal(finding->related[0].file, "tri.svg");
	assert_int_equal(finding->related[0].line, 1);
	assert_null(finding->related[0].element);
	assert_int_equal(finding->measure_count, 2);
	assert_string_equal(finding->measures[0].what, "length");
	assert_string_equal(finding->measures[0].unit, "mm");
	assert_true(finding->measures[0].value == 0.25);
	assert_true(isnan(finding->measures[1].limit));
}

static void findings_come_whole_from_their_process(void **state)
{
	struct tried tried;
	try_rules(&tried, *state, SOUND_FOLDER, NULL, true);
	assert_int_equal(tried.troubles.count, 0);
	assert_int_equal(tried.findings.count, 2);
	assert_alpha(&tried.findings.items[0]);
	assert_string_equal(tried.findings.items[1].message, "omega was here");
}

static void without_isolation_they_are_the_same(void **state)
{
	struct tried tried;
	try_rules(&tried, *state, SOUND_FOLDER, NULL, false);
	assert_int_equal(tried.troubles.count, 0);
	assert_int_equal(tried.findings.count, 2);
	assert_alpha(&tried.findings.items[0]);
}

static void the_job_overrides_the_severity(void **state)
{
	struct tried tried;
	try_rules(&tried, *state, SOUND_FOLDER, "omega", true);
	assert_int_equal(tried.findings.items[0].severity, CUTLINT_NOTE);
	tried.setup.rules[0].severity_given = true;
	tried.setup.rules[0].severity = CUTLINT_ERROR;
	struct rules_run run = {.setup = &tried.setup,
				.arena = *state,
				.design = &tried.drawing.design,
				.sheet = &tried.sheet,
				.findings = &tried.findings,
				.troubles = &tried.troubles,
				.limit_s = SHORT_LIMIT_S};
	isolate_run(&run);
	assert_int_equal(tried.findings.items[1].severity, CUTLINT_ERROR);
}

/* One rule that fails: what is said, and how many of its findings are left. */
static void assert_failure(void **state, const char *rule, const char *said, uint32_t kept)
{
	struct tried tried;
	try_rules(&tried, *state, UNRULY_FOLDER, rule, true);
	assert_int_equal(tried.troubles.count, 1);
	const char *message = tried.troubles.items[0].message;
	char name[40];
	snprintf(name, sizeof(name), "rule '%s'", rule);
	if (!strstr(message, name) || !strstr(message, said))
		fail_msg("'%s' does not hold \"%s\" and \"%s\"", message, name, said);
	assert_int_equal(tried.findings.count, kept);
}

static void a_crash_is_named_with_its_signal(void **state)
{
	assert_failure(state, "crashes", "signal 11", 0);
}

static void a_rule_that_ends_the_process_is_named(void **state)
{
	assert_failure(state, "abandons", "exit status 0", 0);
}

static void a_rule_that_hangs_is_ended(void **state)
{
	assert_failure(state, "hangs", "took longer than 2 s", 0);
}

static void a_rule_that_reports_without_end_is_ended(void **state)
{
	assert_failure(state, "floods", "took longer than 2 s", 0);
}

static void a_rule_that_reports_too_much_keeps_100000_findings(void **state)
{
	assert_failure(state, "gushes", "it reports without end", 100000);
}

static void a_rule_may_report_as_much_as_the_drawing_has_vertices(void **state)
{
	struct tried tried;
	try_rules(&tried, *state, UNRULY_FOLDER, "gushes", true);
	tried.drawing.design.vertex_count = 100001;
	tried.findings.count = tried.troubles.count = 0;
	struct rules_run run = {.setup = &tried.setup,
				.arena = *state,
				.design = &tried.drawing.design,
				.sheet = &tried.sheet,
				.findings = &tried.findings,
				.troubles = &tried.troubles};
	isolate_run(&run);
	assert_int_equal(tried.troubles.count, 0);
	assert_int_equal(tried.findings.count, 100001);
}

static void a_rule_that_could_not_look_says_why_and_keeps_its_findings(void **state)
{
	assert_failure(state, "declines", "could not look at 'tri.svg': no light today", 1);
	assert_failure(state, "declines-mutely", "it gives no reason", 1);
}

static void a_rule_that_writes_into_every_file_harms_only_itself(void **state)
{
	assert_failure(state, "scribbles", "wrote into the pipe", 0);
}

static void a_rule_can_neither_print_nor_wait_for_input(void **state)
{
	struct tried tried;
	int ends[2], before = dup(STDOUT_FILENO);
	assert_int_equal(pipe(ends), 0);
	fflush(stdout);
	dup2(ends[1], STDOUT_FILENO);
	try_rules(&tried, *state, UNRULY_FOLDER, "babbles", true);
	fflush(stdout);
	dup2(before, STDOUT_FILENO);
	close(before);
	close(ends[1]);
	char printed[16];
	assert_int_equal(read(ends[0], printed, sizeof(printed)), 0);
	close(ends[0]);
	assert_int_equal(tried.troubles.count, 0);
	assert_int_equal(tried.findings.count, 1);

	try_rules(&tried, *state, UNRULY_FOLDER, "reads", true);
	assert_int_equal(tried.troubles.count, 0);
	assert_int_equal(tried.findings.count, 1);
}

/* The rules' process holds the pipe's other end: the pipe ends when it does. */
static void a_rule_that_hangs_does_not_outlive_the_command(void **state)
{
	int ends[2];
	assert_int_equal(pipe(ends), 0);
	pid_t command = fork();
	if (command == 0) {
		struct tried tried;
		close(ends[0]);
		try_rules(&tried, *state, UNRULY_FOLDER, "hangs", true);
		_exit(0);
	}
	close(ends[1]);
	usleep(300000);
	kill(command, SIGKILL);
	waitpid(command, NULL, 0);

	struct pollfd waited = {.fd = ends[0], .events = POLLIN};
	assert_int_equal(poll(&waited, 1, 30000), 1);
	close(ends[0]);
}

static void whatever_one_rule_does_the_others_are_heard(void **state)
{
	struct tried tried;
	try_rules(&tried, *state, UNRULY_FOLDER, NULL, true);
	static const char *const HEARD[] = {"babbles", "declines", "declines-mutely",
					    "gushes",  "reads",    "zeal"};
	uint32_t heard = 0;
	for (uint32_t i = 0; i < tried.findings.count; i++) {
		const char *rule = tried.findings.items[i].rule;
		if (i > 0 && strcmp(rule, tried.findings.items[i - 1].rule) == 0)
			continue;
		assert_true(heard < 6);
		assert_string_equal(rule, HEARD[heard++]);
	}
	assert_int_equal(heard, 6);
	assert_int_equal(tried.troubles.count, 8);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(findings_come_whole_from_their_process),
		FRESH(without_isolation_they_are_the_same),
		FRESH(the_job_overrides_the_severity),
		FRESH(a_crash_is_named_with_its_signal),
		FRESH(a_rule_that_ends_the_process_is_named),
		FRESH(a_rule_that_hangs_is_ended),
		FRESH(a_rule_that_reports_without_end_is_ended),
		FRESH(a_rule_that_reports_too_much_keeps_100000_findings),
		FRESH(a_rule_may_report_as_much_as_the_drawing_has_vertices),
		FRESH(a_rule_that_could_not_look_says_why_and_keeps_its_findings),
		FRESH(a_rule_that_writes_into_every_file_harms_only_itself),
		FRESH(a_rule_can_neither_print_nor_wait_for_input),
		FRESH(a_rule_that_hangs_does_not_outlive_the_command),
		FRESH(whatever_one_rule_does_the_others_are_heard),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
