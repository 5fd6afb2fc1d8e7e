/* Every limit refuses what is over it, by its name, and can be raised. */
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "helper.h"

static struct loaded load_with(const char *text, enum svg_limit limit, uint32_t value)
{
	struct svg_options options = {.flatness_mm = 0.005};
	struct loaded loaded = {.arena = arena_create()};
	assert_non_null(loaded.arena);
	loaded.notices.arena = loaded.arena;
	options.limits.values[limit] = value;
	loaded.result = svg_load_bytes(loaded.arena, text, strlen(text), "drawing.svg", &options,
				       &loaded.notices, &loaded.design);
	return loaded;
}

static void refuses(const char *text, enum svg_limit limit, uint32_t most, const char *words)
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

static void each_limit_is_named_and_can_be_raised(void **state)
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
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		struct loaded loaded = load_with(CASES[i].text, CASES[i].limit, CASES[i].enough);
		assert_no_notices(&loaded);
		unload(&loaded);
		refuses(CASES[i].text, CASES[i].limit, CASES[i].enough - 1, CASES[i].words);
	}
}

static void a_chain_of_uses_is_named_from_its_inner_end(void **state)
{
	(void)state;
	const char *text = DRAWING("<defs><rect id='a' width='1' height='1'/>"
				   "<g id='b'><use href='#a'/><use href='#a'/></g>"
				   "<g id='c'><use href='#b'/></g></defs><use href='#c'/>");
	refuses(text, SVG_LIMIT_PLACED, 4, "uses place too many elements: #a in #b in #c");
}

static void text_may_not_grow_more_than_its_limit(void **state)
{
	(void)state;
	struct text text = {0};
	text_add_string(&text, "<!DOCTYPE svg [<!ENTITY a '");
	for (int i = 0; i < 5000; i++)
		text_add_string(&text, "xxxxx");
	text_add_string(&text, "'>]>" ROOT_100MM);
	for (int i = 0; i < 60; i++)
		text_add_string(&text, "&a;");
	text_add_string(&text, "</svg>");
	refuses(text.bytes, SVG_LIMIT_ENTITY_GROWTH, 1, "entities");
	struct loaded loaded = load_with(text.bytes, SVG_LIMIT_ENTITY_GROWTH, 100);
	assert_int_equal(loaded.result, 0);
	unload(&loaded);
	text_finish(&text);
}

static void findings_of_one_kind_are_listed_up_to_a_limit_and_counted(void **state)
{
	(void)state;
	struct svg_report report;
	struct svg_options options = {.report = &report};
	struct notices notices = {.arena = arena_create()};
	struct cutlint_design *design;
	options.limits.values[SVG_LIMIT_NOTICES] = 2;
	static const char TEXT[] = DRAWING("<image/><image/><image/><image/><image/>");
	assert_int_equal(svg_load_bytes(notices.arena, TEXT, sizeof(TEXT) - 1, "a.svg", &options,
					&notices, &design),
			 0);
	assert_int_equal(notices.count, 3);
	assert_string_equal(notices.items[2].message,
			    "3 more of this kind are not listed (limit notices)");
	assert_string_equal(report.heard[0].code, "raster-image");
	assert_int_equal(report.heard[0].count, 5);
	assert_null(report.heard[1].code);
	arena_destroy(notices.arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(each_limit_is_named_and_can_be_raised),
		cmocka_unit_test(a_chain_of_uses_is_named_from_its_inner_end),
		cmocka_unit_test(text_may_not_grow_more_than_its_limit),
		cmocka_unit_test(findings_of_one_kind_are_listed_up_to_a_limit_and_counted),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
