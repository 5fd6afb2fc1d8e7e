#define _GNU_SOURCE /* mkstemp */
#include "load.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "unit.h"

struct loaded load_bytes(const char *bytes, size_t length)
{
	char path[] = "/tmp/cutlint-test-XXXXXX";
	struct loaded loaded = {.arena = arena_create()};
	loaded.notices.arena = loaded.arena;
	if (bytes) {
		int file = mkstemp(path);
		assert_int_equal(write(file, bytes, length), length);
		close(file);
	}
	loaded.result = job_load(loaded.arena, bytes ? path : NULL, &loaded.notices, &loaded.job);
	if (bytes)
		unlink(path);
	assert_non_null(loaded.job);
	return loaded;
}

struct loaded load_text(const char *text)
{
	return load_bytes(text, text ? strlen(text) : 0);
}

struct loaded load_good(const char *text)
{
	struct loaded loaded = load_text(text);
	if (loaded.notices.count > 0)
		fail_msg("%s", loaded.notices.items[0].message);
	assert_int_equal(loaded.result, 0);
	return loaded;
}

void load_finish(struct loaded *loaded)
{
	job_finish(loaded->job);
	arena_destroy(loaded->arena);
}
