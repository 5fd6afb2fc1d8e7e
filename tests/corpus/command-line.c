/* command-line.c - options, streams and exit status of the real command. */
#include <jansson.h>
#include <math.h>
#include <string.h>

#include "scene.h"

static void no_findings_is_exit_0_and_silence_on_standard_output(void **state)
{
	scene_write(*state, "good.svg", GOOD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "good.svg");
	assert_string_equal(ran.out, "");
	assert_has(ran.err, "no findings in 1 file\n");
	assert_int_equal(ran.status, 0);
	ran_finish(&ran);
}

static void findings_are_exit_1_with_rule_figures_and_suggestion(void **state)
{
	scene_write(*state, "bad.svg", BAD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "bad.svg");
	assert_int_equal(ran.status, 1);
	assert_has(ran.out, "bad.svg:3:44: error: ");
	assert_has(ran.out, "0.15 mm");
	assert_has(ran.out, "(/svg/g[1]/circle[2]) [bridge-width]\n  suggestion: ");
	assert_has(ran.out, "bad.svg:4:1: warning: ");
	assert_has(ran.out, "0.30 mm");
	assert_has(ran.out, "[hole-size]\n");
	assert_has(ran.err, "1 error, 1 warning in 1 file\n");
	ran_finish(&ran);
}

static int status_at(const struct scene *scene, const char *option, const char *file)
{
	struct ran ran = CUTLINT(scene, "check", option, file);
	int status = ran.status;
	ran_finish(&ran);
	return status;
}

static void fail_on_sets_the_level(void **state)
{
	const struct scene *scene = *state;
	scene_write(scene, "bad.svg", BAD_DRAWING);
	scene_write(scene, "cutlint.job", "[rule bridge-width]\nseverity = off\n");
	assert_int_equal(status_at(scene, "--fail-on=note", "bad.svg"), 1);
	assert_int_equal(status_at(scene, "--fail-on=warning", "bad.svg"), 1);
	assert_int_equal(status_at(scene, "--fail-on=error", "bad.svg"), 0);
	assert_int_equal(status_at(scene, "--fail-on=never", "bad.svg"), 0);
	assert_int_equal(status_at(scene, "--fail-on=never", "gone.svg"), 2);
	scene_write(scene, "cutlint.job",
		    "[rule bridge-width]\nseverity = note\n"
		    "[rule hole-size]\nseverity = note\n");
	assert_int_equal(status_at(scene, "--fail-on=warning", "bad.svg"), 0);
	assert_int_equal(status_at(scene, "--fail-on=note", "bad.svg"), 1);
}

static void silenced_findings_are_counted_and_do_not_fail_a_check(void **state)
{
	scene_write(*state, "kept.svg",
		    "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:c=\"urn:cutlint:drawing\" "
		    "width=\"60mm\" height=\"30mm\" viewBox=\"0 0 60 30\">\n"
		    "<rect id=\"outline\" x=\"2\" y=\"2\" width=\"56\" height=\"26\"/>\n"
		    "<g id=\"art\" c:silence=\"bridge-width: a tear line; hole-size: a prick\">"
		    "<circle cx=\"20\" cy=\"15\" r=\"5\"/><circle cx=\"30.3\" cy=\"15\" r=\"5\"/>"
		    "<circle cx=\"45\" cy=\"15\" r=\"0.15\"/></g>\n"
		    "</svg>\n");
	scene_write(*state, "bad.svg", BAD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "--fail-on=note", "kept.svg");
	assert_int_equal(ran.status, 0);
	assert_string_equal(ran.out, "");
	assert_has(ran.err, "no findings in 1 file; 2 silenced\n");
	ran_finish(&ran);
	ran = CUTLINT(*state, "check", "kept.svg", "bad.svg");
	assert_int_equal(ran.status, 1);
	assert_has(ran.err, "1 error, 1 warning in 2 files; 2 silenced\n");
	ran_finish(&ran);
}

static void without_a_job_file_the_built_in_one_is_named_once(void **state)
{
	scene_write(*state, "a.svg", GOOD_DRAWING);
	scene_write(*state, "b.svg", GOOD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "a.svg", "b.svg");
	const char *said = strstr(ran.err, "no cutlint.job found");
	assert_non_null(said);
	assert_has(said, "0.34 mm");
	assert_has(said, "kerf of 0.15 mm");
	assert_null(strstr(said + 1, "no cutlint.job found"));
	ran_finish(&ran);
	ran = CUTLINT(*state, "check", "--quiet", "a.svg");
	assert_string_equal(ran.err, "");
	ran_finish(&ran);
}

