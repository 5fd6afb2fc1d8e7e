/*
 * Every limit refuses what is over it, by its name, and can be raised.
 * Usage: test-svg-limits PAGE, the page that lists the limits.
 */
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "file.h"
#include "gzip.h"
#include "helper.h"
#include "svg/scan.h"

static struct loaded load_with(struct svg_scan text, enum svg_limit limit, uint32_t value)
{
	struct svg_options options = {.flatness_mm = 0.005};
	options.limits.values[limit] = value;
	return load_with_options(text.at, svg_scan_length(text), &options);
}

static void refuses(struct svg_scan text, enum svg_limit limit, uint32_t most, const char *words)
{
	char name[64];
	snprintf(name, sizeof(name), "(limit %s: %u)", svg_limit_row(limit)->name, most);
	struct loaded loaded = load_with(text, limit, most);
	const struct notice *notice = notice_of(&loaded, "too-large");
	assert_int_equal(loaded.result, -1);
	assert_int_equal(loaded.notices.fatal_count, 1);
	assert_int_equal(notice->level, NOTICE_FATAL);
	assert_non_null(strstr(notice->message, name));
	assert_non_null(strstr(notice->message, words));
	assert_non_null(strstr(notice->suggestion, svg_limit_row(limit)->name));
	unload(&loaded);
}

/* `enough` is the least value that lets the drawing pass. */
static void is_the_border(struct svg_scan text, enum svg_limit limit, uint32_t enough,
			  const char *words)
{
	struct loaded loaded = load_with(text, limit, enough);
	assert_no_notices(&loaded);
	assert_int_equal(loaded.result, 0);
	unload(&loaded);
	refuses(text, limit, enough - 1, words);
}

/* The least whole `times` with which made <= times * given + 1 MiB, as the page says. */
static uint32_t times_of(size_t made, size_t given)
{
	return (uint32_t)((made - ((size_t)1 << 20) + given - 1) / given);
}

static void what_is_over_a_limit_is_refused_by_its_name_and_what_is_not_passes(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		enum svg_limit limit;
		uint32_t enough; /* the smallest value that lets it pass */
		const char *words;
	} CASES[] = {
		{DRAWING(""), SVG_LIMIT_FILE_BYTES, sizeof(DRAWING("")) - 1, "bytes"},
		{DRAWING("<g><g><rect width='1' height='1'/></g></g>"), SVG_LIMIT_DEPTH, 4,
		 "too deep"},
		{DRAWING("<g/><g/>"), SVG_LIMIT_ELEMENTS, 3, "too many elements"},
		{DRAWING("<g a='' b='' c='' d='' e=''/>"), SVG_LIMIT_ATTRIBUTES, 5, "attributes"},
		{DRAWING("<g xmlns:a='a'><g xmlns:b='b'/></g><g xmlns:c='c'/>"),
		 SVG_LIMIT_NAMESPACES, 3, "namespaces"},
		{"<!DOCTYPE svg [<!ENTITY a 'xx'><!ENTITY b 'yy'>]>" DRAWING("&a;"),
		 SVG_LIMIT_ENTITY_BYTES, 4, "entities"},
		{DRAWING("<defs><g id='a'><rect width='1' height='1'/></g></defs>"
			 "<use href='#a'/><use href='#a'/>"),
		 SVG_LIMIT_PLACED, 4, ": #a"},
		{DRAWING("<defs><path id='a' d='M0 0h1'/></defs><use href='#a'/>"),
		 SVG_LIMIT_PLACED_BYTES, 25, ": #a"},
		{DRAWING("<style>*{fill:red} *{fill:blue}</style><g/><g/>"), SVG_LIMIT_STYLE_STEPS,
		 6, "style"},
		{DRAWING("<path d='M0 0h1v1h1'/>"), SVG_LIMIT_VERTICES, 4, "vertices"},
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++)
		is_the_border(svg_scan_of(CASES[i].text), CASES[i].limit, CASES[i].enough,
			      CASES[i].words);
}

