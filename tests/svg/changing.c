/* Files that change while they are read. */
#define _GNU_SOURCE /* mkstemp, futimens */
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "helper.h"

ssize_t __real_read(int file, void *bytes, size_t most);
ssize_t __wrap_read(int file, void *bytes, size_t most);

static char path[64];
enum change { LEAVE, GROW, SHRINK, TOUCH };
static enum change change;

/* Changes the file behind the back of who reads it, once. */
ssize_t __wrap_read(int file, void *bytes, size_t most)
{
	int other = open(path, O_WRONLY | O_APPEND);
	if (other >= 0 && change == GROW)
		assert_int_equal(write(other, " ", 1), 1);
	if (other >= 0 && change == SHRINK)
		assert_int_equal(ftruncate(other, 9), 0);
	if (other >= 0 && change == TOUCH)
		assert_int_equal(futimens(other, (struct timespec[2]){{1, 0}, {1, 0}}), 0);
	if (other >= 0)
		close(other);
	change = LEAVE;
	return __real_read(file, bytes, most);
}

static void read_while(enum change how, int expected)
{
	static const char TEXT[] = DRAWING("<rect width='1' height='1'/>");
	strcpy(path, "/tmp/cutlint-test-XXXXXX");
	int file = mkstemp(path);
	assert_int_equal(write(file, TEXT, sizeof(TEXT) - 1), sizeof(TEXT) - 1);
	close(file);

	struct svg_options options = {.flatness_mm = 0.005};
	struct notices notices = {.arena = arena_create()};
	struct cutlint_design *design;
	change = how;
	int result = svg_load(notices.arena, path, path, &options, &notices, &design);
	unlink(path);
	assert_int_equal(result, expected);
	if (expected < 0)
		assert_non_null(strstr(notices.items[0].message, "it changed while it was read"));
	arena_destroy(notices.arena);
}

static void a_file_that_changes_while_it_is_read_is_refused(void **state)
{
	(void)state;
	read_while(LEAVE, 0);
	read_while(GROW, -1);
	read_while(SHRINK, -1);
	read_while(TOUCH, -1);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_file_that_changes_while_it_is_read_is_refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
