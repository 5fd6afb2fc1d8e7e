#define _GNU_SOURCE /* mkstemp, mkdtemp */
#include "base/source.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "unit.h"

static struct arena *arena;

static int set_up(void **state)
{
	(void)state;
	arena = arena_create();
	return arena ? 0 : -1;
}

static int tear_down(void **state)
{
	(void)state;
	arena_destroy(arena);
	return 0;
}

static struct source index_text(const char *text)
{
	struct source source;
	assert_int_equal(source_index(&source, arena, "card.svg", text, (uint32_t)strlen(text)), 0);
	return source;
}

static void assert_position(const struct source *source, uint32_t byte, uint32_t line,
			    uint32_t column)
{
	struct source_position position = source_position(source, byte);
	assert_int_equal(position.line, line);
	assert_int_equal(position.column, column);
}

static void lines_end_with_lf_crlf_or_cr(void **state)
{
	(void)state;
	struct source source = index_text("a\nbc\r\nd\re\n");
	assert_int_equal(source.line_count, 5);
	assert_position(&source, 0, 1, 1);
	assert_position(&source, 2, 2, 1);
	assert_position(&source, 3, 2, 2);
	assert_position(&source, 6, 3, 1);
	assert_position(&source, 8, 4, 1);
	assert_position(&source, 10, 5, 1);
}

static void columns_count_characters_and_a_tab_is_one(void **state)
{
	(void)state;
	/* Two, three and four bytes (RFC 3629, section 3): e acute, euro sign, a clef (U+1D11E). */
	struct source source = index_text("\t\xc3\xa9\xe2\x82\xac\xf0\x9d\x84\x9ex\n\ty");
	assert_position(&source, 1, 1, 2);
	assert_position(&source, 3, 1, 3);
	assert_position(&source, 6, 1, 4);
	assert_position(&source, 10, 1, 5);
	assert_position(&source, 12, 2, 1);
	assert_position(&source, 13, 2, 2);
}

static void a_byte_order_mark_takes_no_column(void **state)
{
	(void)state;
	struct source source = index_text("\xef\xbb\xbfkerf\nx");
	assert_position(&source, 0, 1, 1);
	assert_position(&source, 3, 1, 1);
	assert_position(&source, 5, 1, 3);
	assert_position(&source, 8, 2, 1);
}

static void a_byte_past_the_end_stands_at_the_end(void **state)
{
	(void)state;
	struct source source = index_text("ab");
	assert_position(&source, 2, 1, 3);
	assert_position(&source, 99, 1, 3);
	source = index_text("");
	assert_int_equal(source.line_count, 1);
	assert_position(&source, 0, 1, 1);
}

/* Every byte's place in a text, by walking over it. */
static void assert_all_positions(const char *text)
{
	struct source source = index_text(text);
	uint32_t line = 1, column = 1;
	for (uint32_t at = 0; text[at]; at++) {
		bool starts = ((unsigned char)text[at] & 0xc0) != 0x80;
		if (starts)
			assert_position(&source, at, line, column);
		column += starts;
		if (text[at] == '\n' || (text[at] == '\r' && text[at + 1] != '\n')) {
			line++;
			column = 1;
		}
	}
}

static void places_in_very_long_lines_are_right(void **state)
{
	(void)state;
	static const char *const PIECES[] = {"M 0,0 ", "\xc3\xa9", "\xe2\x82\xac",
					     "\xf0\x9d\x84\x9e", "\t"};
	char *text = calloc(1, 60001);
	size_t length = 0;
	for (unsigned i = 0; length < 59990; i++) {
		const char *piece = i % 4001 == 4000 ? "\r\n" : PIECES[(i * i / 3) % 5];
		strcpy(text + length, piece);
		length += strlen(piece);
	}
	assert_all_positions(text);
	free(text);
}

static struct notices read_path(const char *path, uint32_t most, struct source *source, int *result)
{
	struct notices notices = {.arena = arena};
	*result = source_read(source, arena, path, path, (struct source_limit){most, "file-bytes"},
			      &notices);
	return notices;
}

static void a_file_is_read_whole(void **state)
{
	(void)state;
	char path[] = "/tmp/cutlint-test-XXXXXX";
	int file = mkstemp(path);
	char *bytes = malloc(200000);
	for (int i = 0; i < 200000; i++)
		bytes[i] = (char)(i % 251);
	assert_int_equal(write(file, bytes, 200000), 200000);
	close(file);

	struct source source;
	int result;
	read_path(path, 200000, &source, &result);
	assert_int_equal(result, 0);
	assert_int_equal(source.length, 200000);
	assert_memory_equal(source.bytes, bytes, 200000);
	assert_int_equal(source.bytes[200000], 0);

	struct notices notices = read_path(path, 199999, &source, &result);
	assert_int_equal(result, SOURCE_TOO_LARGE);
	assert_non_null(strstr(notices.items[0].message, "(limit file-bytes: 199999)"));
	free(bytes);
	unlink(path);
}

static void what_is_no_readable_file_is_refused_with_its_reason(void **state)
{
	(void)state;
	char folder[] = "/tmp/cutlint-test-XXXXXX", fifo[64], loop[64];
	assert_non_null(mkdtemp(folder));
	snprintf(fifo, sizeof(fifo), "%s/fifo", folder);
	assert_int_equal(mkfifo(fifo, 0600), 0);
	snprintf(loop, sizeof(loop), "%s/loop", folder);
	assert_int_equal(symlink(loop, loop), 0);
	const struct {
		const char *path, *why;
	} cases[] = {
		{"/nonexistent/card.svg", "No such file"},
		{folder, "it is a folder"},
		{fifo, "it is not a regular file"},
		{"/dev/null", "it is not a regular file"},
		{"/dev/zero", "it is not a regular file"},
		{loop, "Too many levels of symbolic links"},
	};
	for (size_t i = 0; i < sizeof(cases) / sizeof(*cases); i++) {
		struct source source;
		int result;
		struct notices notices = read_path(cases[i].path, 1000, &source, &result);
		assert_int_equal(result, -1);
		assert_int_equal(notices.count, 1);
		assert_int_equal(notices.items[0].level, NOTICE_FATAL);
		assert_non_null(strstr(notices.items[0].message, cases[i].path));
		assert_non_null(strstr(notices.items[0].message, cases[i].why));
	}
	unlink(fifo);
	unlink(loop);
	rmdir(folder);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(lines_end_with_lf_crlf_or_cr),
		cmocka_unit_test(columns_count_characters_and_a_tab_is_one),
		cmocka_unit_test(a_byte_order_mark_takes_no_column),
		cmocka_unit_test(a_byte_past_the_end_stands_at_the_end),
		cmocka_unit_test(places_in_very_long_lines_are_right),
		cmocka_unit_test(a_file_is_read_whole),
		cmocka_unit_test(what_is_no_readable_file_is_refused_with_its_reason),
	};
	return cmocka_run_group_tests(tests, set_up, tear_down);
}
