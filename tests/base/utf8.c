/* Reference: RFC 3629, "UTF-8, a transformation format of ISO 10646". */
#include "base/utf8.h"

#include <stdio.h>
#include <string.h>

#include "unit.h"

/* The encoding as section 3 of the RFC writes it out. Returns its length. */
static size_t encode(uint32_t character, unsigned char out[5])
{
	memset(out, 0, 5);
	if (character < 0x80) {
		out[0] = (unsigned char)character;
		return 1;
	}
	if (character < 0x800) {
		out[0] = (unsigned char)(0xc0 | character >> 6);
		out[1] = (unsigned char)(0x80 | (character & 0x3f));
		return 2;
	}
	if (character < 0x10000) {
		out[0] = (unsigned char)(0xe0 | character >> 12);
		out[1] = (unsigned char)(0x80 | (character >> 6 & 0x3f));
		out[2] = (unsigned char)(0x80 | (character & 0x3f));
		return 3;
	}
	out[0] = (unsigned char)(0xf0 | character >> 18);
	out[1] = (unsigned char)(0x80 | (character >> 12 & 0x3f));
	out[2] = (unsigned char)(0x80 | (character >> 6 & 0x3f));
	out[3] = (unsigned char)(0x80 | (character & 0x3f));
	return 4;
}

static void every_character_is_valid_but_surrogates(void **state)
{
	(void)state;
	for (uint32_t character = 0; character <= 0x1fffff; character++) {
		unsigned char bytes[5];
		size_t length = encode(character, bytes);
		bool surrogate = character >= 0xd800 && character <= 0xdfff;
		size_t expected = surrogate || character > 0x10ffff ? 0 : length;
		if (utf8_length(bytes) != expected)
			fail_msg("U+%04X", character);
	}
}

static void overlong_and_broken_forms_are_invalid(void **state)
{
	(void)state;
	/* RFC 3629, section 3 (no C0 80 for U+0000) and section 10 (2F C0 AE 2E 2F). */
	static const char *const BROKEN[] = {
		"\xc0\x80",
		"\x2f\xc0\xae\x2e\x2f",
		"\xc1\xbf",
		"\xe0\x80\x80",
		"\xe0\x9f\xbf",
		"\xf0\x80\x80\x80",
		"\xf0\x8f\xbf\xbf",
		"\xed\xa0\x80",
		"\xf4\x90\x80\x80",
		"\xf5\x80\x80\x80",
		"\xff",
		"\x80",
		"a\xbf",
		"\xc3",
		"\xe2\x82",
		"\xf0\x9d\x84",
		"\xc3(",
		"\xe2\x28\xa1",
	};
	for (size_t i = 0; i < sizeof(BROKEN) / sizeof(*BROKEN); i++)
		assert_false(utf8_valid(BROKEN[i], strlen(BROKEN[i])));
}

static void the_examples_of_the_standard_are_valid(void **state)
{
	(void)state;
	/* RFC 3629, section 7. */
	static const struct {
		const char *text;
		size_t characters;
	} EXAMPLES[] = {
		{"\x41\xe2\x89\xa2\xce\x91\x2e", 4},
		{"\xed\x95\x9c\xea\xb5\xad\xec\x96\xb4", 3},
		{"\xe6\x97\xa5\xe6\x9c\xac\xe8\xaa\x9e", 3},
		{"\xef\xbb\xbf\xf0\xa3\x8e\xb4", 2},
	};
	for (size_t i = 0; i < 4; i++) {
		size_t length = strlen(EXAMPLES[i].text);
		assert_true(utf8_valid(EXAMPLES[i].text, length));
		assert_int_equal(utf8_count(EXAMPLES[i].text, length), EXAMPLES[i].characters);
	}
}

static void a_sequence_cut_by_the_end_is_invalid(void **state)
{
	(void)state;
	assert_true(utf8_valid("\xe2\x82\xac", 3));
	assert_false(utf8_valid("\xe2\x82\xac", 2));
	assert_true(utf8_valid("a\0b", 3));
	assert_true(utf8_valid("", 0));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_character_is_valid_but_surrogates),
		cmocka_unit_test(overlong_and_broken_forms_are_invalid),
		cmocka_unit_test(the_examples_of_the_standard_are_valid),
		cmocka_unit_test(a_sequence_cut_by_the_end_is_invalid),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
