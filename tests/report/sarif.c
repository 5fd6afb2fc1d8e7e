/* sarif.c - SARIF logs by hand. Section and example numbers are those of SARIF 2.1.0. */
#include "report/sarif.h"

#include <jansson.h>
#include <string.h>

#include "base/arena.h"
#include "report/sarif-log.h"
#include "report/uri.h"
#include "unit.h"

/* 3.30.2, note 1: the text that its examples speak of. */
#define SAMPLE "abcd\r\nefg\r\nhijk\r\nlmn\r\n"

struct bench {
	struct arena *arena;
	struct sarif *sarif;
};

static int open_bench(void **state)
{
	struct bench *bench = test_calloc(1, sizeof(*bench));
	bench->arena = arena_create();
	bench->sarif = sarif_create("1.2.3");
	*state = bench;
	return bench->arena && bench->sarif ? 0 : -1;
}

static int close_bench(void **state)
{
	struct bench *bench = *state;
	sarif_destroy(bench->sarif);
	arena_destroy(bench->arena);
	test_free(bench);
	return 0;
}

static struct source source_of(struct bench *bench, const char *text)
{
	struct source source;
	assert_int_equal(source_index(&source, bench->arena, "a.svg", text, (uint32_t)strlen(text)),
			 0);
	return source;
}

static json_int_t number(const json_t *object, const char *key)
{
	const json_t *value = json_object_get(object, key);
	assert_non_null(value);
	return json_integer_value(value);
}

struct wanted {
	uint32_t byte, length;
	int start_line, start_column, end_line, end_column, character, characters;
};

static void assert_region(struct bench *bench, const struct source *source,
			  const struct wanted *wanted)
{
	json_t *region = sarif_region(bench->sarif, source, wanted->byte, wanted->length);
	assert_int_equal(number(region, "startLine"), wanted->start_line);
	assert_int_equal(number(region, "startColumn"), wanted->start_column);
	assert_int_equal(number(region, "endLine"), wanted->end_line);
	assert_int_equal(number(region, "endColumn"), wanted->end_column);
	assert_int_equal(number(region, "charOffset"), wanted->character);
	assert_int_equal(number(region, "charLength"), wanted->characters);
	json_decref(region);
}

static void regions_are_those_of_the_standards_examples(void **state)
{
	struct bench *bench = *state;
	struct source source = source_of(bench, SAMPLE);
	/* Example 1, "bc"; 3, "efg"; 4, "efg\r\nhijk"; 5, "efg\r\n"; 6 and 7, insertion points. */
	assert_region(bench, &source, &(struct wanted){1, 2, 1, 2, 1, 4, 1, 2});
	assert_region(bench, &source, &(struct wanted){6, 3, 2, 1, 2, 4, 6, 3});
	assert_region(bench, &source, &(struct wanted){6, 9, 2, 1, 3, 5, 6, 9});
	assert_region(bench, &source, &(struct wanted){6, 5, 2, 1, 3, 1, 6, 5});
	assert_region(bench, &source, &(struct wanted){1, 0, 1, 2, 1, 2, 1, 0});
	assert_region(bench, &source, &(struct wanted){0, 0, 1, 1, 1, 1, 0, 0});
}

/* Example 8: behind the last line's own end, not on a line that is not there. */
static void the_end_of_a_file_lies_on_its_last_line(void **state)
{
	struct bench *bench = *state;
	struct source source = source_of(bench, SAMPLE);
	assert_region(bench, &source, &(struct wanted){22, 0, 4, 6, 4, 6, 22, 0});
	assert_region(bench, &source, &(struct wanted){99, 7, 4, 6, 4, 6, 22, 0});
}

/* 3.30.2: text properties shall not depend on a byte order mark. 3.30.3: byte 0 is the first. */
static void a_byte_order_mark_counts_only_in_bytes(void **state)
{
	struct bench *bench = *state;
	struct source source = source_of(bench, "\xef\xbb\xbf" SAMPLE);
	assert_region(bench, &source, &(struct wanted){4, 2, 1, 2, 1, 4, 1, 2});
	assert_region(bench, &source, &(struct wanted){0, 0, 1, 1, 1, 1, 0, 0});
	json_t *region = sarif_region(bench->sarif, &source, 0, 0);
	assert_int_equal(number(region, "byteOffset"), 3);
	json_decref(region);
}

/* 3.14.17: with columnKind unicodeCodePoints a character past U+FFFF counts one (RFC 3629: F0...).
 */
static void columns_count_code_points(void **state)
{
	struct bench *bench = *state;
	struct source source = source_of(bench, "\xc3\xa9\xf0\x9f\x98\x80z");
	assert_region(bench, &source, &(struct wanted){6, 1, 1, 3, 1, 4, 2, 1});
	json_t *region = sarif_region(bench->sarif, &source, 6, 1);
	assert_int_equal(number(region, "byteOffset"), 6);
	assert_int_equal(number(region, "byteLength"), 1);
	json_decref(region);
}

