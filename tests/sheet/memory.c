/* Running out of memory is an ordinary error: sheet_build says so, whichever request fails. */
#include "failing.h"

#include "drawing.h"

/* One at least of all that is built, so that there are requests for it. */
static void assert_has_all(const struct cutlint_sheet *sheet)
{
	const uint32_t counts[] = {sheet->card_count,    sheet->fold_count,    sheet->part_count,
				   sheet->neck_count,    sheet->hole_count,    sheet->end_count,
				   sheet->overlap_count, sheet->traced_count,  sheet->site_count,
				   sheet->tip_count,     sheet->crossing_count};
	for (size_t i = 0; i < sizeof counts / sizeof counts[0]; i++)
		assert_true(counts[i] > 0);
}

static void whichever_request_fails_the_build_fails_and_leaves_nothing(void **state)
{
	(void)state;
	struct drawing d;
	drawing_read(
		&d,
		PAGE(100, 60,
		     "<g" LINE "><line class='fold' x1='50' y1='0' x2='50' y2='60'/>"
		     "<rect id='face' x='50' y='0' width='50' height='60'/>"
		     "<circle cx='20' cy='30' r='5'/><circle cx='30.6' cy='30' r='5'/>"
		     "<circle cx='30.6' cy='30' r='5'/><circle cx='30.6' cy='30' r='4.5'/>"
		     "<path d='M60 10H80V20H60V10.5'/><path d='M70 40V55H90V40H70.3'/>"
		     "<path d='M16 50L36 54L16 58'/><path d='M5 42H13'/><path d='M9 38V46'/></g>"
		     "<path fill='red' d='M5 5H15V15H5ZM7 7V13H13V7Z'/>"));
	bool failed = true;
	for (long granted = 0; failed; granted++) {
		struct arena *arena = arena_create();
		assert_non_null(arena);
		failing_start(granted, false);
		const struct cutlint_sheet *sheet = drawing_sheet(&d, arena);
		failed = failing_stop();
		/* A request may fail and the work go on without it, but no failure may be made up.
		 */
		assert_true(sheet || failed);
		if (sheet)
			assert_has_all(sheet);
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
