/*
 * module.c - rules that are built outside the tree with one compiler command, and bad modules on
 * the real command line.
 */
#define _GNU_SOURCE /* strndup */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../corpus/scene.h"
#include "cutlint/rule.h"
#include "file.h"

/* The C listing of a page, in memory that free frees. */
static char *listing(const char *path)
{
	static const char OPENING[] = "```c\n", CLOSING[] = "```\n";
	char *page = file_read(path);
	assert_non_null(page);
	char *start = strstr(page, OPENING);
	assert_non_null(start);
	start += strlen(OPENING);
	char *end = strstr(start, CLOSING);
	assert_non_null(end);
	char *text = strndup(start, (size_t)(end - start));
	free(page);
	assert_non_null(text);
	return text;
}

/* cc -shared -fPIC -I include -o x.so x.c, run in the scene's folder. */
static void compile(const struct scene *scene, const char *from, const char *to)
{
	const char *const arguments[] = {"/usr/bin/env", COMPILER,  "-std=c11", "-Wall", "-Wextra",
					 "-Werror",      "-shared", "-fPIC",    "-I",    INCLUDE,
					 "-o",           to,        from,       NULL};
	const struct surroundings there = {.folder = scene->folder};
	struct ran ran = run(arguments, &there);
	if (ran.status)
		fail_msg("the compiler says: %s", ran.err);
	ran_finish(&ran);
}

static void compile_listing(const struct scene *scene)
{
	char *text = listing(DOCS "/writing-a-rule.md");
	scene_make_folder(scene, "rules");
	scene_write(scene, "page-margin.c", text);
	compile(scene, "page-margin.c", "rules/page-margin.so");
	free(text);
}

static void the_listing_of_the_docs_compiles_with_one_command_and_finds(void **state)
{
	const struct scene *scene = *state;
	compile_listing(scene);
	scene_write(scene, "good.svg", GOOD_DRAWING);
	struct ran ran = CUTLINT(scene, "check", "--rules", "rules", "good.svg");
	assert_int_equal(ran.status, 1);
	assert_string_equal(
		ran.out,
		"good.svg:2:1: warning: burn line 2.00 mm from the edge of the page is "
		"under 5.00 mm; limit margin = 5 mm: default (rect#outline) [page-margin]\n"
		"  suggestion: move it in by 3.00 mm, or take a larger sheet\n");
	ran_finish(&ran);
}

static void the_listing_of_the_readme_compiles_and_finds(void **state)
{
	const struct scene *scene = *state;
	char *text = listing(DOCS "/../README.md");
	scene_write(scene, "large-window.c", text);
	free(text);
	const char *const build[] = {
		"/usr/bin/env", COMPILER, "-shared",         "-fPIC",          "-I",
		INCLUDE,        "-o",     "large-window.so", "large-window.c", NULL};
	struct ran built = run(build, &(struct surroundings){.folder = scene->folder});
	assert_int_equal(built.status, 0);
	ran_finish(&built);

	scene_write(scene, "pane.svg",
		    "<svg xmlns='http://www.w3.org/2000/svg' width='200mm' height='200mm' "
		    "viewBox='0 0 200 200'>\n"
		    "<rect x='40' y='40' width='101' height='100'/>\n</svg>\n");
	struct ran ran = CUTLINT(scene, "check", "--rules", ".", "pane.svg");
	assert_int_equal(ran.status, 1);
	assert_has(ran.out, "pane.svg:2:1: warning: window of this size leaves the panel limp "
			    "(/svg/rect[1]) [large-window]");
	ran_finish(&ran);
}

static void its_options_come_from_the_job_and_are_explained(void **state)
{
	const struct scene *scene = *state;
	compile_listing(scene);
	scene_write(scene, "good.svg", GOOD_DRAWING);
	scene_write(scene, "cutlint.job",
		    "[modules]\nrequire = page-margin\n"
		    "[rule page-margin]\nmargin = 2 mm\n");
	struct ran ran = CUTLINT(scene, "check", "--rules", "rules", "good.svg");
	assert_int_equal(ran.status, 0);
	ran_finish(&ran);

	scene_write(scene, "cutlint.job", "[rule page-margin]\nmargin = 2 m\n");
	ran = CUTLINT(scene, "check", "--rules", "rules", "good.svg");
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "cutlint.job:2:");
	assert_has(ran.err, "option 'margin' of rule 'page-margin'");
	ran_finish(&ran);

	ran = CUTLINT(scene, "rules", "--rules", "rules", "page-margin");
	assert_int_equal(ran.status, 0);
	assert_has(ran.out, "margin = 5 mm");
	assert_has(ran.out, "0 mm to 100 mm");
	ran_finish(&ran);
}

