#include "base/notice.h"

#include <stdio.h>

#include "unit.h"

static void notices_keep_their_order_place_and_text(void **state)
{
	(void)state;
	struct notices notices = {.arena = arena_create()};
	for (unsigned i = 0; i < 1000; i++)
		notice_add(&notices, NOTICE_NOTE, "path-data", i, i + 1, "command %u", i);
	assert_int_equal(notices.count, 1000);
	for (unsigned i = 0; i < 1000; i++) {
		char expected[32];
		snprintf(expected, sizeof(expected), "command %u", i);
		assert_string_equal(notices.items[i].message, expected);
		assert_int_equal(notices.items[i].byte, i);
		assert_int_equal(notices.items[i].length, i + 1);
		assert_string_equal(notices.items[i].code, "path-data");
	}
	arena_destroy(notices.arena);
}

static void only_fatal_ones_are_counted_as_fatal(void **state)
{
	(void)state;
	struct notices notices = {.arena = arena_create()};
	notice_add(&notices, NOTICE_NOTE, "a", 0, 0, "a");
	notice_add(&notices, NOTICE_WARNING, "b", 0, 0, "b");
	notice_add(&notices, NOTICE_ERROR, "c", 0, 0, "c");
	assert_int_equal(notices.fatal_count, 0);
	notice_add(&notices, NOTICE_FATAL, "d", 0, 0, "d");
	assert_int_equal(notices.fatal_count, 1);
	arena_destroy(notices.arena);
}

static void a_suggestion_belongs_to_its_notice(void **state)
{
	(void)state;
	struct notices notices = {.arena = arena_create()};
	struct notice *notice = notice_add(&notices, NOTICE_NOTE, "a", 0, 0, "gap of %d", 3);
	assert_null(notice->suggestion);
	notice_suggest(&notices, notice, "close it within %.2f mm", 0.05);
	assert_string_equal(notices.items[0].suggestion, "close it within 0.05 mm");
	notice_suggest(&notices, NULL, "to nobody");
	arena_destroy(notices.arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(notices_keep_their_order_place_and_text),
		cmocka_unit_test(only_fatal_ones_are_counted_as_fatal),
		cmocka_unit_test(a_suggestion_belongs_to_its_notice),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
