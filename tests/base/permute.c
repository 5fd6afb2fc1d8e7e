#include "base/permute.h"

#include <string.h>

#include "unit.h"

static void items_come_in_the_order_asked_for(void **state)
{
	(void)state;
	char words[5][8] = {"fold", "inset", "kerf", "panel", "score"};
	uint32_t from[5] = {2, 0, 1, 3, 4};
	permute(words, sizeof(words[0]), from, 5);
	assert_string_equal(words[0], "kerf");
	assert_string_equal(words[1], "fold");
	assert_string_equal(words[2], "inset");
	assert_string_equal(words[3], "panel");
	assert_string_equal(words[4], "score");
}

/* Larger than what is moved at a time, and odd; steps of 7 through 100 places meet each once. */
static void large_items_are_moved_whole(void **state)
{
	(void)state;
	static unsigned char items[100][201];
	uint32_t from[100];
	for (uint32_t i = 0; i < 100; i++) {
		memset(items[i], (int)i, sizeof(items[i]));
		from[i] = (i * 7 + 3) % 100;
	}
	permute(items, sizeof(items[0]), from, 100);
	for (uint32_t i = 0; i < 100; i++) {
		for (size_t k = 0; k < sizeof(items[i]); k++)
			assert_int_equal(items[i][k], (i * 7 + 3) % 100);
	}
}

static void nothing_is_left_as_it_is(void **state)
{
	(void)state;
	permute(NULL, 8, NULL, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(items_come_in_the_order_asked_for),
		cmocka_unit_test(large_items_are_moved_whole),
		cmocka_unit_test(nothing_is_left_as_it_is),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
