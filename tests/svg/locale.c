/* Drawings are read the same under a locale whose decimal sign is a comma. */
#define _GNU_SOURCE /* mkdtemp, setenv */
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "helper.h"

static bool has_comma(const char *name)
{
	return setlocale(LC_ALL, name) && strcmp(localeconv()->decimal_point, ",") == 0;
}

/* Where no such locale is installed, one can often be made from the system's descriptions. */
static bool make_comma_locale(char *folder)
{
	char command[256];
	if (!mkdtemp(folder))
		return false;
	snprintf(command, sizeof(command),
		 "localedef -i de_DE -f UTF-8 '%s/de_DE.UTF-8' >/dev/null 2>&1", folder);
	return system(command) == 0 && setenv("LOCPATH", folder, 1) == 0 &&
	       has_comma("de_DE.UTF-8");
}

static void remove_folder(const char *folder)
{
	char command[256];
	snprintf(command, sizeof(command), "rm -rf '%s'", folder);
	if (system(command) != 0)
		print_message("%s is left\n", folder);
}

static bool use_comma_locale(void)
{
	static const char *const NAMES[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8"};
	for (size_t i = 0; i < sizeof(NAMES) / sizeof(*NAMES); i++) {
		if (has_comma(NAMES[i]))
			return true;
	}
	char folder[] = "/tmp/cutlint-locale-XXXXXX";
	bool made = make_comma_locale(folder);
	remove_folder(folder);
	return made;
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
