/* runner.c - the corpus runner itself: a case that is wrong fails, and says where. */
#include "scene.h"

/* A drawing with nothing to find, and these lines in its expect comment, from line 3 on. */
#define CASE(expected)                                                                             \
	"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"60mm\" height=\"30mm\" "                \
	"viewBox=\"0 0 60 30\">\n"                                                                 \
	"<!-- expect\n" expected "\n-->\n"                                                         \
	"<circle cx=\"30\" cy=\"15\" r=\"5\"/>\n"                                                  \
	"</svg>\n"

/* Runs the corpus of one rule's case, one demo, one silence and one beside the folders. */
static struct ran run_case(const struct scene *scene, const char *name, const char *text)
{
	char *path = scene_path(scene, "");
	scene_make_folder(scene, "rules");
	scene_make_folder(scene, "rules/some-rule");
	scene_make_folder(scene, "demo");
	scene_make_folder(scene, "silences");
	scene_write(scene, "demo/plain.svg", CASE("nothing"));
	scene_write(scene, "silences/plain.svg", CASE("nothing"));
	scene_make_folder(scene, "sheets");
	scene_write(scene, "sheets/plain.svg", CASE("nothing"));
	scene_write(scene, "plain.svg", CASE("nothing"));
	scene_write(scene, name, text);
	const char *arguments[] = {CORPUS_RUNNER, CUTLINT_COMMAND, path, NULL};
	struct ran ran = run(arguments, NULL);
	test_free(path);
	return ran;
}

static void assert_fails(const struct scene *scene, const char *name, const char *text,
			 const char *why)
{
	struct ran ran = run_case(scene, name, text);
	assert_int_equal(ran.status, 1);
	assert_has(ran.out, "not ok ");
	assert_has(ran.out, why);
	assert_has(ran.out, "# 1 of 5 cases failed");
	ran_finish(&ran);
}

static void a_case_that_is_right_passes(void **state)
{
	struct ran ran = run_case(*state, "rules/some-rule/ok-plain.svg", CASE("nothing"));
	assert_int_equal(ran.status, 0);
	assert_has(ran.out, "# 0 of 5 cases failed");
	ran_finish(&ran);
}

static void a_malformed_expect_line_is_said_with_file_and_line(void **state)
{
	assert_fails(*state, "rules/some-rule/bad-words.svg",
		     CASE("5:1 error bridge-width: thin\n\nno such line"),
		     "rules/some-rule/bad-words.svg:5: an expect line is not LINE:COLUMN");
}

static void an_expect_line_without_a_text_is_said_with_file_and_line(void **state)
{
	assert_fails(*state, "rules/some-rule/bad-text.svg", CASE("5:1 error bridge-width"),
		     "rules/some-rule/bad-text.svg:3: an expect line is not LINE:COLUMN");
}

static void an_empty_expect_comment_is_said_with_file_and_line(void **state)
{
	assert_fails(*state, "rules/some-rule/bad-empty.svg", CASE(""),
		     "rules/some-rule/bad-empty.svg:3: it must expect findings or");
}

static void a_missing_finding_fails(void **state)
{
	assert_fails(*state, "rules/some-rule/bad-missing.svg",
		     CASE("5:1 error bridge-width: thin"),
		     "missing:    5:1 error bridge-width: thin");
}

static void an_unexpected_finding_fails(void **state)
{
	const char *text = "<!-- expect\nnothing\n-->\n" BAD_DRAWING;
	assert_fails(*state, "rules/some-rule/ok-thin.svg", text, "unexpected: ");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SCENE(a_case_that_is_right_passes),
		SCENE(a_malformed_expect_line_is_said_with_file_and_line),
		SCENE(an_expect_line_without_a_text_is_said_with_file_and_line),
		SCENE(an_empty_expect_comment_is_said_with_file_and_line),
		SCENE(a_missing_finding_fails),
		SCENE(an_unexpected_finding_fails),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
