#define _GNU_SOURCE /* dladdr */
#include "engine/home.h"

#include <dlfcn.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/text.h"

static char *join(struct arena *arena, const char *folder, const char *name)
{
	struct text text = {0};
	text_format(&text, "%s/%s", folder, name);
	return text_keep(&text, arena);
}

static bool is_folder(const char *path)
{
	struct stat status;
	return path && stat(path, &status) == 0 && S_ISDIR(status.st_mode);
}

const char *home_path(struct arena *arena, const char *installed, const char *built)
{
	/* Any object of the library's own does; a data symbol keeps to the letter of C. */
	static const char here;
	Dl_info info;
	char *file = dladdr(&here, &info) && info.dli_fname ? realpath(info.dli_fname, NULL) : NULL;
	const char *path;
	if (!file)
		return arena_copy(arena, "", 0);
	*strrchr(file, '/') = '\0';
	if (is_folder(join(arena, file, "../meson-info"))) {
		*strrchr(file, '/') = '\0';
		path = join(arena, file, built);
	} else {
		path = join(arena, file, installed);
	}
	free(file);
	return path;
}
