#include <math.h>
#include <string.h>

#include "load.h"
#include "unit.h"

static bool near(double a, double b)
{
	return fabs(a - b) < 1e-12;
}

static void assert_defaults(const struct cutlint_job *facts)
{
	assert_string_equal(facts->stock_name, "card");
	assert_true(facts->stock_thickness_mm == 0.34);
	assert_true(facts->stock_grammage == 250);
	assert_true(facts->stock_colour == CUTLINT_NO_COLOUR);
	assert_true(facts->inset_colour == CUTLINT_NO_COLOUR);
	assert_true(facts->kerf_mm == 0.15);
	assert_true(facts->join_mm == 0.05);
	assert_true(facts->scan_mm == 3);
	assert_true(facts->flatness_mm == 0.005);
	assert_true(facts->machine_power_w == 0);
	assert_int_equal(facts->side, CUTLINT_SIDE_FRONT);
	assert_int_equal(facts->spine, CUTLINT_SPINE_LEFT);
	assert_false(facts->side_given);
	assert_false(facts->spine_given);
	assert_false(facts->card_given);
	assert_false(facts->art_named);
	for (int role = 0; role < CUTLINT_ROLE_COUNT; role++)
		assert_false(facts->recipe[role].given);
}

static void without_a_file_the_built_in_job_serves(void **state)
{
	(void)state;
	struct loaded loaded = load_good(NULL);
	assert_null(loaded.job->facts.file);
	assert_string_equal(loaded.job->source.bytes, job_default_text);
	assert_defaults(&loaded.job->facts);
	assert_int_equal(loaded.job->module_count, 0);
	assert_true(loaded.job->unit_mm == 0);
	load_finish(&loaded);
}

static void an_empty_file_has_the_same_figures(void **state)
{
	(void)state;
	static const char *const TEXTS[] = {"", "\xef\xbb\xbf", "\r\n\r\n", "# nothing\n\n  # here",
					    "[burn]\n[card]\n[stock]\n"};
	for (size_t i = 0; i < sizeof(TEXTS) / sizeof(*TEXTS); i++) {
		struct loaded loaded = load_good(TEXTS[i]);
		assert_non_null(loaded.job->facts.file);
		assert_defaults(&loaded.job->facts);
		load_finish(&loaded);
	}
}

static void every_fact_of_a_whole_job_is_read(void **state)
{
	(void)state;
	struct loaded loaded = load_good("[stock]\n"
					 "name = ivory card\n"
					 "thickness = 0.4 mm\n"
					 "grammage = 300 g/m2  # from the label\n"
					 "colour = #Fff8e7\n"
					 "inset-colour = #12345f # behind the windows\n"
					 "[burn]\n"
					 "kerf = 0.006 in\n"
					 "cut-from = back\n"
					 "machine-power = 10 W\n"
					 "[card]\n"
					 "size = ISO A6\n"
					 "spine = top\n"
					 "[drawing]\n"
					 "flatness = 10 um\n"
					 "join = 0.1 mm\n"
					 "scan = 4 mm\n"
					 "unit = 1 mm\n"
					 "[roles]\n"
					 "art = (^|/)petals(/|$)\n"
					 "[recipe art]\n"
					 "speed = 300 mm/min\n"
					 "power = 80 %\n"
					 "passes = 2\n"
					 "[recipe fold]\n"
					 "speed = 1000 mm/min\n"
					 "power = 0.2\n"
					 "[modules]\n"
					 "require = my-shop-rule\n"
					 "require = another\n"
					 "[rule bridge-width]\n"
					 "severity = warning\n"
					 "error = 0.35 mm\n");
	const struct cutlint_job *facts = &loaded.job->facts;
	assert_string_equal(facts->stock_name, "ivory card");
	assert_true(near(facts->stock_thickness_mm, 0.4));
	assert_true(near(facts->stock_grammage, 300));
	assert_int_equal(facts->stock_colour, 0xfff8e7);
	assert_int_equal(facts->inset_colour, 0x12345f);
	assert_true(near(facts->kerf_mm, 0.1524));
	assert_int_equal(facts->side, CUTLINT_SIDE_BACK);
	assert_true(facts->side_given);
	assert_true(near(facts->machine_power_w, 10));
	assert_true(facts->card_given);
	assert_string_equal(facts->card_size, "ISO A6");
	assert_true(facts->card_width_mm == 105 && facts->card_height_mm == 148);
	assert_int_equal(facts->spine, CUTLINT_SPINE_TOP);
	assert_true(facts->spine_given);
	assert_true(near(facts->flatness_mm, 0.01));
	assert_true(near(facts->join_mm, 0.1));
	assert_true(near(facts->scan_mm, 4));
	assert_true(near(loaded.job->unit_mm, 1));
	assert_true(facts->art_named);

	const struct cutlint_recipe *art = &facts->recipe[CUTLINT_ROLE_ART];
	const struct cutlint_recipe *fold = &facts->recipe[CUTLINT_ROLE_FOLD];
	assert_true(art->given && near(art->speed_mm_s, 5) && near(art->power, 0.8));
	assert_int_equal(art->passes, 2);
	assert_true(fold->given && near(fold->power, 0.2));
	assert_int_equal(fold->passes, 1);
	assert_false(facts->recipe[CUTLINT_ROLE_SLIT].given);

	assert_int_equal(loaded.job->module_count, 2);
	assert_string_equal(loaded.job->modules[0], "my-shop-rule");
	assert_string_equal(loaded.job->modules[1], "another");
	uint32_t byte = loaded.job->module_entries[1]->value_byte;
	assert_int_equal(source_position(&loaded.job->source, byte).line, 30);
	load_finish(&loaded);
}

