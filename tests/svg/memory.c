/* Memory that runs out anywhere is an ordinary error: a fatal notice, nothing leaked, no crash. */
#include "failing.h"
#include "helper.h"

static const char TEXT[] =
	DRAWING("<style>.a > b, #c{fill:red}</style><defs><path id='p' d='M0 0a1 1 0 011 1t5 "
		"5z'/></defs><use href='#p'/><g id='c' class='a'><circle r='4'/><path d='?'/>"
		"<svg x='3'><polygon points='1 1 2 2'/></svg></g><text>x</text>");

static void running_out_anywhere_is_a_fatal_notice(void **state)
{
	(void)state;
	struct svg_options options = {.flatness_mm = 0.005};
	bool loaded = false;
	for (long allowed = 1; !loaded; allowed++) {
		assert_true(allowed < 10000);
		struct notices notices = {.arena = arena_create()};
		struct cutlint_design *design;
		failing_start(allowed, false);
		loaded = svg_load_bytes(notices.arena, TEXT, sizeof(TEXT) - 1, "a.svg", &options,
					&notices, &design) == 0;
		bool ran_out = failing_stop();
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
