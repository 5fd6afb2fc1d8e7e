#define _GNU_SOURCE /* mkdtemp */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "job/job.h"
#include "unit.h"

/*
 * shop/            cutlint.job
 * shop/cards/      (nothing)
 * shop/cards/tree/ cutlint.job
 * shop/own/        .git
 * shop/own/deep/
 */
static char base[64], back[4096];
static struct arena *arena;

static void touch(const char *path)
{
	int file = open(path, O_CREAT | O_WRONLY, 0600);
	assert_true(file >= 0);
	close(file);
}

static int set_up(void **state)
{
	(void)state;
	strcpy(base, "/tmp/cutlint-test-XXXXXX");
	if (!getcwd(back, sizeof(back)) || !mkdtemp(base) || chdir(base) < 0)
		return -1;
	arena = arena_create();
	static const char *const FOLDERS[] = {"shop",     "shop/cards",    "shop/cards/tree",
					      "shop/own", "shop/own/.git", "shop/own/deep"};
	for (size_t i = 0; i < sizeof(FOLDERS) / sizeof(*FOLDERS); i++)
		mkdir(FOLDERS[i], 0700);
	touch("shop/cutlint.job");
	touch("shop/cards/tree/cutlint.job");
	return 0;
}

static int tear_down(void **state)
{
	(void)state;
	static const char *const PATHS[] = {"shop/cards/tree/cutlint.job",
					    "shop/cutlint.job",
					    "shop/link",
					    "shop/own/deep",
					    "shop/own/.git",
					    "shop/own",
					    "shop/cards/tree",
					    "shop/cards",
					    "shop"};
	if (chdir(base) < 0)
		return -1;
	for (size_t i = 0; i < sizeof(PATHS) / sizeof(*PATHS); i++)
		remove(PATHS[i]);
	arena_destroy(arena);
	return chdir(back) < 0 || rmdir(base) < 0 ? -1 : 0;
}

static void assert_found(const char *from, const char *design, const char *expected)
{
	assert_int_equal(chdir(base), 0);
	assert_int_equal(chdir(from), 0);
	const char *found = job_find(arena, design);
	assert_non_null(found);
	assert_string_equal(found, expected);
	assert_int_equal(access(found, F_OK), 0);
}

static void assert_none(const char *from, const char *design)
{
	assert_int_equal(chdir(base), 0);
	assert_int_equal(chdir(from), 0);
	assert_null(job_find(arena, design));
}

static void the_designs_own_folder_comes_first(void **state)
{
	(void)state;
	assert_found(".", "shop/cards/tree/a.svg", "shop/cards/tree/cutlint.job");
	assert_found("shop/cards/tree", "a.svg", "cutlint.job");
	assert_found("shop/cards", "./tree/a.svg", "tree/cutlint.job");
}

static void else_the_nearest_parent_has_it(void **state)
{
	(void)state;
	assert_found(".", "shop/cards/a.svg", "shop/cutlint.job");
	assert_found("shop/cards", "a.svg", "../cutlint.job");
	assert_found("shop/cards/tree", "../a.svg", "../../cutlint.job");
	assert_found("shop/own", "../cards/a.svg", "../cutlint.job");
}

static void standard_input_starts_in_the_current_folder(void **state)
{
	(void)state;
	assert_found("shop", "-", "cutlint.job");
	assert_found("shop/cards", "-", "../cutlint.job");
}

static void an_absolute_design_has_an_absolute_job(void **state)
{
	(void)state;
	char design[128], job[128];
	snprintf(design, sizeof(design), "%s/shop/cards/a.svg", base);
	snprintf(job, sizeof(job), "%s/shop/cutlint.job", base);
	assert_found(".", design, job);
}

static void a_repository_ends_the_search(void **state)
{
	(void)state;
	assert_none("shop/own", "a.svg");
	assert_none(".", "shop/own/deep/a.svg");
	touch("shop/own/cutlint.job");
	assert_found(".", "shop/own/deep/a.svg", "shop/own/cutlint.job");
	assert_int_equal(chdir(base), 0);
	unlink("shop/own/cutlint.job");
}

static void a_link_that_leads_nowhere_is_not_passed_over(void **state)
{
	(void)state;
	assert_int_equal(chdir(base), 0);
	assert_int_equal(symlink("nowhere", "shop/cards/cutlint.job"), 0);
	const char *found = job_find(arena, "shop/cards/a.svg");
	unlink("shop/cards/cutlint.job");
	assert_string_equal(found, "shop/cards/cutlint.job");
}

static void a_folder_that_is_not_there_has_none(void **state)
{
	(void)state;
	assert_none("shop", "missing/a.svg");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_designs_own_folder_comes_first),
		cmocka_unit_test(else_the_nearest_parent_has_it),
		cmocka_unit_test(standard_input_starts_in_the_current_folder),
		cmocka_unit_test(an_absolute_design_has_an_absolute_job),
		cmocka_unit_test(a_repository_ends_the_search),
		cmocka_unit_test(a_link_that_leads_nowhere_is_not_passed_over),
		cmocka_unit_test(a_folder_that_is_not_there_has_none),
	};
	return cmocka_run_group_tests(tests, set_up, tear_down);
}
