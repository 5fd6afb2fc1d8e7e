#define _GNU_SOURCE /* mkdtemp, nftw */
#include "scene.h"

#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define ARGUMENTS_MOST 32

int scene_open(void **state)
{
	struct scene *scene = calloc(1, sizeof(*scene));
	if (!scene)
		return -1;
	strcpy(scene->folder, "/tmp/cutlint-test-XXXXXX");
	if (!mkdtemp(scene->folder))
		return -1;
	scene_make_folder(scene, ".git");
	*state = scene;
	return 0;
}

static int remove_one(const char *path, const struct stat *status, int type, struct FTW *walk)
{
	(void)status;
	(void)type;
	(void)walk;
	return remove(path);
}

int scene_close(void **state)
{
	struct scene *scene = *state;
	int removed = nftw(scene->folder, remove_one, 16, FTW_DEPTH | FTW_PHYS);
	free(scene);
	return removed;
}

char *scene_path(const struct scene *scene, const char *name)
{
	size_t size = strlen(scene->folder) + strlen(name) + 2;
	char *path = test_malloc(size);
	snprintf(path, size, "%s/%s", scene->folder, name);
	return path;
}

void scene_make_folder(const struct scene *scene, const char *name)
{
	char *path = scene_path(scene, name);
	assert_int_equal(mkdir(path, 0700), 0);
	test_free(path);
}

void scene_write_bytes(const struct scene *scene, const char *name, const void *bytes,
		       size_t length)
{
	char *path = scene_path(scene, name);
	FILE *file = fopen(path, "wb");
	assert_non_null(file);
	assert_int_equal(fwrite(bytes, 1, length, file), length);
	assert_int_equal(fclose(file), 0);
	test_free(path);
}

void scene_write(const struct scene *scene, const char *name, const char *text)
{
	scene_write_bytes(scene, name, text, strlen(text));
}

struct ran scene_cutlint_in(const struct scene *scene, const struct surroundings *surroundings,
			    const char *const *arguments)
{
	const char *all[ARGUMENTS_MOST] = {CUTLINT_COMMAND};
	size_t count = 1;
	while (arguments[count - 1] && count < ARGUMENTS_MOST - 1) {
		all[count] = arguments[count - 1];
		count++;
	}
	struct surroundings here = *surroundings;
	here.folder = scene->folder;
	struct ran ran = run(all, &here);

	/* Neither a crash nor a program that is not there is any test's wish. */
	assert_in_range((unsigned)ran.status, 0, 2);
	return ran;
}

struct ran scene_cutlint(const struct scene *scene, const char *const *arguments)
{
	const struct surroundings none = {0};
	return scene_cutlint_in(scene, &none, arguments);
}

void scene_prints(const struct scene *scene, const char *said, const char *const *arguments)
{
	struct ran ran = scene_cutlint(scene, arguments);
	assert_int_equal(ran.status, 0);
	assert_has(ran.out, said);
	ran_finish(&ran);
}

void scene_refuses(const struct scene *scene, const char *said, const char *const *arguments)
{
	struct ran ran = scene_cutlint(scene, arguments);
	assert_int_equal(ran.status, 2);
	assert_string_equal(ran.out, "");
	assert_has(ran.err, said);
	ran_finish(&ran);
}

void assert_has(const char *text, const char *part)
{
	if (!strstr(text, part))
		fail_msg("'%s' does not hold '%s'", text, part);
}

void assert_lacks(const char *text, const char *part)
{
	if (strstr(text, part))
		fail_msg("'%s' holds '%s'", text, part);
}