static void a_dash_reads_standard_input(void **state)
{
	const struct surroundings given = {.input = BAD_DRAWING};
	const char *const plain[] = {"check", "-", NULL};
	struct ran ran = scene_cutlint_in(*state, &given, plain);
	assert_int_equal(ran.status, 1);
	assert_has(ran.out, "<stdin>:4:1: warning: ");
	ran_finish(&ran);

	/* Its shown name also finds the job. */
	scene_write(*state, "cutlint.job", "[rule hole-size]\nseverity = off\n");
	const char *const named[] = {"check", "--stdin-name", "draft.svg", "-", NULL};
	ran = scene_cutlint_in(*state, &given, named);
	assert_has(ran.out, "draft.svg:3:44: error: ");
	assert_lacks(ran.out, "hole-size");
	ran_finish(&ran);
}

static void two_dashes_end_the_options(void **state)
{
	scene_write(*state, "--quiet", GOOD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "--", "--quiet");
	assert_int_equal(ran.status, 0);
	assert_has(ran.err, "no findings in 1 file");
	ran_finish(&ran);
}

static void wrong_usage_is_exit_2_with_the_nearest_word(void **state)
{
	REFUSES(*state, "no command given", NULL);
	REFUSES(*state, "there is no command 'chekc'; did you mean 'check'?", "chekc", "a.svg");
	REFUSES(*state, "no drawing given", "check");
	REFUSES(*state, "did you mean '--fail-on'?", "check", "--fale-on", "error", "a.svg");
	REFUSES(*state, "does not take 'eror'; did you mean 'error'?", "check", "--fail-on=eror",
		"a.svg");
	REFUSES(*state,
		"option '--format' does not take 'sarrif'; did you mean 'sarif'? It takes one of "
		"text, sarif",
		"check", "--format=sarrif", "a.svg");
	REFUSES(*state, "option '--format' does not take 'html'; it takes one of text, sarif",
		"check", "--format", "html", "a.svg");
	REFUSES(*state, "option '--format' does not take 'sarif'; it takes one of text, json",
		"measure", "--format", "sarif", "a.svg");
	REFUSES(*state, "there is no option '-x'", "check", "-x", "a.svg");
	REFUSES(*state, "'--job' needs a value", "check", "--job");
	REFUSES(*state, "'--quiet' takes no value", "check", "--quiet=1", "a.svg");
	REFUSES(*state, "takes seconds", "check", "--rule-timeout=soon", "a.svg");
	REFUSES(*state, "there is no rule 'hole-szie'; did you mean 'hole-size'?", "rules",
		"hole-szie");
	REFUSES(*state, "did you mean '--version'?", "--versoin");
	REFUSES(*state, "there is no limit 'dept'; did you mean 'depth'?", "check", "--limit",
		"dept=5", "a.svg");
	REFUSES(*state, "limit 'depth' takes a whole number from 1 to 3000, not '0'", "check",
		"--limit=depth=0", "a.svg");
	REFUSES(*state, "limit 'depth' takes a whole number from 1 to 3000, not '5.5'", "measure",
		"--limit=depth=5.5", "a.svg");
	REFUSES(*state, "option '--limit' takes NAME=VALUE, not 'depth'", "check", "--limit",
		"depth", "a.svg");
	REFUSES(*state, "no drawing given", "measure");
	REFUSES(*state, "did you mean 'json'?", "measure", "--format=jsno", "a.svg");
	REFUSES(*state, "did you mean 'measure'?", "help", "mesure");
	REFUSES(*state, "cannot read the rule folder 'no-such'", "check", "--quiet", "--rules",
		"no-such", "no-such.svg");
}

static void help_and_version_are_exit_0(void **state)
{
	static const char *const PAGES[][2] = {{"check", "--fail-on"},
					       {"rules", "--rules"},
					       {"measure", "--format"},
					       {"help", "COMMAND"}};
	PRINTS(*state, "cutlint ", "--version");
	for (size_t i = 0; i < sizeof(PAGES) / sizeof(PAGES[0]); i++)
		PRINTS(*state, PAGES[i][1], "help", PAGES[i][0]);
	PRINTS(*state, "usage: cutlint check", "check", "--help");
}

static void output_that_cannot_be_written_is_exit_2(void **state)
{
	scene_write(*state, "bad.svg", BAD_DRAWING);
	const char *const arguments[] = {"check", "bad.svg", NULL};
	const struct surroundings full = {.out_file = "/dev/full"}, closed = {.closed = 1};
	struct ran ran = scene_cutlint_in(*state, &full, arguments);
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "cannot write standard output: No space left");
	ran_finish(&ran);
	ran = scene_cutlint_in(*state, &closed, arguments);
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "cannot write standard output");
	ran_finish(&ran);
}

