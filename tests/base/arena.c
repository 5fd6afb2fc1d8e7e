#include "base/arena.h"

#include <stdalign.h>
#include <string.h>

#include "unit.h"

static void memory_is_zeroed_and_aligned_for_any_type(void **state)
{
	(void)state;
	struct arena *arena = arena_create();
	for (size_t size = 1; size < 200; size++) {
		unsigned char *bytes = arena_take(arena, 1, size);
		assert_non_null(bytes);
		assert_int_equal((uintptr_t)bytes % alignof(max_align_t), 0);
		for (size_t i = 0; i < size; i++)
			assert_int_equal(bytes[i], 0);
		memset(bytes, 0xff, size);
	}
	arena_destroy(arena);
}

static void large_pieces_leave_small_ones_as_they_are(void **state)
{
	(void)state;
	struct arena *arena = arena_create();
	char *small = arena_copy(arena, "bridge", 6);
	unsigned char *large = arena_take(arena, 1000, 1000);
	char *next = arena_copy(arena, "window", 6);
	memset(large, 0xff, 1000000);
	assert_string_equal(small, "bridge");
	assert_string_equal(next, "window");
	assert_true(arena_size(arena) >= 1000000);
	arena_destroy(arena);
}

static void a_size_that_overflows_is_refused(void **state)
{
	(void)state;
	struct arena *arena = arena_create();
	assert_null(arena_take(arena, SIZE_MAX / 2, 3));
	assert_null(arena_take(arena, SIZE_MAX, SIZE_MAX));
	assert_null(arena_copy(arena, "", SIZE_MAX));
	assert_non_null(arena_take(arena, 0, 8));
	arena_destroy(arena);
}

static void a_copy_of_part_of_a_text_ends_with_a_nul(void **state)
{
	(void)state;
	struct arena *arena = arena_create();
	assert_string_equal(arena_copy(arena, "fold line", 4), "fold");
	assert_string_equal(arena_copy(arena, NULL, 0), "");
	arena_destroy(arena);
	arena_destroy(NULL);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(memory_is_zeroed_and_aligned_for_any_type),
		cmocka_unit_test(large_pieces_leave_small_ones_as_they_are),
		cmocka_unit_test(a_size_that_overflows_is_refused),
		cmocka_unit_test(a_copy_of_part_of_a_text_ends_with_a_nul),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
