#include "base/text.h"

#include <string.h>

#include "unit.h"

static void a_text_grows_as_needed(void **state)
{
	(void)state;
	struct text text = {0};
	for (int i = 0; i < 10000; i++)
		text_format(&text, "%d,", i % 10);
	assert_false(text.failed);
	assert_int_equal(text.length, 20000);
	assert_int_equal(strlen(text.bytes), 20000);
	for (int i = 0; i < 10000; i++)
		assert_int_equal(text.bytes[2 * i], '0' + i % 10);
	text_finish(&text);
	assert_null(text.bytes);
}

static void nothing_added_is_an_empty_string(void **state)
{
	(void)state;
	struct text text = {0};
	text_add(&text, NULL, 0);
	assert_string_equal(text.bytes, "");
	text_add_string(&text, "art");
	text_add_string(&text, "");
	assert_string_equal(text.bytes, "art");
	text_finish(&text);
	text_finish(&text);
}

static void names_from_outside_cannot_forge_lines_or_steer_a_terminal(void **state)
{
	(void)state;
	/* Control characters: ECMA-48 C0 (00-1F, 7F) and C1 (80-9F, in UTF-8 C2 80 to C2 9F). */
	static const struct {
		const char *raw, *shown;
	} CASES[] = {
		{"petal-3", "petal-3"},
		{"a\nb.svg:1:1: error", "a\\x0ab.svg:1:1: error"},
		{"\x1b[2J", "\\x1b[2J"},
		{"\x7f", "\\x7f"},
		{"\xc2\x9b"
		 "2J",
		 "\\xc2\\x9b2J"},
		{"\xc2\xa0", "\xc2\xa0"},
		{"a\xe2\x80\xa8"
		 "b",
		 "a\\xe2\\x80\\xa8b"},
		{"\xe2\x80\xae"
		 "gvs",
		 "\\xe2\\x80\\xaegvs"},
		{"\xe2\x81\xa6", "\\xe2\\x81\\xa6"},
		{"\xe2\x80\x94", "\xe2\x80\x94"},
		{"bl\xc3\xbcte", "bl\xc3\xbcte"},
		{"\xff\xfe", "\\xff\\xfe"},
		{"cut\xc3", "cut\\xc3"},
		{"\xe2\x82", "\\xe2\\x82"},
		{"\xf0\x9d\x84\x9e", "\xf0\x9d\x84\x9e"},
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		struct text text = {0};
		text_add_string(&text, "");
		text_add_escaped(&text, CASES[i].raw);
		assert_string_equal(text.bytes, CASES[i].shown);
		text_finish(&text);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_text_grows_as_needed),
		cmocka_unit_test(nothing_added_is_an_empty_string),
		cmocka_unit_test(names_from_outside_cannot_forge_lines_or_steer_a_terminal),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
