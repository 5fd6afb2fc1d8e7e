/* Memory that runs out anywhere is an ordinary error: a fatal notice, nothing leaked, no crash. */
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "helper.h"

/* The linker sends the project's own allocations here (--wrap). */
static long left = -1; /* allocations until they fail; negative: never */

static bool fails(void)
{
	if (left > 0)
		left--;
	return left == 0;
}

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *old, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *old, size_t size);

void *__wrap_malloc(size_t size)
{
	return fails() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size)
{
	return fails() ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *old, size_t size)
{
	return fails() ? NULL : __real_realloc(old, size);
}

static const char TEXT[] =
	DRAWING("<style>.a > b, #c{fill:red}</style><defs><path id='p' d='M0 0a1 1 0 011 1t5 "
		"5z'/></defs><use href='#p'/><g id='c' class='a'><circle r='4'/><path d='?'/>"
		"<svg x='3'><polygon points='1 1 2 2'/></svg></g><text>x</text>");

static void running_out_anywhere_is_a_fatal_notice(void **state)
{
	(void)state;
	struct svg_options options = {.flatness_mm = 0.005};
	bool loaded = false;
	for (long allowed = 2; !loaded; allowed++) {
		assert_true(allowed < 10000);
		struct notices notices = {.arena = arena_create()};
		struct cutlint_design *design;
		left = allowed;
		loaded = svg_load_bytes(notices.arena, TEXT, sizeof(TEXT) - 1, "a.svg", &options,
					&notices, &design) == 0;
		bool ran_out = left == 0;
		left = -1;
		assert_int_equal(loaded, !ran_out);
		assert_int_equal(notices.fatal_count > 0, ran_out);
		assert_int_equal(design == NULL, ran_out);
		arena_destroy(notices.arena);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(running_out_anywhere_is_a_fatal_notice),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
