/* starter.c - the job files that cutlint job prints: whole, and without a mistake. */
#include "job/starter.h"

#include <math.h>
#include <string.h>

#include "load.h"
#include "unit.h"

static struct starter starter_of(const char *format, const char *stock)
{
	struct starter starter = {.kerf_mm = 0.12, .side = CUTLINT_SIDE_BACK};
	struct value_error error;
	if (starter_set_format(&starter, format, &error) < 0 ||
	    stock_parse(stock, &starter.stock, &error) < 0)
		fail_msg("%s", error.text);
	return starter;
}

static struct loaded load_starter(const struct starter *starter)
{
	struct text text = {0};
	starter_write(&text, starter);
	assert_false(text.failed);
	struct loaded loaded = load_good(text.bytes);
	text_finish(&text);
	return loaded;
}

static void assert_loads_back(const struct starter *starter)
{
	struct loaded loaded = load_starter(starter);
	const struct cutlint_job *facts = &loaded.job->facts;
	assert_true(facts->card_given && facts->card_width_mm == starter->width_mm &&
		    facts->card_height_mm == starter->height_mm);
	assert_string_equal(facts->card_size, starter->format);
	assert_string_equal(facts->stock_name, starter->stock.name);
	assert_true(fabs(facts->stock_grammage - starter->stock.grammage) <= 0.5);
	assert_int_equal(facts->stock_coated, starter->stock.coated);
	assert_true(fabs(facts->stock_thickness_mm -
			 stock_caliper_mm(starter->stock.grammage, starter->stock.coated)) <=
		    0.005);
	assert_true(facts->kerf_mm == starter->kerf_mm);
	assert_int_equal(facts->spine, starter->spine);
	assert_int_equal(facts->side, starter->side);
	if (starter->envelope)
		assert_string_equal(facts->envelope, starter->envelope);
	else
		assert_null(facts->envelope);
	load_finish(&loaded);
}

static void every_format_with_every_stock_loads_back(void **state)
{
	struct cutlint_paper paper;
	struct stock stock;
	unsigned count = 0;
	(void)state;
	for (size_t i = 0; cutlint_paper(i, &paper); i++) {
		for (size_t j = 0; stock_listed(j, &stock); j++, count++) {
			struct starter starter = starter_of(paper.name, stock.name);
			starter.spine = (enum cutlint_spine)(count % 4);
			assert_loads_back(&starter);
		}
	}
	assert_true(count > 400);
	struct starter own = starter_of("4 1/4 in x 5 1/2 in", "270 g/m2 coated");
	assert_loads_back(&own);
}

/* "#key = value" becomes "key = value"; "# words" stays. */
static void every_key_that_is_left_out_can_be_taken_in(void **state)
{
	(void)state;
	struct starter starter = starter_of("ISO A6", "card 250");
	struct text text = {0}, whole = {0};
	unsigned taken = 0;
	starter_write(&text, &starter);
	for (const char *at = text.bytes; *at; at++) {
		bool start = at == text.bytes || at[-1] == '\n';
		if (start && *at == '#' && at[1] != ' ' && at[1] != '\n')
			taken++;
		else
			text_add(&whole, at, 1);
	}
	assert_true(taken > 30);
	struct loaded loaded = load_good(whole.bytes);
	const struct cutlint_job *facts = &loaded.job->facts;
	assert_true(facts->sheet_width_mm > 0 && facts->bed_width_mm > 0);
	assert_true(facts->card_count == 1 && facts->lettering_given && facts->art_named);
	assert_true(facts->recipe[CUTLINT_ROLE_ART].given);
	load_finish(&loaded);
	text_finish(&text);
	text_finish(&whole);
}

/* E = P x passes / v: 0.09 J/mm through card of 250 to 400 g/m², an article's settings table. */
static void recipes_put_the_published_energy_into_a_line(void **state)
{
	static const double WATTS[] = {0.5, 5, 10, 40, 500};
	(void)state;
	for (size_t i = 0; i < sizeof(WATTS) / sizeof(*WATTS); i++) {
		struct starter starter = starter_of("ISO A6", "card 300");
		starter.power_w = WATTS[i];
		struct loaded loaded = load_starter(&starter);
		const struct cutlint_recipe *art = &loaded.job->facts.recipe[CUTLINT_ROLE_ART];
		const struct cutlint_recipe *fold = &loaded.job->facts.recipe[CUTLINT_ROLE_FOLD];
		double cut = WATTS[i] * art->power * art->passes / art->speed_mm_s;
		double score = WATTS[i] * fold->power * fold->passes / fold->speed_mm_s;
		assert_true(fabs(cut / 0.09 - 1) < 0.01);
		assert_true(score <= cut / 2 * 1.000001);
		assert_true(loaded.job->facts.recipe[CUTLINT_ROLE_OUTLINE].given);
		assert_true(loaded.job->facts.recipe[CUTLINT_ROLE_SLIT].given);
		assert_true(loaded.job->facts.recipe[CUTLINT_ROLE_INSET].given);
		load_finish(&loaded);
	}
}

static void assert_format_refused(const char *text, const char *said)
{
	struct starter starter = {0};
	struct value_error error;
	assert_int_equal(starter_set_format(&starter, text, &error), -1);
	if (!strstr(error.text, said))
		fail_msg("'%s' does not hold '%s'", error.text, said);
}

static void assert_stock_refused(const char *text, const char *said)
{
	struct stock stock;
	struct value_error error;
	assert_int_equal(stock_parse(text, &stock, &error), -1);
	if (!strstr(error.text, said))
		fail_msg("'%s' does not hold '%s'", error.text, said);
}

static void unknown_names_list_near_ones(void **state)
{
	(void)state;
	assert_format_refused("US A11", "near names are 'US A1', 'US A10' and ");
	assert_format_refused("A7", "'A7' names two sizes");
	assert_format_refused("3 m x 1 m", "3 m");
	assert_format_refused("3000 mm x 100 mm", "out of range");
	assert_stock_refused("card 260", "near names are 'card 160', 'card 200' and 'card 220'");
	assert_stock_refused("80 lb", "write '80 lb cover'");
	assert_stock_refused("250", "missing unit");
	assert_stock_refused("5 g/m2", "out of range");
}

static void a_plain_name_stands_for_the_one_format_that_has_it(void **state)
{
	(void)state;
	struct starter starter = starter_of("A5", "card 250");
	assert_string_equal(starter.format, "ISO A5");
	assert_string_equal(starter.envelope, "C5");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_format_with_every_stock_loads_back),
		cmocka_unit_test(every_key_that_is_left_out_can_be_taken_in),
		cmocka_unit_test(recipes_put_the_published_energy_into_a_line),
		cmocka_unit_test(unknown_names_list_near_ones),
		cmocka_unit_test(a_plain_name_stands_for_the_one_format_that_has_it),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
