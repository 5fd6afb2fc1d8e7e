/*
 * registry.c - modules that are taken, and bad ones that are refused by name. The folders REFUSED
 * and SOUND hold modules that the build made.
 */
#define _GNU_SOURCE /* mkdtemp, mkfifo */
#include "engine/registry.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "fresh.h"

/* The trouble that names a file; fails the test without one. */
static const char *reason_for(const struct troubles *troubles, const char *file)
{
	char name[80];
	snprintf(name, sizeof(name), "/%s.so'", file);
	for (uint32_t i = 0; i < troubles->count; i++) {
		const char *message = troubles->items[i].message;
		const char *found = strstr(message, name);
		if (found)
			return found + strlen(name);
	}
	fail_msg("nothing is said of %s", file);
	return "";
}

static void assert_reason(const struct troubles *troubles, const char *file, const char *reason)
{
	const char *said = reason_for(troubles, file);
	if (!strstr(said, reason))
		fail_msg("%s: '%s' does not hold '%s'", file, said, reason);
}

static void every_bad_module_is_refused_by_name_with_its_reason(void **state)
{
	static const char *const WANTED[][2] = {
		{"default-out-of-range", "option 'limit'"},
		{"default-out-of-range", "0 mm to 5 mm"},
		{"default-unreadable", "option 'limit'"},
		{"function-symbol", "not a rule's descriptor"},
		{"future-abi", "built for rule ABI 8, this cutlint takes 7"},
		{"no-summary", "no summary"},
		{"no-symbol", "no symbol cutlint_rule"},
		{"null-check", "no check function"},
		{"old-abi", "built for rule ABI 6, this cutlint takes 7"},
		{"option-outside", "outside the options struct"},
		{"option-reserved", "that the job file can't use"},
		{"option-twice", "is there twice"},
		{"range-upside-down", "no valid range"},
		{"short-symbol", "not a rule's descriptor"},
		{"unknown-need", "geometry that this cutlint does not know"},
		{"wrong-name", "'right-name', not like the file"},
		{"wrong-size", "its descriptor has 16 bytes"},
	};
	struct registry registry = {.arena = *state};
	struct troubles troubles = {.arena = *state};
	registry_add_folder(&registry, REFUSED, &troubles);
	for (size_t i = 0; i < sizeof(WANTED) / sizeof(WANTED[0]); i++)
		assert_reason(&troubles, WANTED[i][0], WANTED[i][1]);
	assert_int_equal(registry.count, 0);
	assert_int_equal(troubles.count, REFUSED_COUNT);
}

static void sound_modules_are_sorted_by_name(void **state)
{
	struct registry registry = {.arena = *state};
	struct troubles troubles = {.arena = *state};
	registry_add_folder(&registry, SOUND_FOLDER, &troubles);
	assert_int_equal(troubles.count, 0);
	assert_int_equal(registry.count, 2);
	assert_string_equal(registry.modules[0].rule->name, "alpha");
	assert_string_equal(registry.modules[1].rule->name, "omega");
	assert_non_null(registry_find(&registry, "omega"));
	assert_null(registry_find(&registry, "omeg"));
	assert_string_equal(registry_nearest(&registry, "omeg"), "omega");
}

static void copy_head(const char *from, const char *to, size_t most)
{
	char *bytes = test_malloc(most);
	FILE *in = fopen(from, "rb"), *out = fopen(to, "wb");
	assert_true(in && out);
	size_t length = fread(bytes, 1, most, in);
	assert_int_equal(fwrite(bytes, 1, length, out), length);
	fclose(in);
	fclose(out);
	test_free(bytes);
}

static void a_name_already_taken_is_refused_with_the_file_that_has_it(void **state)
{
	char folder[] = "/tmp/cutlint-test-XXXXXX";
	assert_non_null(mkdtemp(folder));
	assert_int_equal(chdir(folder), 0);
	copy_head(SOUND_FOLDER "/alpha.so", "alpha.so", 4u << 20);

	struct registry registry = {.arena = *state};
	struct troubles troubles = {.arena = *state};
	registry_add_folder(&registry, SOUND_FOLDER, &troubles);
	registry_add_folder(&registry, folder, &troubles);
	assert_int_equal(registry.count, 2);
	assert_int_equal(troubles.count, 1);
	assert_reason(&troubles, "alpha",
		      "the name 'alpha' is taken by '" SOUND_FOLDER "/alpha.so'");
	assert_int_equal(remove("alpha.so"), 0);
	assert_int_equal(remove(folder), 0);
}

static void what_is_no_shared_object_is_refused(void **state)
{
	char folder[] = "/tmp/cutlint-test-XXXXXX", path[80];
	assert_non_null(mkdtemp(folder));
	assert_int_equal(chdir(folder), 0);
	copy_head(SOUND_FOLDER "/alpha.so", "cut-short.so", 2000);
	copy_head(SOUND_FOLDER "/alpha.so", "headless.so", 10);
	copy_head("/dev/null", "empty.so", 1);
	copy_head("/proc/self/cmdline", "words.so", 1000);
	assert_int_equal(mkdir("folder.so", 0700), 0);
	assert_int_equal(mkfifo("fifo.so", 0600), 0);
	assert_int_equal(symlink("gone", "dangling.so"), 0);
	copy_head(SOUND_FOLDER "/alpha.so", "alpha.so.old", 2000);

	struct registry registry = {.arena = *state};
	struct troubles troubles = {.arena = *state};
	registry_add_folder(&registry, folder, &troubles);
	assert_reason(&troubles, "cut-short", "cut short");
	assert_reason(&troubles, "headless", "not a shared object");
	assert_reason(&troubles, "empty", "not a shared object");
	assert_reason(&troubles, "words", "not a shared object");
	assert_reason(&troubles, "folder", "not a regular file");
	assert_reason(&troubles, "fifo", "not a regular file");
	assert_reason(&troubles, "dangling", "No such file");
	assert_int_equal(troubles.count, 7);

	snprintf(path, sizeof(path), "rm -r %s", folder);
	assert_int_equal(system(path), 0);
}

static void a_folder_that_is_not_there_is_said(void **state)
{
	struct registry registry = {.arena = *state};
	struct troubles troubles = {.arena = *state};
	registry_add_folder(&registry, "/no/such/folder", &troubles);
	assert_int_equal(troubles.count, 1);
	assert_non_null(strstr(troubles.items[0].message, "'/no/such/folder'"));
}

static void a_folder_that_is_named_twice_is_loaded_once(void **state)
{
	struct registry registry = {.arena = *state};
	struct troubles troubles = {.arena = *state};
	registry_add_folder(&registry, SOUND_FOLDER, &troubles);
	registry_add_folder(&registry, SOUND_FOLDER "/../sound", &troubles);
	assert_false(troubles_any(&troubles));
	assert_int_equal(registry.count, 2);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(a_folder_that_is_named_twice_is_loaded_once),
		FRESH(every_bad_module_is_refused_by_name_with_its_reason),
		FRESH(sound_modules_are_sorted_by_name),
		FRESH(a_name_already_taken_is_refused_with_the_file_that_has_it),
		FRESH(what_is_no_shared_object_is_refused),
		FRESH(a_folder_that_is_not_there_is_said),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