/* 3.30.1: both kinds of region shall be the same bytes, so of other encodings only the text is
 * told. */
static void bytes_are_told_only_of_the_files_own(void **state)
{
	struct bench *bench = *state;
	struct source source = source_of(bench, SAMPLE);
	source.encoding = "UTF-16LE";
	json_t *region = sarif_region(bench->sarif, &source, 1, 2);
	assert_null(json_object_get(region, "byteOffset"));
	assert_null(json_object_get(region, "byteLength"));
	assert_int_equal(number(region, "charOffset"), 1);
	json_decref(region);
}

/* 3.24.3 and 3.4.4: a nested file names its parent and has no base. */
static void a_packed_drawing_is_a_file_within_a_file(void **state)
{
	struct bench *bench = *state;
	struct source source = source_of(bench, SAMPLE);
	source.name = "cards/a b.svgz";
	source.packed = true;
	uint32_t inner = sarif_artifact(bench->sarif, &source, "analysisTarget");
	assert_int_equal(inner, 1);
	const json_t *artifact = json_array_get(bench->sarif->artifacts, inner);
	assert_int_equal(number(artifact, "parentIndex"), 0);
	json_t *location = sarif_artifact_location(bench->sarif, inner);
	assert_string_equal(json_string_value(json_object_get(location, "uri")), "a%20b.svg");
	assert_null(json_object_get(location, "uriBaseId"));
	json_decref(location);
	artifact = json_array_get(bench->sarif->artifacts, 0);
	assert_string_equal(
		json_string_value(json_object_get(json_object_get(artifact, "location"), "uri")),
		"cards/a%20b.svgz");
}

static void assert_uri(const char *path, const char *folder, const char *wanted, bool relative)
{
	struct text text = {0};
	assert_int_equal(uri_add_path(&text, path, folder), relative);
	assert_string_equal(text.bytes, wanted);
	text_finish(&text);
}

static void paths_become_references(void **state)
{
	(void)state;
	/* 3.10.4, example 1 */
	assert_uri("hu/s\xc3\xb6r.txt", NULL, "hu/s%C3%B6r.txt", true);
	/* RFC 3986, 2.3: unreserved; 4.2: a colon in the first segment would begin a scheme. */
	assert_uri("A-z_0.~", NULL, "A-z_0.~", true);
	assert_uri("a:b#c?d%.svg", NULL, "a%3Ab%23c%3Fd%25.svg", true);
	assert_uri("bad\xff.svg", NULL, "bad%FF.svg", true);
	/* 3.10.2: no "." and no empty segments; a local file has three slashes. */
	assert_uri("./a//b/./c.svg", NULL, "a/b/c.svg", true);
	assert_uri("/x y/c.svg", NULL, "file:///x%20y/c.svg", false);
	assert_uri("/home/work/c.svg", "/home/work", "c.svg", true);
	assert_uri("/home/working/c.svg", "/home/work", "file:///home/working/c.svg", false);
}

/* 3.10.2: ".." is resolved where the tool runs, since a link may lead elsewhere. */
static void a_path_that_climbs_is_resolved(void **state)
{
	(void)state;
	assert_uri("/usr/bin/../bin", "/nowhere", "file:///usr/bin", false);
	assert_uri("/usr/bin/../bin", "/usr", "bin", true);
}

static void assert_message(const char *text, const char *wanted)
{
	json_t *message = sarif_message(text);
	assert_string_equal(json_string_value(json_object_get(message, "text")), wanted);
	json_decref(message);
}

/* 3.11.5: braces are written twice. 3.11.6: "[text](target)" would be a link. */
static void a_message_holds_no_placeholder_and_no_link(void **state)
{
	(void)state;
	assert_message("path#a{0} is open", "path#a{{0}} is open");
	assert_message("see [here](http://x.example)", "see [here\\](http://x.example)");
	assert_message("/svg/g[2]/path[1] (path#a)", "/svg/g[2]/path[1] (path#a)");
	assert_message("", "");
}

static json_t *log_of(struct bench *bench, int status)
{
	struct text text = {0};
	json_error_t error;
	assert_int_equal(sarif_add_log(&text, bench->sarif, status), 0);
	json_t *log = json_loads(text.bytes, 0, &error);
	assert_non_null(log);
	text_finish(&text);
	return log;
}

