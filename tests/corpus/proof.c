/* proof.c - what cutlint proof writes, and what it must never lose. */
#define _GNU_SOURCE /* symlink, lstat */
#include <dirent.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "file.h"
#include "scene.h"

/* The text of a file in the folder, in memory that free frees. */
static char *read_file(const struct scene *scene, const char *name)
{
	char *path = scene_path(scene, name), *text = file_read(path);
	test_free(path);
	assert_non_null(text);
	return text;
}

static void assert_file(const struct scene *scene, const char *name, const char *text)
{
	char *found = read_file(scene, name);
	assert_string_equal(found, text);
	free(found);
}

/* Files in the folder, hidden ones left out. */
static int file_count(const struct scene *scene)
{
	DIR *folder = opendir(scene->folder);
	int count = 0;
	assert_non_null(folder);
	for (struct dirent *entry; (entry = readdir(folder));)
		count += entry->d_name[0] != '.';
	closedir(folder);
	return count;
}

static void assert_refused(const struct scene *scene, const char *output, const char *file,
			   const char *why)
{
	REFUSES(scene, why, "proof", "-q", "-o", output, file);
}

static void the_form_follows_from_the_name(void **state)
{
	scene_write(*state, "bad.svg", BAD_DRAWING);
	struct ran ran = CUTLINT(*state, "proof", "-q", "bad.svg", "-o", "bad.html");
	assert_int_equal(ran.status, 0);
	assert_string_equal(ran.err, "");
	ran_finish(&ran);
	char *page = read_file(*state, "bad.html");
	assert_has(page, "<!DOCTYPE html>");
	assert_has(page, "id=\"finding-2\"");
	assert_has(page, "bad.svg:3:44");
	free(page);

	ran = CUTLINT(*state, "proof", "-q", "--output=bad-proof.svg", "bad.svg");
	assert_int_equal(ran.status, 0);
	ran_finish(&ran);
	char *picture = read_file(*state, "bad-proof.svg");
	assert_has(picture, "<svg xmlns=\"http://www.w3.org/2000/svg\"");
	assert_lacks(picture, "<script");
	free(picture);
	assert_refused(*state, "bad.pdf", "bad.svg", "cannot tell the form of the proof");
	assert_int_equal(file_count(*state), 3);
}

static void a_dash_writes_the_page_to_standard_output(void **state)
{
	scene_write(*state, "good.svg", GOOD_DRAWING);
	struct ran ran = CUTLINT(*state, "proof", "-q", "-o", "-", "good.svg");
	assert_int_equal(ran.status, 0);
	assert_true(strncmp(ran.out, "<!DOCTYPE html>", 15) == 0);
	assert_has(ran.out, "</html>");
	ran_finish(&ran);

	const struct surroundings full = {.out_file = "/dev/full"};
	ran = scene_cutlint_in(*state, &full,
			       (const char *const[]){"proof", "-q", "-o", "-", "good.svg", NULL});
	assert_int_equal(ran.status, 2);
	assert_has(ran.err, "cannot write standard output");
	ran_finish(&ran);
}

static void what_is_read_is_never_written_to(void **state)
{
	scene_write(*state, "good.svg", GOOD_DRAWING);
	scene_write(*state, "job.svg", "[burn]\nkerf = 0.2 mm\n");
	assert_refused(*state, "good.svg", "good.svg", "cannot write 'good.svg': it is to be read");
	assert_refused(*state, "./good.svg", "good.svg", "it is to be read");
	REFUSES(*state, "it is to be read", "proof", "--job", "job.svg", "-o", "job.svg",
		"good.svg");
	assert_file(*state, "good.svg", GOOD_DRAWING);
	assert_file(*state, "job.svg", "[burn]\nkerf = 0.2 mm\n");
}

static void a_run_that_fails_leaves_the_old_proof(void **state)
{
	scene_write(*state, "card.html", "the old one");
	scene_write(*state, "broken.svg", "<svg");
	assert_refused(*state, "card.html", "broken.svg", "there is no proof of 'broken.svg'");
	assert_refused(*state, "card.html", "gone.svg", "gone.svg");
	assert_file(*state, "card.html", "the old one");
	scene_write(*state, "good.svg", GOOD_DRAWING);
	assert_refused(*state, "no/folder/card.html", "good.svg",
		       "cannot write 'no/folder/card.html': ");
	assert_refused(*state, "/dev/full.html", "broken.svg", "there is no proof");
	assert_int_equal(file_count(*state), 3);
}

static void an_old_proof_is_replaced_and_keeps_its_mode(void **state)
{
	scene_write(*state, "good.svg", GOOD_DRAWING);
	scene_write(*state, "true.html", "the old one");
	char *true_path = scene_path(*state, "true.html"), *link = scene_path(*state, "link.html");
	assert_int_equal(chmod(true_path, 0640), 0);
	assert_int_equal(symlink("true.html", link), 0);
	struct ran ran = CUTLINT(*state, "proof", "-q", "-o", "link.html", "good.svg");
	assert_int_equal(ran.status, 0);
	ran_finish(&ran);
	struct stat stat_of;
	assert_int_equal(lstat(link, &stat_of), 0);
	assert_true(S_ISLNK(stat_of.st_mode));
	assert_int_equal(stat(true_path, &stat_of), 0);
	assert_int_equal(stat_of.st_mode & 0777, 0640);
	char *page = read_file(*state, "true.html");
	assert_has(page, "</html>");
	free(page);
	test_free(true_path);
	test_free(link);
	assert_int_equal(file_count(*state), 3);
}

static void wrong_use_is_said(void **state)
{
	scene_write(*state, "good.svg", GOOD_DRAWING);
	REFUSES(*state, "no output given", "proof", "good.svg");
	REFUSES(*state, "no drawing given", "proof", "-o", "a.html");
	REFUSES(*state, "takes one drawing at a time", "proof", "-o", "a.html", "good.svg",
		"good.svg");
	REFUSES(*state, "did you mean '--output'?", "proof", "--outptu", "a.html");
	assert_int_equal(file_count(*state), 1);
}

static void two_runs_write_the_same_bytes(void **state)
{
	scene_write(*state, "bad.svg", BAD_DRAWING);
	struct ran one = CUTLINT(*state, "proof", "-q", "-o", "-", "bad.svg");
	struct ran two = CUTLINT(*state, "proof", "-q", "-o", "-", "bad.svg");
	assert_int_equal(one.out_length, two.out_length);
	assert_memory_equal(one.out, two.out, one.out_length);
	ran_finish(&one);
	ran_finish(&two);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SCENE(the_form_follows_from_the_name),
		SCENE(a_dash_writes_the_page_to_standard_output),
		SCENE(what_is_read_is_never_written_to),
		SCENE(a_run_that_fails_leaves_the_old_proof),
		SCENE(an_old_proof_is_replaced_and_keeps_its_mode),
		SCENE(wrong_use_is_said),
		SCENE(two_runs_write_the_same_bytes),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
