/* Running out of memory is an ordinary error: sheet_build says so, whichever request fails. */
#include "failing.h"

#include "drawing.h"

static void whichever_request_fails_the_build_fails_and_leaves_nothing(void **state)
{
	(void)state;
	struct drawing d;
	drawing_read(&d, PAGE(100, 60,
			      "<g" LINE "><line class='fold' x1='50' y1='0' x2='50' y2='60'/>"
			      "<rect id='face' x='50' y='0' width='50' height='60'/>"
			      "<circle cx='20' cy='30' r='5'/><circle cx='30.6' cy='30' r='5'/>"
			      "<circle cx='30.6' cy='30' r='5'/><circle cx='30.6' cy='30' r='4.5'/>"
			      "<path d='M60 10H80V20H60V10.5'/><path d='M70 40V55H90V40H70.3'/></g>"
			      "<path fill='red' d='M5 5H15V15H5ZM7 7V13H13V7Z'/>"));
	const uint32_t all = CUTLINT_NEEDS_CARDS | CUTLINT_NEEDS_NECKS | CUTLINT_NEEDS_HOLES |
			     CUTLINT_NEEDS_ENDS | CUTLINT_NEEDS_OVERLAPS;
	const struct cutlint_sheet *sheet = NULL;
	for (long granted = 0; !sheet; granted++) {
		struct arena *arena = arena_create();
		assert_non_null(arena);
		failing_start(granted, false);
		sheet = sheet_build_pictured(arena, d.design, &d.facts, all, 0, INFINITY,
					     &d.picture);
		bool failed = failing_stop();
		/* A request may fail and the work go on without it, but no failure may be made up.
		 */
		assert_true(sheet || failed);
		arena_destroy(arena);
	}
	drawing_close(&d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(whichever_request_fails_the_build_fails_and_leaves_nothing),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
