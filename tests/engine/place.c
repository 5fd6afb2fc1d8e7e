/* place.c - places in the job file and in path data. */
#include "engine/place.h"

#include <string.h>

#include "fresh.h"

#include "drawing.h"

#define JOB_TEXT "# a job\n[stock]\nname = vinyl\n[recipe art]\n  power = 80 %\n"

static const struct job_entry NAME = {.key = "name", .key_byte = 16, .key_length = 4};
static const struct job_entry POWER = {.key = "power", .key_byte = 44, .key_length = 5};
static const struct job_section SECTIONS[] = {
	{.kind = "stock", .byte = 8, .length = 7, .entries = &NAME, .entry_count = 1},
	{.kind = "recipe",
	 .name = "art",
	 .byte = 29,
	 .length = 12,
	 .entries = &POWER,
	 .entry_count = 1},
};

static void assert_place(struct arena *arena, const char *section, const char *name,
			 const char *key, uint32_t line, uint32_t column)
{
	struct job job = {.sections = SECTIONS, .section_count = 2};
	source_index(&job.source, arena, "shop.job", JOB_TEXT, (uint32_t)strlen(JOB_TEXT));
	struct cutlint_place place = place_in_job(&job, section, name, key);
	struct finding_place shown;
	place_set_job(&shown, &job, &place, NULL);
	assert_true(shown.in_job);
	assert_string_equal(shown.file, "shop.job");
	assert_int_equal(shown.line, line);
	assert_int_equal(shown.column, column);
}

static void a_key_of_the_job_is_named_at_its_line(void **state)
{
	assert_place(*state, "stock", NULL, "name", 3, 1);
	assert_place(*state, "recipe", "art", "power", 5, 3);
}

static void without_the_key_it_is_the_section_and_without_that_the_file(void **state)
{
	assert_place(*state, "stock", NULL, "grammage", 2, 1);
	assert_place(*state, "recipe", "art", NULL, 4, 1);
	assert_place(*state, "recipe", "fold", "power", 1, 1);
	assert_place(*state, "card", NULL, "size", 1, 1);
}

/* The commands of the drawing are "M0 0", "H10" and "V10"; white space behind them is not theirs.
 */
static void a_command_ends_with_its_last_number(void **state)
{
	static const char *const COMMANDS[] = {"M0 0", "H10", "V10"};
	struct drawing drawing;
	drawing_init(&drawing, *state);
	for (uint32_t i = 0; i < 3; i++) {
		struct cutlint_place place = cutlint_place_vertex(&drawing.design, i);
		assert_int_equal(place.span.length, strlen(COMMANDS[i]));
		assert_memory_equal(drawing.priv.source.bytes + place.span.byte, COMMANDS[i],
				    place.span.length);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(a_key_of_the_job_is_named_at_its_line),
		FRESH(a_command_ends_with_its_last_number),
		FRESH(without_the_key_it_is_the_section_and_without_that_the_file),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