static void a_chain_of_uses_is_named_from_its_inner_end(void **state)
{
	(void)state;
	const char *text = DRAWING("<defs><rect id='a' width='1' height='1'/>"
				   "<g id='b'><use href='#a'/><use href='#a'/></g>"
				   "<g id='c'><use href='#b'/></g></defs><use href='#c'/>");
	refuses(svg_scan_of(text), SVG_LIMIT_PLACED, 4,
		"uses place too many elements: #a in #b in #c");
}

static void entities_may_make_so_many_times_the_text(void **state)
{
	(void)state;
	static const size_t LENGTH = 25000, TIMES = 60;
	struct text text = {0};
	text_add_string(&text, "<!DOCTYPE svg [<!ENTITY a '");
	for (size_t i = 0; i < LENGTH; i++)
		text_add_string(&text, "x");
	text_add_string(&text, "'>]>" ROOT_100MM);
	for (size_t i = 0; i < TIMES; i++)
		text_add_string(&text, "&a;");
	text_add_string(&text, "</svg>");
	uint32_t enough = times_of(LENGTH * TIMES, text.length);
	assert_true(enough > 1);
	is_the_border((struct svg_scan){text.bytes, text.bytes + text.length},
		      SVG_LIMIT_ENTITY_GROWTH, enough, "entities");
	text_finish(&text);
}

static void a_packed_drawing_may_hold_so_many_times_its_bytes(void **state)
{
	(void)state;
	struct text text = {0};
	text_add_string(&text, ROOT_100MM);
	for (int i = 0; i < 300000; i++)
		text_add_string(&text, "          ");
	text_add_string(&text, "</svg>");
	size_t length;
	char *packed = gzip_pack(text.bytes, text.length, &length);
	is_the_border((struct svg_scan){packed, packed + length}, SVG_LIMIT_UNPACK_RATIO,
		      times_of(text.length, length), "unpacks");
	free(packed);
	text_finish(&text);
}

static void findings_of_one_kind_are_listed_up_to_a_limit_and_counted(void **state)
{
	(void)state;
	static const char TEXT[] = DRAWING("<image/><image/><image/><image/><image/>");
	for (uint32_t most = 4; most <= 5; most++) {
		struct svg_report report;
		struct svg_options options = {.report = &report};
		struct notices notices = {.arena = arena_create()};
		struct cutlint_design *design;
		options.limits.values[SVG_LIMIT_NOTICES] = most;
		assert_int_equal(svg_load_bytes(notices.arena, TEXT, sizeof(TEXT) - 1, "a.svg",
						&options, &notices, &design),
				 0);
		assert_int_equal(notices.count, 5);
		if (most == 4)
			assert_string_equal(
				notices.items[4].message,
				"1 more of this kind are not listed (limit notices: 4)");
		else
			assert_null(strstr(notices.items[4].message, "more of this kind"));
		assert_string_equal(report.heard[0].code, "raster-image");
		assert_int_equal(report.heard[0].count, 5);
		assert_null(report.heard[1].code);
		arena_destroy(notices.arena);
	}
}

static void the_page_lists_every_limit_with_its_default_and_its_most(void **state)
{
	char *page = file_read(*state);
	assert_non_null(page);
	for (int i = 0; i < SVG_LIMIT_COUNT; i++) {
		const struct svg_limit_row *row = svg_limit_row((enum svg_limit)i);
		char wanted[128];
		snprintf(wanted, sizeof(wanted), "\n| `%s` | %u | %u | ", row->name, row->standard,
			 row->most);
		if (!strstr(page, wanted))
			fail_msg("the page has no row '%s'", wanted + 1);
	}
	free(page);
}

int main(int argc, char **argv)
{
	if (argc != 2)
		return 1;
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
			what_is_over_a_limit_is_refused_by_its_name_and_what_is_not_passes),
		cmocka_unit_test(a_chain_of_uses_is_named_from_its_inner_end),
		cmocka_unit_test(entities_may_make_so_many_times_the_text),
		cmocka_unit_test(a_packed_drawing_may_hold_so_many_times_its_bytes),
		cmocka_unit_test(findings_of_one_kind_are_listed_up_to_a_limit_and_counted),
		cmocka_unit_test_prestate(the_page_lists_every_limit_with_its_default_and_its_most,
					  argv[1]),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
