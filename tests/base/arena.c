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

static void an_emptied_arena_gives_its_memory_again_zeroed(void **state)
{
	(void)state;
	struct arena *arena = arena_create();
	for (size_t round = 0; round < 100; round++) {
		unsigned char *small = arena_take(arena, 1000, 1);
		unsigned char *large = arena_take(arena, 1, 1000000 + round);
		for (size_t i = 0; i < 1000; i++)
			assert_int_equal(small[i] + large[i], 0);
		memset(small, 0xff, 1000);
		memset(large, 0xff, 1000000 + round);
		arena_empty(arena);
	}
	assert_true(arena_size(arena) < 2000000);
	arena_destroy(arena);
}

static void an_array_grows_longer_with_what_is_in_it(void **state)
{
	(void)state;
	struct arena *arena = arena_create();
	uint32_t *numbers = NULL;
	char *beside = NULL;
	for (uint32_t count = 1; count < 1000000; count *= 2) {
		numbers = arena_lengthen(arena, numbers, count / 2 * sizeof(*numbers),
					 count * sizeof(*numbers));
		for (uint32_t i = count / 2; i < count; i++)
			numbers[i] = i;
		beside = arena_copy(arena, "card", 4);
	}
	for (uint32_t i = 0; i < 1 << 19; i++)
		assert_int_equal(numbers[i], i);
	assert_string_equal(beside, "card");
	assert_true(arena_size(arena) < 3 * sizeof(*numbers) << 19);
	arena_destroy(arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(memory_is_zeroed_and_aligned_for_any_type),
		cmocka_unit_test(large_pieces_leave_small_ones_as_they_are),
		cmocka_unit_test(a_size_that_overflows_is_refused),
		cmocka_unit_test(an_emptied_arena_gives_its_memory_again_zeroed),
		cmocka_unit_test(an_array_grows_longer_with_what_is_in_it),
		cmocka_unit_test(a_copy_of_part_of_a_text_ends_with_a_nul),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
