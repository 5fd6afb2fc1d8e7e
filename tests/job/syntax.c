#include <stdlib.h>
#include <string.h>

#include "load.h"
#include "unit.h"

/* The value of the only key of the only section. */
static void assert_value(const char *line, const char *value, unsigned column, unsigned length)
{
	char text[256] = "[rule x]\n";
	strcat(text, line);
	struct loaded loaded = load_good(text);
	const struct job_entry *entry = &job_rule_section(loaded.job, "x")->entries[0];
	assert_string_equal(entry->value, value);
	assert_int_equal(source_position(&loaded.job->source, entry->value_byte).column, column);
	assert_int_equal(entry->value_length, length);
	load_finish(&loaded);
}

static void white_space_round_words_is_free(void **state)
{
	(void)state;
	assert_value("key=value", "value", 5, 5);
	assert_value("\t key \t = \t two words \t \n", "two words", 13, 9);
	assert_value("key = value\r\n", "value", 7, 5);
	assert_value("key = a = b\n", "a = b", 7, 5);
}

static void a_comment_starts_behind_white_space(void **state)
{
	(void)state;
	assert_value("key = value # why\n", "value", 7, 5);
	assert_value("key = value\t#why\n", "value", 7, 5);
	assert_value("key = a#b\n", "a#b", 7, 3);
	assert_value("key = #808080\n", "#808080", 7, 7);
	assert_value("key = #808080 # grey\n", "#808080", 7, 7);
	assert_value("# key = other\n   # more\nkey = value\n", "value", 7, 5);
}

static void quotes_keep_all_they_hold(void **state)
{
	(void)state;
	assert_value("key = \"a # b\"\n", "a # b", 8, 5);
	assert_value("key = \"  a  \"  # why\n", "  a  ", 8, 5);
	assert_value("key = \"a \\\"b\\\" \\\\d\"\n", "a \"b\" \\d", 8, 11);
	assert_value("key = a \"b\"\n", "a \"b\"", 7, 5);
	assert_value("key = a\\d\n", "a\\d", 7, 3);
}

static void sections_keep_kind_name_and_place(void **state)
{
	(void)state;
	struct loaded loaded =
		load_good("# job\n\n  [ rule \t bridge-width ]  # note\nerror = 1 mm\n"
			  "[rule b]\n");
	assert_int_equal(loaded.job->section_count, 2);
	const struct job_section *section = &loaded.job->sections[0];
	struct source_position at = source_position(&loaded.job->source, section->byte);
	assert_string_equal(section->kind, "rule");
	assert_string_equal(section->name, "bridge-width");
	assert_int_equal(at.line, 3);
	assert_int_equal(at.column, 3);
	assert_int_equal(section->length, strlen("[ rule \t bridge-width ]"));
	assert_int_equal(section->entry_count, 1);
	assert_int_equal(loaded.job->sections[1].entry_count, 0);
	load_finish(&loaded);
}

static void lines_may_be_of_any_length(void **state)
{
	(void)state;
	size_t length = 300000;
	char *text = malloc(length + 64);
	strcpy(text, "[stock]\nname = ");
	memset(text + 15, 'i', length);
	strcpy(text + 15 + length, "\n[burn]\nkerf = 0.2 mm");
	struct loaded loaded = load_good(text);
	assert_int_equal(strlen(loaded.job->facts.stock_name), length);
	assert_true(loaded.job->facts.kerf_mm == 0.2);
	load_finish(&loaded);
	free(text);
}

static void every_cut_of_a_file_is_read_or_refused(void **state)
{
	(void)state;
	static const char TEXT[] = "\xef\xbb\xbf[stock]\r\nname = \"a \\\" \xf0\x9d\x84\x9e\"\r\n"
				   "[roles]\nart = (a|b)\nfold stroke = #80[8]080\n"
				   "[card]\nsize = 4 1/4 in x 5 1/2 in\n";
	for (size_t cut = 0; cut < sizeof(TEXT); cut++) {
		struct loaded loaded = load_bytes(TEXT, cut);
		assert_int_equal(loaded.result, loaded.notices.count > 0 ? -1 : 0);
		for (uint32_t i = 0; i < loaded.notices.count; i++) {
			const struct notice *notice = &loaded.notices.items[i];
			assert_true(notice->byte + notice->length <= cut);
		}
		load_finish(&loaded);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(white_space_round_words_is_free),
		cmocka_unit_test(a_comment_starts_behind_white_space),
		cmocka_unit_test(quotes_keep_all_they_hold),
		cmocka_unit_test(sections_keep_kind_name_and_place),
		cmocka_unit_test(lines_may_be_of_any_length),
		cmocka_unit_test(every_cut_of_a_file_is_read_or_refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
