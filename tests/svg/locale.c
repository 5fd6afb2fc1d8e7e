/* Drawings are read the same under a locale whose decimal sign is a comma. */
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include "helper.h"

static bool use_comma_locale(void)
{
	static const char *const NAMES[] = {"de_DE.UTF-8", "de_DE.utf8", "de_DE",
					    "fr_FR.UTF-8", "fr_FR.utf8", "nl_NL.UTF-8"};
	for (size_t i = 0; i < sizeof(NAMES) / sizeof(*NAMES); i++) {
		if (setlocale(LC_ALL, NAMES[i]) && strcmp(localeconv()->decimal_point, ",") == 0)
			return true;
	}
	return false;
}

static void numbers_keep_their_point_under_a_comma_locale(void **state)
{
	(void)state;
	if (!use_comma_locale()) {
		print_message("skipped: no locale with a decimal comma is installed\n");
		skip();
	}
	struct loaded loaded =
		load(ROOT_OPEN "width=\"10.5mm\" height=\"21.5mm\" viewBox=\"0 0 10.5 21.5\">"
			       "<path transform=\"translate(0.25 .5)\" "
			       "d=\"M1.5 2.5L3.123456789012345678901 4.75\"/></svg>");
	setlocale(LC_ALL, "C");
	assert_no_notices(&loaded);
	assert_near(loaded.design->page_width_mm, 10.5, 1e-12);
	assert_vertex(&loaded, 0, 0, 1.75, 3);
	assert_vertex(&loaded, 0, 1, 3.373456789, 5.25);
	unload(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(numbers_keep_their_point_under_a_comma_locale),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
