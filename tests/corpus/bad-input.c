/* bad-input.c - whatever the input is: a clear word, the right exit status, never a crash. */
#define _GNU_SOURCE /* mkfifo, chmod */
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "scene.h"

/* Checks one file: exit 2, and the reason is said on standard error or as a finding. */
static void assert_unusable(const struct scene *scene, const char *name, const char *reason)
{
	struct ran ran = CUTLINT(scene, "check", name);
	assert_int_equal(ran.status, 2);
	assert_has(ran.err_length && strstr(ran.err, reason) ? ran.err : ran.out, reason);
	assert_has(ran.err, "could not be checked");
	ran_finish(&ran);
}

static void an_empty_file_is_not_well_formed(void **state)
{
	scene_write(*state, "empty.svg", "");
	assert_unusable(*state, "empty.svg", "empty.svg:1:1: error: ");
}

static void a_truncated_file_is_said_where_it_ends(void **state)
{
	const struct scene *scene = *state;
	const char text[] = GOOD_DRAWING;
	scene_write_bytes(scene, "cut.svg", text, strlen(text) / 2);
	assert_unusable(scene, "cut.svg", "cut.svg:2:");

	/* Wherever it is cut off, it never passes. */
	for (size_t length = 0; length + 8 < strlen(text); length += 13) {
		scene_write_bytes(scene, "cut.svg", text, length);
		assert_unusable(scene, "cut.svg", "error: ");
	}
}

static void a_binary_file_is_no_drawing(void **state)
{
	unsigned char bytes[512];
	for (size_t i = 0; i < sizeof(bytes); i++)
		bytes[i] = (unsigned char)(i * 37);
	scene_write_bytes(*state, "noise.svg", bytes, sizeof(bytes));
	assert_unusable(*state, "noise.svg", "error: ");
}

static void another_kind_of_xml_is_no_drawing(void **state)
{
	scene_write(*state, "page.svg", "<html><body><p>text</p></body></html>\n");
	assert_unusable(*state, "page.svg", "page.svg:1:1: error: ");
}

static void a_missing_file_is_named(void **state)
{
	assert_unusable(*state, "gone.svg", "cannot read 'gone.svg': No such file or directory");
}

static void a_folder_is_no_file(void **state)
{
	assert_unusable(*state, ".", "cannot read '.': it is a folder");
}

/* Nobody writes into it: reading must not wait. */
static void a_fifo_is_no_file(void **state)
{
	char *path = scene_path(*state, "fifo.svg");
	assert_int_equal(mkfifo(path, 0600), 0);
	test_free(path);
	assert_unusable(*state, "fifo.svg", "cannot read 'fifo.svg': it is not a regular file");
}

/* The superuser reads every file, so there the case is a link that leads to itself. */
static void an_unreadable_file_is_named(void **state)
{
	char *path = scene_path(*state, "locked.svg");
	if (geteuid() == 0) {
		assert_int_equal(symlink("locked.svg", path), 0);
	} else {
		scene_write(*state, "locked.svg", GOOD_DRAWING);
		assert_int_equal(chmod(path, 0), 0);
	}
	test_free(path);
	assert_unusable(*state, "locked.svg", "cannot read 'locked.svg': ");
}

static void a_page_of_no_size_is_a_finding(void **state)
{
	scene_write(*state, "flat.svg",
		    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"0mm\" height=\"0mm\" "
		    "viewBox=\"0 0 60 30\">\n<circle cx=\"20\" cy=\"15\" r=\"5\"/></svg>\n");
	struct ran ran = CUTLINT(*state, "check", "flat.svg");
	assert_true(ran.status == 1 || ran.status == 2);
	assert_has(ran.out, "flat.svg:1:");
	ran_finish(&ran);
}

static void a_drawing_of_which_nothing_is_burned_is_an_error(void **state)
{
	scene_write(*state, "hidden.svg",
		    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"60mm\" height=\"30mm\" "
		    "viewBox=\"0 0 60 30\">\n"
		    "<circle cx=\"20\" cy=\"15\" r=\"5\" display=\"none\"/>\n"
		    "<circle cx=\"40\" cy=\"15\" r=\"5\" fill=\"none\"/>\n"
		    "<text x=\"1\" y=\"9\">hello</text>\n"
		    "</svg>\n");
	struct ran ran = CUTLINT(*state, "check", "hidden.svg");
	assert_int_equal(ran.status, 1);
	assert_has(ran.out, "hidden.svg:1:1: error: nothing to burn: ");
	assert_has(ran.out, "1 with display none, 1 without fill and stroke, 1 text");
	assert_has(ran.out, "[nothing-to-burn]");
	ran_finish(&ran);

	scene_write(*state, "bare.svg",
		    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"60mm\" height=\"30mm\"/>\n");
	ran = CUTLINT(*state, "check", "bare.svg");
	assert_int_equal(ran.status, 1);
	assert_has(ran.out, "[nothing-to-burn]");
	ran_finish(&ran);
}