static void stock_machine_and_envelope_are_optional_facts(void **state)
{
	(void)state;
	struct loaded loaded =
		load_good("[stock]\nsheet = ISO A4\ngrain = level\n"
			  "[card]\nenvelope = US A7\ncount = 4\n"
			  "[machine]\nbed = 400 mm x 30 cm\nslowest = 60 mm/min\n"
			  "fastest = 100 mm/s\nleast-power = 5 %\norder = drawing\n");
	const struct cutlint_job *facts = &loaded.job->facts;
	assert_true(facts->sheet_width_mm == 210 && facts->sheet_height_mm == 297);
	assert_int_equal(facts->grain, CUTLINT_GRAIN_LEVEL);
	assert_string_equal(facts->envelope, "US A7");
	assert_true(near(facts->envelope_width_mm, 133.35));
	assert_true(near(facts->envelope_height_mm, 184.15));
	assert_int_equal(facts->card_count, 4);
	assert_true(near(facts->bed_width_mm, 400) && near(facts->bed_height_mm, 300));
	assert_true(near(facts->slowest_mm_s, 1) && near(facts->fastest_mm_s, 100));
	assert_true(near(facts->least_power, 0.05));
	assert_true(facts->drawing_order);
	load_finish(&loaded);

	loaded = load_good("");
	facts = &loaded.job->facts;
	assert_null(facts->envelope);
	assert_true(facts->sheet_width_mm == 0 && facts->bed_width_mm == 0);
	assert_true(facts->slowest_mm_s == 0 && facts->fastest_mm_s == 0);
	assert_true(facts->least_power == 0);
	assert_false(facts->drawing_order);
	assert_int_equal(facts->card_count, 0);
	assert_int_equal(facts->grain, CUTLINT_GRAIN_UNKNOWN);
	load_finish(&loaded);
}

static void a_rule_keeps_its_section_unread(void **state)
{
	(void)state;
	struct loaded loaded = load_good("[rule bridge-width]\nanything = at all\n[rule other]\n");
	const struct job_section *section = job_rule_section(loaded.job, "bridge-width");
	assert_int_equal(section->entry_count, 1);
	assert_string_equal(section->entries[0].key, "anything");
	assert_string_equal(section->entries[0].value, "at all");
	assert_int_equal(job_rule_section(loaded.job, "other")->entry_count, 0);
	assert_null(job_rule_section(loaded.job, "bridge"));
	load_finish(&loaded);
}

static void thickness_follows_from_grammage(void **state)
{
	(void)state;
	/* Uncoated card: 1.35 cm³/g of bulk; 250 g/m² is 0.34 mm. Common practice, no standard. */
	struct loaded loaded = load_good("[stock]\ngrammage = 250 gsm\n");
	assert_true(fabs(loaded.job->facts.stock_thickness_mm - 0.34) < 0.005);
	load_finish(&loaded);

	loaded = load_good("[stock]\ngrammage = 200 g/m2\n");
	assert_true(near(loaded.job->facts.stock_thickness_mm, 0.27));
	load_finish(&loaded);

	loaded = load_good("[stock]\nthickness = 0.5 mm\n");
	assert_true(near(loaded.job->facts.stock_thickness_mm, 0.5));
	assert_true(loaded.job->facts.stock_grammage == 0);
	load_finish(&loaded);

	loaded = load_good("[stock]\nthickness = 0.5 mm\ngrammage = 200 g/m2\n");
	assert_true(near(loaded.job->facts.stock_thickness_mm, 0.5));
	load_finish(&loaded);
}

static void lettering_and_stretches_of_files_are_read(void **state)
{
	(void)state;
	struct loaded loaded = load_good("[lettering]\nbox = 60 mm x 12 mm\n"
					 "[rule hole-size drafts]\nfiles = ^drafts/\n"
					 "reason = \"not cut yet; see the # list\"\n");
	assert_true(loaded.job->facts.lettering_given);
	assert_true(near(loaded.job->facts.lettering_width_mm, 60));
	assert_true(near(loaded.job->facts.lettering_height_mm, 12));
	assert_int_equal(loaded.job->stretch_count, 1);
	assert_string_equal(loaded.job->stretches[0].rule, "hole-size");
	assert_string_equal(loaded.job->stretches[0].reason, "not cut yet; see the # list");
	assert_null(job_rule_section(loaded.job, "hole-size"));

	/* A drawing elsewhere is seen with its whole path. */
	bool takes = true;
	assert_int_equal(job_stretch_takes(loaded.job, &loaded.job->stretches[0],
					   "/no/such/drafts/a.svg", &loaded.notices, &takes),
			 0);
	assert_false(takes);
	load_finish(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(lettering_and_stretches_of_files_are_read),
		cmocka_unit_test(without_a_file_the_built_in_job_serves),
		cmocka_unit_test(an_empty_file_has_the_same_figures),
		cmocka_unit_test(every_fact_of_a_whole_job_is_read),
		cmocka_unit_test(stock_machine_and_envelope_are_optional_facts),
		cmocka_unit_test(a_rule_keeps_its_section_unread),
		cmocka_unit_test(thickness_follows_from_grammage),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