/* 3.20.14, 3.20.21: what kept the command from looking is a notification, and no success. */
static void troubles_are_notifications(void **state)
{
	struct bench *bench = *state;
	struct troubles troubles = {.arena = bench->arena};
	struct source source = source_of(bench, "[burn]\nkref = 1 mm\n");
	struct notices notices = {.arena = bench->arena};
	source.name = "shop.job";
	trouble_add_notice(&troubles, &source,
			   notice_add(&notices, NOTICE_FATAL, "job", 7, 4, "no key 'kref'"));
	sarif_add_troubles(bench->sarif, &troubles);

	json_t *log = log_of(bench, 2);
	int successful, code, line, column;
	const char *level, *text, *uri, *name, *version;
	assert_int_equal(json_unpack(log,
				     "{s:s, s:[{s:{s:{s:s}}, s:[{s:b, s:i, s:[{s:s, s:{s:s}, "
				     "s:[{s:{s:{s:s}, s:{s:i, s:i}}}]}]}]}]}",
				     "version", &version, "runs", "tool", "driver", "name", &name,
				     "invocations", "executionSuccessful", &successful, "exitCode",
				     &code, "toolExecutionNotifications", "level", &level,
				     "message", "text", &text, "locations", "physicalLocation",
				     "artifactLocation", "uri", &uri, "region", "startLine", &line,
				     "startColumn", &column),
			 0);
	assert_string_equal(version, "2.1.0");
	assert_string_equal(name, "cutlint");
	assert_false(successful);
	assert_int_equal(code, 2);
	assert_string_equal(level, "error");
	assert_string_equal(text, "no key 'kref'");
	assert_string_equal(uri, "shop.job");
	assert_int_equal(line, 2);
	assert_int_equal(column, 1);
	json_decref(log);
}

static struct finding job_finding(const char *message)
{
	return (struct finding){
		.rule = "burn-settings",
		.severity = CUTLINT_WARNING,
		.message = message,
		.place = {.file = "shop.job", .line = 1, .column = 1, .length = 6, .in_job = true}};
}

/* 3.27.22: one result that was seen so often. */
static void what_is_wrong_with_a_job_is_said_once(void **state)
{
	struct bench *bench = *state;
	struct source first = source_of(bench, SAMPLE), second = first;
	struct source job = source_of(bench, "[burn]\n");
	job.name = "shop.job";
	second.name = "b.svg";
	struct finding items[] = {job_finding("slow"), job_finding("hot")};
	struct findings findings = {.items = items, .count = 2};
	struct sarif_input input = {.drawing = &first, .job = &job, .findings = &findings};
	sarif_add_drawing(bench->sarif, &input);
	input.drawing = &second;
	sarif_add_drawing(bench->sarif, &input);

	json_t *log = log_of(bench, 1);
	const json_t *run = json_array_get(json_object_get(log, "runs"), 0);
	const json_t *results = json_object_get(run, "results");
	assert_int_equal(json_array_size(results), 2);
	for (size_t i = 0; i < 2; i++)
		assert_int_equal(number(json_array_get(results, i), "occurrenceCount"), 2);
	assert_int_equal(json_array_size(json_object_get(run, "artifacts")), 3);
	json_decref(log);
}

static void a_silenced_finding_is_suppressed_with_its_reason(void **state)
{
	struct bench *bench = *state;
	struct source source = source_of(bench, SAMPLE);
	struct silence silence = {.rule = "hole-size",
				  .reason = "pricks for the needle",
				  .place = {.file = "a.svg", .byte = 6, .length = 3}};
	struct finding items[] = {
		{.rule = "hole-size", .message = "small", .silence = &silence},
		{.rule = "hole-size", .message = "small"},
	};
	items[0].place.file = items[1].place.file = "a.svg";
	struct findings findings = {.items = items, .count = 2};
	sarif_add_drawing(bench->sarif,
			  &(struct sarif_input){.drawing = &source, .findings = &findings});

	json_t *log = log_of(bench, 0);
	const char *kind, *why;
	int line;
	json_t *others;
	/* 3.27.23: all results have the list, or none; 3.35.2: the drawing's own words. */
	assert_int_equal(json_unpack(log, "{s:[{s:[{s:[{s:s, s:s, s:{s:{s:{s:i}}}}]}, {s:o}]}]}",
				     "runs", "results", "suppressions", "kind", &kind,
				     "justification", &why, "location", "physicalLocation",
				     "region", "startLine", &line, "suppressions", &others),
			 0);
	assert_string_equal(kind, "inSource");
	assert_string_equal(why, "pricks for the needle");
	assert_int_equal(line, 2);
	assert_int_equal(json_array_size(others), 0);
	json_decref(log);
}

#define ON_BENCH(test) cmocka_unit_test_setup_teardown(test, open_bench, close_bench)

int main(void)
{
	const struct CMUnitTest tests[] = {
		ON_BENCH(regions_are_those_of_the_standards_examples),
		ON_BENCH(the_end_of_a_file_lies_on_its_last_line),
		ON_BENCH(a_byte_order_mark_counts_only_in_bytes),
		ON_BENCH(columns_count_code_points),
		ON_BENCH(bytes_are_told_only_of_the_files_own),
		ON_BENCH(a_packed_drawing_is_a_file_within_a_file),
		cmocka_unit_test(paths_become_references),
		cmocka_unit_test(a_path_that_climbs_is_resolved),
		cmocka_unit_test(a_message_holds_no_placeholder_and_no_link),
		ON_BENCH(troubles_are_notifications),
		ON_BENCH(what_is_wrong_with_a_job_is_said_once),
		ON_BENCH(a_silenced_finding_is_suppressed_with_its_reason),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
