/* Packed drawings: gzip (RFC 1952), as SVG 2, 1.4 (SVG MIME type, file name extension) has it. */
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "gzip.h"
#include "helper.h"

static void pack(struct text *out, const char *bytes, size_t length)
{
	size_t packed_length;
	char *packed = gzip_pack(bytes, length, &packed_length);
	text_add(out, packed, packed_length);
	free(packed);
}

static const char SAMPLE[] = "<?xml version=\"1.0\"?>\r\n" ROOT_100MM
			     "\n\t<path d='M0 0h5 x'/>\n<circle r=\"2\"/></svg>\n";

static void a_packed_drawing_is_read_and_places_count_in_its_text(void **state)
{
	(void)state;
	struct text packed = {0};
	pack(&packed, SAMPLE, sizeof(SAMPLE) - 1);
	struct loaded loaded = load_bytes(packed.bytes, packed.length);
	assert_int_equal(loaded.result, 0);
	assert_int_equal(loaded.design->outline_count, 2);
	const struct notice *notice = assert_notice_at(&loaded, "path-data", NOTICE_ERROR, "x'/>");
	struct source_position position = design_position(loaded.design, notice->byte);
	assert_int_equal(position.line, 3);
	assert_int_equal(position.column, 18);
	unload(&loaded);
	text_finish(&packed);
}

static void several_packed_parts_and_padding_are_one_text(void **state)
{
	(void)state;
	/* RFC 1952, 2.2: members follow each other */
	struct text packed = {0};
	pack(&packed, SAMPLE, 40);
	pack(&packed, SAMPLE + 40, sizeof(SAMPLE) - 1 - 40);
	text_add(&packed, "\0\0\0", 3);
	struct loaded loaded = load_bytes(packed.bytes, packed.length);
	assert_int_equal(loaded.result, 0);
	assert_int_equal(loaded.design->outline_count, 2);
	unload(&loaded);
	text_finish(&packed);
}

static void a_packed_drawing_in_another_encoding_is_read(void **state)
{
	(void)state;
	static const char LATIN[] = "<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>" ROOT_OPEN
				    "width=\"9mm\" height=\"9mm\" viewBox=\"0 0 9 9\">"
				    "<rect id=\"\xe9\" width=\"1\" height=\"1\"/></svg>";
	struct text packed = {0};
	pack(&packed, LATIN, sizeof(LATIN) - 1);
	struct loaded loaded = load_bytes(packed.bytes, packed.length);
	assert_no_notices(&loaded);
	assert_non_null(shape_of(&loaded, "\xc3\xa9"));
	unload(&loaded);
	text_finish(&packed);
}

static void a_packed_drawing_cut_off_anywhere_is_refused(void **state)
{
	(void)state;
	struct text packed = {0};
	pack(&packed, SAMPLE, sizeof(SAMPLE) - 1);
	for (size_t length = 2; length < packed.length; length++) {
		struct loaded loaded = load_bytes(packed.bytes, length);
		assert_int_equal(loaded.result, -1);
		assert_string_equal(notice_of(&loaded, "encoding")->message,
				    "the drawing is packed (gzip), and its end is missing");
		unload(&loaded);
	}
	text_finish(&packed);
}

static void a_damaged_packed_drawing_is_refused(void **state)
{
	(void)state;
	struct text packed = {0};
	pack(&packed, SAMPLE, sizeof(SAMPLE) - 1);
	for (size_t i = 2; i < packed.length; i++) {
		char before = packed.bytes[i];
		packed.bytes[i] ^= 0x55;
		struct loaded loaded = load_bytes(packed.bytes, packed.length);
		/* time, flags and system (RFC 1952, 2.3.1) are not part of the check */
		if (i >= 10)
			assert_int_equal(loaded.result, -1);
		unload(&loaded);
		packed.bytes[i] = before;
	}
	text_add_string(&packed, "more");
	struct loaded loaded = load_bytes(packed.bytes, packed.length);
	assert_int_equal(loaded.result, -1);
	unload(&loaded);
	text_finish(&packed);
}

static void a_bomb_is_given_up_at_a_limit(void **state)
{
	(void)state;
	size_t length = (size_t)32 * 1024 * 1024;
	char *spaces = malloc(length);
	memset(spaces, ' ', length);
	struct text packed = {0};
	pack(&packed, spaces, length);
	struct loaded loaded = load_bytes(packed.bytes, packed.length);
	assert_int_equal(loaded.result, -1);
	assert_non_null(
		strstr(notice_of(&loaded, "too-large")->message, "limit unpack-ratio: 200"));
	assert_true(arena_size(loaded.arena) < length / 4);
	unload(&loaded);

	struct text twice = {0};
	pack(&twice, packed.bytes, packed.length);
	loaded = load_bytes(twice.bytes, twice.length);
	assert_int_equal(loaded.result, -1);
	unload(&loaded);
	text_finish(&twice);
	text_finish(&packed);
	free(spaces);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_packed_drawing_is_read_and_places_count_in_its_text),
		cmocka_unit_test(several_packed_parts_and_padding_are_one_text),
		cmocka_unit_test(a_packed_drawing_in_another_encoding_is_read),
		cmocka_unit_test(a_packed_drawing_cut_off_anywhere_is_refused),
		cmocka_unit_test(a_damaged_packed_drawing_is_refused),
		cmocka_unit_test(a_bomb_is_given_up_at_a_limit),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
