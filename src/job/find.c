#define _GNU_SOURCE /* realpath, lstat */
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/text.h"
#include "job/job.h"

#define JOB_NAME "cutlint.job"

static bool holds(const char *folder, const char *name)
{
	struct text path = {0};
	struct stat status;
	text_format(&path, "%s/%s", folder, name);
	bool there = !path.failed && lstat(path.bytes, &status) == 0;
	text_finish(&path);
	return there;
}

/* Cuts the last name off an absolute path; false at the root. */
static bool climb(char *folder)
{
	char *slash = strrchr(folder, '/');
	if (!slash || strcmp(folder, "/") == 0)
		return false;
	slash[slash == folder] = '\0';
	return true;
}

/* Climbs to the folder that has the file. */
static bool search(char *folder)
{
	do {
		if (holds(folder, JOB_NAME))
			return true;
		if (holds(folder, ".git"))
			return false;
	} while (climb(folder));
	return false;
}

/* What stands in `path` behind the folder `above`, NULL if it does not lie in there. */
static const char *below(const char *path, const char *above)
{
	size_t length = strcmp(above, "/") == 0 ? 0 : strlen(above);
	if (strncmp(path, above, length) != 0)
		return NULL;
	if (path[length] == '\0')
		return path + length;
	return path[length] == '/' ? path + length + 1 : NULL;
}

/*
 * The found folder as a person in the current folder would write it, with a `/` behind it; whole
 * where no current folder is given, or neither lies in the other.
 */
static void write_folder(struct text *out, const char *found, const char *current)
{
	const char *inside = current ? below(found, current) : NULL;
	const char *up = current ? below(current, found) : NULL;
	if (inside) {
		text_format(out, "%s%s", inside, *inside ? "/" : "");
	} else if (up) {
		text_add_string(out, "../");
		for (; *up; up++)
			text_add_string(out, *up == '/' ? "../" : "");
	} else {
		text_format(out, "%s%s", found, strcmp(found, "/") == 0 ? "" : "/");
	}
}

/* The folder part of a path as written, "" without one. */
static size_t folder_length(const char *path)
{
	const char *slash = strcmp(path, "-") == 0 ? NULL : strrchr(path, '/');
	return slash ? (size_t)(slash - path) + 1 : 0;
}

static const char *write_path(struct arena *arena, const char *design_path, const char *found,
			      const char *current)
{
	struct text path = {0};
	write_folder(&path, found, *design_path == '/' ? NULL : current);
	text_add_string(&path, JOB_NAME);
	return text_keep(&path, arena);
}

const char *job_find(struct arena *arena, const char *design_path)
{
	size_t length = folder_length(design_path);
	const char *written = length ? arena_copy(arena, design_path, length) : ".";
	char *folder = written ? realpath(written, NULL) : NULL;
	char *current = realpath(".", NULL);
	const char *found = NULL;
	if (folder && search(folder))
		found = write_path(arena, design_path, folder, current);
	free(folder);
	free(current);
	return found;
}