static void one_broken_file_keeps_none_of_the_others_from_their_check(void **state)
{
	scene_write(*state, "a.svg", BAD_DRAWING);
	scene_write(*state, "b.svg", "<svg");
	scene_write(*state, "c.svg", BAD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "a.svg", "b.svg", "gone.svg", "c.svg");
	assert_int_equal(ran.status, 2);
	assert_has(ran.out, "a.svg:4:1: warning: ");
	assert_has(ran.out, "b.svg:1:");
	assert_has(ran.out, "c.svg:4:1: warning: ");
	assert_true(strstr(ran.out, "a.svg") < strstr(ran.out, "c.svg"));
	assert_has(ran.err, "cannot read 'gone.svg'");
	assert_has(ran.err, "in 4 files; 2 files could not be checked");
	ran_finish(&ran);
}

static void a_broken_job_file_is_said_at_its_lines_and_nothing_passes(void **state)
{
	scene_write(*state, "good.svg", GOOD_DRAWING);
	scene_write(*state, "cutlint.job", "[burn]\nkref = 0.15 mm\n\n[rule bridge-widht]\n");
	struct ran ran = CUTLINT(*state, "check", "good.svg");
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "cutlint.job:2:1: error: ");
	assert_has(ran.err, "'kerf'");
	assert_has(ran.err, "cutlint.job:4:1: error: there is no rule 'bridge-widht'");
	assert_has(ran.err, "did you mean 'bridge-width'?");
	assert_has(ran.err, "'good.svg' is not checked");
	ran_finish(&ran);
}

static void a_job_file_that_is_not_there_is_named(void **state)
{
	scene_write(*state, "good.svg", GOOD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "--job", "gone.job", "good.svg");
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "cannot read 'gone.job'");
	ran_finish(&ran);
}

static void a_job_serves_the_files_it_can_even_where_another_is_broken(void **state)
{
	scene_make_folder(*state, "sub");
	scene_write(*state, "cutlint.job", "[burn]\nkerf = wide\n");
	scene_write(*state, "sub/cutlint.job", "[burn]\nkerf = 0.1 mm\n");
	scene_write(*state, "a.svg", BAD_DRAWING);
	scene_write(*state, "sub/b.svg", BAD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "a.svg", "sub/b.svg");
	assert_int_equal(ran.status, 2);
	assert_lacks(ran.out, "a.svg:4");
	assert_has(ran.out, "sub/b.svg:4:1: warning: ");
	ran_finish(&ran);
}

/* A design or a job from a stranger must not bring code along. */
static void modules_beside_the_drawing_are_not_loaded(void **state)
{
	scene_write(*state, "stranger.so", "not even a shared object");
	scene_write(*state, "good.svg", GOOD_DRAWING);
	scene_write(*state, "cutlint.job", "[modules]\nrequire = stranger\n");
	struct ran ran = CUTLINT(*state, "check", "good.svg");
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "cutlint.job:2:11: error: the rule module 'stranger'");
	assert_lacks(ran.err, "shared object");
	ran_finish(&ran);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SCENE(an_empty_file_is_not_well_formed),
		SCENE(a_truncated_file_is_said_where_it_ends),
		SCENE(a_binary_file_is_no_drawing),
		SCENE(another_kind_of_xml_is_no_drawing),
		SCENE(a_missing_file_is_named),
		SCENE(a_folder_is_no_file),
		SCENE(a_fifo_is_no_file),
		SCENE(an_unreadable_file_is_named),
		SCENE(a_page_of_no_size_is_a_finding),
		SCENE(a_drawing_of_which_nothing_is_burned_is_an_error),
		SCENE(one_broken_file_keeps_none_of_the_others_from_their_check),
		SCENE(a_broken_job_file_is_said_at_its_lines_and_nothing_passes),
		SCENE(a_job_file_that_is_not_there_is_named),
		SCENE(a_job_serves_the_files_it_can_even_where_another_is_broken),
		SCENE(modules_beside_the_drawing_are_not_loaded),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
