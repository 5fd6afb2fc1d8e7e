/* The example of docs/job-file.md is a valid job. */
#include <string.h>

#include "file.h"
#include "job/value.h"
#include "load.h"
#include "unit.h"

static const char *path;

static char *read_page(void)
{
	char *page = file_read(path);
	assert_non_null(page);
	return page;
}

static void the_example_has_no_mistake(void **state)
{
	(void)state;
	char *page = read_page();
	char *example = strstr(page, "```ini\n");
	assert_non_null(example);
	example += strlen("```ini\n");
	*strstr(example, "```") = '\0';

	struct loaded loaded = load_good(example);
	assert_true(loaded.job->facts.card_width_mm == 105);
	assert_int_equal(loaded.job->facts.recipe[CUTLINT_ROLE_ART].passes, 2);
	assert_non_null(job_rule_section(loaded.job, "bridge-width"));
	load_finish(&loaded);
	free(page);
}

static void assert_row(const char *page, const char *start, double value, enum value_kind kind)
{
	char figure[48], row[128];
	value_format(value, kind, figure);
	snprintf(row, sizeof(row), "\n| `%s | %s", start, figure);
	if (!strstr(page, row))
		fail_msg("the page has no row '%s'", row + 1);
}

static void the_page_states_the_defaults_in_force(void **state)
{
	(void)state;
	char *page = read_page();
	struct loaded loaded = load_good(NULL);
	const struct cutlint_job *facts = &loaded.job->facts;
	assert_row(page, "thickness` | length", facts->stock_thickness_mm, VALUE_LENGTH);
	assert_row(page, "kerf` | length", facts->kerf_mm, VALUE_LENGTH);
	assert_row(page, "flatness` | length", facts->flatness_mm, VALUE_LENGTH);
	assert_row(page, "join` | length", facts->join_mm, VALUE_LENGTH);
	assert_row(page, "scan` | length", facts->scan_mm, VALUE_LENGTH);
	assert_int_equal(facts->stock_grammage, 250);
	assert_non_null(strstr(page, "\n| `grammage` | grammage | 250 g/m²;"));
	load_finish(&loaded);
	free(page);
}

int main(int argc, char **argv)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_example_has_no_mistake),
		cmocka_unit_test(the_page_states_the_defaults_in_force),
	};
	if (argc < 2)
		return 1;
	path = argv[1];
	return cmocka_run_group_tests(tests, NULL, NULL);
}