static void findings_can_go_to_a_file_but_never_over_an_input(void **state)
{
	scene_write(*state, "bad.svg", BAD_DRAWING);
	struct ran straight = CUTLINT(*state, "check", "bad.svg");
	struct ran ran = CUTLINT(*state, "check", "--output", "found.txt", "bad.svg");
	assert_int_equal(ran.status, 1);
	assert_string_equal(ran.out, "");
	ran_finish(&ran);

	char *found = scene_path(*state, "found.txt");
	ran = run((const char *const[]){"/bin/cat", found, NULL}, NULL);
	assert_string_equal(ran.out, straight.out);
	ran_finish(&ran);
	ran_finish(&straight);
	test_free(found);

	scene_write(*state, "cutlint.job", "[burn]\nkerf = 0.15 mm\n");
	REFUSES(*state, "cannot write 'cutlint.job': it is to be read", "check", "--output",
		"cutlint.job", "bad.svg");
	ran = CUTLINT(*state, "measure", "bad.svg");
	assert_int_equal(ran.status, 0);
	ran_finish(&ran);

	REFUSES(*state, "it is to be read", "check", "--output", "./bad.svg", "bad.svg");
	ran = CUTLINT(*state, "check", "bad.svg");
	assert_int_equal(ran.status, 1);
	ran_finish(&ran);
}

static void colours_come_on_demand_and_no_color_wins_over_force(void **state)
{
	scene_write(*state, "bad.svg", BAD_DRAWING);
	const char *const automatic[] = {"check", "bad.svg", NULL};
	const char *const always[] = {"check", "--color=always", "bad.svg", NULL};
	static const char *const FORCE[] = {"CLICOLOR_FORCE=1", "NO_COLOR=", NULL};
	static const char *const BOTH[] = {"CLICOLOR_FORCE=1", "NO_COLOR=1", NULL};
	const struct surroundings plain = {0}, force = {.environment = FORCE},
				  both = {.environment = BOTH};
	struct ran ran = scene_cutlint_in(*state, &plain, automatic);
	assert_lacks(ran.out, "\x1b");
	ran_finish(&ran);
	ran = scene_cutlint_in(*state, &force, automatic);
	assert_has(ran.out, "\x1b[");
	ran_finish(&ran);
	ran = scene_cutlint_in(*state, &both, automatic);
	assert_lacks(ran.out, "\x1b");
	ran_finish(&ran);
	ran = scene_cutlint_in(*state, &both, always);
	assert_has(ran.out, "\x1b[");
	ran_finish(&ran);
}

static void a_hostile_file_name_forges_nothing(void **state)
{
	scene_write(*state, "a\nb\x1b[2J.svg", BAD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "a\nb\x1b[2J.svg");
	assert_int_equal(ran.status, 1);
	assert_has(ran.out, "a\\x0ab\\x1b[2J.svg:4:1: warning: ");
	assert_lacks(ran.out, "\x1b");
	assert_lacks(ran.err, "\x1b");
	ran_finish(&ran);
}

static void five_runs_give_the_same_bytes(void **state)
{
	scene_write(*state, "b.svg", BAD_DRAWING);
	scene_write(*state, "a.svg", BAD_DRAWING);
	struct ran first = CUTLINT(*state, "check", "b.svg", "a.svg");
	assert_true(first.out_length > 0);
	for (int i = 0; i < 4; i++) {
		struct ran again = CUTLINT(*state, "check", "b.svg", "a.svg");
		assert_string_equal(again.out, first.out);
		assert_string_equal(again.err, first.err);
		ran_finish(&again);
	}
	struct ran here = CUTLINT(*state, "check", "--no-isolation", "b.svg", "a.svg");
	assert_string_equal(here.out, first.out);
	ran_finish(&here);
	ran_finish(&first);
}

static void every_rule_is_listed_and_explained(void **state)
{
	static const char *const RULES[] = {"bridge-width",   "closed-path", "duplicate-outline",
					    "fold-clearance", "hole-size",   "inset-fit",
					    "mirrored-art"};
	struct ran list = CUTLINT(*state, "rules");
	assert_int_equal(list.status, 0);
	for (size_t i = 0; i < sizeof(RULES) / sizeof(RULES[0]); i++) {
		struct ran one = CUTLINT(*state, "rules", RULES[i]);
		assert_int_equal(one.status, 0);
		assert_has(list.out, RULES[i]);
		assert_has(one.out, RULES[i]);
		assert_has(one.out, "severity = ");
		ran_finish(&one);
	}
	ran_finish(&list);
}

