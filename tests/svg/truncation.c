/*
 * Drawings cut off at every byte, as a full disk or a broken transfer leaves them: always one clear
 * error at a place of the text that there is, and never a drawing that lacks what was cut off.
 * Usage: test-svg-truncation FILE...
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "helper.h"

#define LONGEST ((size_t)64 * 1024)

struct sample {
	const char *path;
	char bytes[LONGEST];
	size_t length;
};

static struct sample sample;

static void read_sample(const char *path)
{
	FILE *file = fopen(path, "rb");
	if (!file)
		fail_msg("cannot open %s", path);
	sample.path = path;
	sample.length = fread(sample.bytes, 1, LONGEST, file);
	fclose(file);
	assert_in_range(sample.length, 1, LONGEST - 1);
}

static bool ends_with(const char *bytes, size_t length, const char *end)
{
	size_t size = strlen(end);
	return length >= size && memcmp(bytes + length - size, end, size) == 0;
}

/* XML 1.0, 2.1: behind the end of the root element there may be nothing. */
static size_t shortest_whole(void)
{
	size_t length = sample.length;
	static const char WIDE_END[] = {'>', 0, '\n', 0};
	if (length > 4 && memcmp(sample.bytes + length - 4, WIDE_END, 4) == 0)
		return length - 2;
	while (ends_with(sample.bytes, length, "\n") || ends_with(sample.bytes, length, "\r"))
		length--;
	return length;
}

/* From a block of its own, so that a sanitizer sees what is read past its end. */
static struct loaded load_first(size_t length, struct svg_report *report)
{
	struct svg_options options = {.flatness_mm = 0.005, .report = report};
	char *bytes = malloc(length ? length : 1);
	assert_non_null(bytes);
	memcpy(bytes, sample.bytes, length);
	struct loaded loaded = load_with_options(bytes, length, &options);
	free(bytes);
	return loaded;
}

static void is_refused(size_t length)
{
	struct svg_report report;
	struct loaded loaded = load_first(length, &report);
	if (loaded.result == 0)
		fail_msg("%s passes when cut off at byte %zu", sample.path, length);
	assert_null(loaded.design);
	assert_int_equal(loaded.notices.fatal_count, 1);
	for (uint32_t i = 0; i < loaded.notices.count; i++) {
		const struct notice *notice = &loaded.notices.items[i];
		assert_true(notice->message && strlen(notice->message) > 10);
		assert_true(notice->byte <= report.source.length);
		assert_true(source_position(&report.source, notice->byte).line >= 1);
	}
	unload(&loaded);
}

static void a_drawing_cut_off_at_any_byte_is_refused_at_a_place(void **state)
{
	read_sample(*state);
	size_t whole = shortest_whole();
	for (size_t length = 0; length < whole; length++)
		is_refused(length);
	for (size_t length = whole; length <= sample.length; length += sample.length - whole + 1) {
		struct svg_report report;
		struct loaded loaded = load_first(length, &report);
		assert_int_equal(loaded.result, 0);
		assert_true(loaded.design->outline_count > 0);
		unload(&loaded);
	}
}

int main(int argc, char **argv)
{
	int failed = argc < 2;
	for (int i = 1; i < argc; i++) {
		const struct CMUnitTest tests[] = {
			cmocka_unit_test_prestate(
				a_drawing_cut_off_at_any_byte_is_refused_at_a_place, argv[i]),
		};
		failed += cmocka_run_group_tests_name(argv[i], tests, NULL, NULL);
	}
	return failed != 0;
}