/* A job can require a module but not say where it lies. */
static void without_its_folder_a_required_module_is_missing(void **state)
{
	const struct scene *scene = *state;
	compile_listing(scene);
	scene_write(scene, "good.svg", GOOD_DRAWING);
	scene_write(scene, "cutlint.job", "[modules]\nrequire = page-margin\n");
	struct ran ran = CUTLINT(scene, "check", "good.svg");
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "cutlint.job:2:11: error: the rule module 'page-margin' that the job "
			    "requires is not there");
	ran_finish(&ran);
}

static void a_name_that_is_taken_is_refused_and_the_others_run(void **state)
{
	const struct scene *scene = *state;
	compile_listing(scene);
	scene_make_folder(scene, "copy");
	compile(scene, "page-margin.c", "copy/page-margin.so");
	scene_write(scene, "good.svg", GOOD_DRAWING);
	struct ran ran = CUTLINT(scene, "check", "--rules", "rules", "--rules", "copy", "good.svg");
	assert_int_equal(ran.status, 2);
	assert_has(ran.out, "[page-margin]");
	assert_has(ran.err, "'copy/page-margin.so' is refused: the name 'page-margin' is taken "
			    "by 'rules/page-margin.so'");
	ran_finish(&ran);
}

static void a_folder_may_be_named_twice(void **state)
{
	const struct scene *scene = *state;
	compile_listing(scene);
	scene_write(scene, "good.svg", GOOD_DRAWING);
	struct ran ran =
		CUTLINT(scene, "check", "--rules", "rules", "--rules", "./rules", "good.svg");
	assert_int_equal(ran.status, 1);
	assert_has(ran.out, "[page-margin]");
	ran_finish(&ran);
}

static void refused_modules_are_named_and_the_others_run(void **state)
{
	const struct scene *scene = *state;
	scene_write(scene, "bad.svg", BAD_DRAWING);
	struct ran ran = CUTLINT(scene, "check", "--rules", REFUSED, "bad.svg");
	assert_int_equal(ran.status, 2);
	assert_has(ran.out, "[bridge-width]");
	char numbers[96];
	snprintf(numbers, sizeof(numbers),
		 "future-abi.so' is refused: it is built for rule ABI %u, this cutlint takes %u",
		 CUTLINT_RULE_ABI + 1, CUTLINT_RULE_ABI);
	assert_has(ran.err, numbers);
	assert_has(ran.err, "no-symbol.so' is refused: it has no symbol cutlint_rule");
	ran_finish(&ran);
}

static void unruly_modules_cost_their_own_findings_only(void **state)
{
	const struct scene *scene = *state;
	scene_write(scene, "bad.svg", BAD_DRAWING);
	struct ran ran =
		CUTLINT(scene, "check", "--rules", UNRULY, "--rule-timeout", "1", "bad.svg");
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "rule 'crashes' crashed with signal 11");
	assert_has(ran.err, "rule 'abandons' ended its process with exit status 0");
	assert_has(ran.err, "rule 'hangs' took longer than 1 s");
	assert_has(ran.err, "rule 'declines' could not look at 'bad.svg': no light today");
	assert_has(ran.out, "[bridge-width]");
	assert_has(ran.out, "[hole-size]");
	assert_has(ran.out, "zeal was here [zeal]");
	assert_lacks(ran.out, "forged");
	assert_lacks(ran.out, "[crashes]");
	ran_finish(&ran);
}

/* All that a module may include stands on its own. */
static void every_public_header_compiles_alone(void **state)
{
	static const char *const HEADERS[] = {"command", "export", "job",  "model",
					      "point",   "rule",   "sheet"};
	for (size_t i = 0; i < sizeof(HEADERS) / sizeof(HEADERS[0]); i++) {
		char text[80];
		snprintf(text, sizeof(text), "#include \"cutlint/%s.h\"\nextern int nothing;\n",
			 HEADERS[i]);
		scene_write(*state, "alone.c", text);
		compile(*state, "alone.c", "alone.so");
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SCENE(the_listing_of_the_docs_compiles_with_one_command_and_finds),
		SCENE(the_listing_of_the_readme_compiles_and_finds),
		SCENE(its_options_come_from_the_job_and_are_explained),
		SCENE(without_its_folder_a_required_module_is_missing),
		SCENE(a_name_that_is_taken_is_refused_and_the_others_run),
		SCENE(a_folder_may_be_named_twice),
		SCENE(refused_modules_are_named_and_the_others_run),
		SCENE(unruly_modules_cost_their_own_findings_only),
		SCENE(every_public_header_compiles_alone),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