/* A circle of radius 5 mm: length 10 pi, area 25 pi; flattening is within 0.005 mm. */
static void measure_gives_figures_as_text_and_json(void **state)
{
	scene_write(*state, "good.svg", GOOD_DRAWING);
	struct ran ran = CUTLINT(*state, "measure", "good.svg");
	assert_int_equal(ran.status, 0);
	assert_has(ran.out,
		   "good.svg:2:1: outline closed, 164.000 mm, 1456.000 mm2, box 2.000 2.000 "
		   "to 58.000 28.000 mm (rect#outline)\n");
	assert_has(ran.out, "art          2 outlines,     2 closed");
	ran_finish(&ran);

	ran = CUTLINT(*state, "measure", "--format=json", "good.svg");
	assert_int_equal(ran.status, 0);
	json_error_t error;
	json_t *root = json_loads(ran.out, 0, &error);
	assert_non_null(root);
	json_t *circle = json_array_get(json_object_get(root, "outlines"), 1);
	double length = json_number_value(json_object_get(circle, "length_mm"));
	double area = json_number_value(json_object_get(circle, "area_mm2"));
	double pi = acos(-1);
	/* 2 pi r of the true circle; the area is that of its chords. */
	assert_true(fabs(length - 10 * pi) < 1e-6);
	assert_true(fabs(area - 25 * pi) < 10 * pi * 0.005 && area < 25 * pi);
	assert_true(json_is_null(json_object_get(circle, "id")));
	json_decref(root);
	ran_finish(&ran);
}

static void a_folder_without_rules_is_said(void **state)
{
	scene_write(*state, "a.svg", GOOD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "--rules", ".", "a.svg");
	assert_int_equal(ran.status, 0);
	assert_has(ran.err, "there is no rule module (*.so) in '.'");
	ran_finish(&ran);
}

/* The log is whole whatever happens, and the exit status is that of the text. */
static void a_log_tells_what_could_not_be_checked(void **state)
{
	scene_write(*state, "a.svg", BAD_DRAWING);
	scene_write(*state, "b.svg", "<svg><path d=\"M0");
	struct ran ran = CUTLINT(*state, "check", "--format", "sarif", "--fail-on=never", "a.svg",
				 "b.svg", "no.svg");
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "cannot read 'no.svg'");
	json_error_t error;
	json_t *log = json_loads(ran.out, 0, &error), *artifacts, *notifications, *results;
	int successful, code;
	assert_non_null(log);
	assert_int_equal(json_unpack(log, "{s:[{s:[{s:b, s:i, s:o}], s:o, s:o}]}", "runs",
				     "invocations", "executionSuccessful", &successful, "exitCode",
				     &code, "toolExecutionNotifications", &notifications,
				     "artifacts", &artifacts, "results", &results),
			 0);
	assert_false(successful);
	assert_int_equal(code, 2);
	assert_int_equal(json_array_size(artifacts), 3);
	assert_int_equal(json_array_size(notifications), 1);
	assert_int_equal(json_array_size(results), 4);
	json_decref(log);
	ran_finish(&ran);
}

static void a_log_goes_to_the_output_and_gives_the_same_status(void **state)
{
	scene_write(*state, "a.svg", BAD_DRAWING);
	scene_write(*state, "b.svg", GOOD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "--format=sarif", "--output=x.sarif", "a.svg");
	assert_int_equal(ran.status, 1);
	assert_string_equal(ran.out, "");
	assert_has(ran.err, "1 error, 1 warning in 1 file");
	ran_finish(&ran);
	ran = CUTLINT(*state, "check", "--format=sarif", "b.svg");
	assert_int_equal(ran.status, 0);
	assert_has(ran.out, "\"results\": [\n\n]");
	ran_finish(&ran);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SCENE(a_folder_without_rules_is_said),
		SCENE(a_log_tells_what_could_not_be_checked),
		SCENE(a_log_goes_to_the_output_and_gives_the_same_status),
		SCENE(no_findings_is_exit_0_and_silence_on_standard_output),
		SCENE(findings_are_exit_1_with_rule_figures_and_suggestion),
		SCENE(fail_on_sets_the_level),
		SCENE(silenced_findings_are_counted_and_do_not_fail_a_check),
		SCENE(without_a_job_file_the_built_in_one_is_named_once),
		SCENE(a_dash_reads_standard_input),
		SCENE(two_dashes_end_the_options),
		SCENE(wrong_usage_is_exit_2_with_the_nearest_word),
		SCENE(help_and_version_are_exit_0),
		SCENE(output_that_cannot_be_written_is_exit_2),
		SCENE(findings_can_go_to_a_file_but_never_over_an_input),
		SCENE(colours_come_on_demand_and_no_color_wins_over_force),
		SCENE(a_hostile_file_name_forges_nothing),
		SCENE(five_runs_give_the_same_bytes),
		SCENE(every_rule_is_listed_and_explained),
		SCENE(measure_gives_figures_as_text_and_json),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
