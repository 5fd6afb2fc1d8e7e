/* Drawings that are broken, or meant to do harm: a clear notice, no crash, no file opened. */
#include <libxml/parser.h>
#include <libxml/xmlIO.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "helper.h"

static const char SAMPLE[] =
	"\xef\xbb\xbf<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
	"<!DOCTYPE svg [<!ENTITY st \"fill:none;stroke:red\"><!ENTITY e '<circle r=\"2\"/>'>]>\n"
	"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"50mm\" height=\"5cm\" "
	"viewBox=\"0 0 50 50\"><style>.a > b, #c{fill:rgb(1,2,3)!important}</style>\n"
	"<defs><path id='p' d='M0 0a1 1 0 011 1t5 5s1 1 2 2z'/></defs><!-- \xc3\xa9 -->\n"
	"<g transform=\"rotate(45 1 2) scale(2)\" style=\"&st;\"><use href='#p' x='5%'/>&e;\n"
	"<polygon points=\"1,1 2e0,3 4-5\" stroke=\"hsl(1,2%,3%)\"/><text>a&lt;b</text>"
	"<![CDATA[x]]></g></svg>\n";

static void a_drawing_cut_off_anywhere_is_refused(void **state)
{
	(void)state;
	size_t whole = sizeof(SAMPLE) - 2; /* up to the last bracket */
	struct loaded loaded = load_bytes(SAMPLE, whole);
	assert_int_equal(loaded.result, 0);
	unload(&loaded);
	for (size_t length = 0; length < whole; length++) {
		loaded = load_bytes(SAMPLE, length);
		assert_int_equal(loaded.result, -1);
		assert_int_equal(loaded.notices.fatal_count, 1);
		unload(&loaded);
	}
}

static void a_drawing_with_any_byte_changed_does_not_crash(void **state)
{
	(void)state;
	static const char BYTES[] = {'\0', '<', '"', '&', 'z', '9', '-', (char)0xff};
	char copy[sizeof(SAMPLE)];
	for (size_t i = 0; i + 1 < sizeof(SAMPLE); i++) {
		for (size_t k = 0; k < sizeof(BYTES); k++) {
			memcpy(copy, SAMPLE, sizeof(SAMPLE));
			copy[i] = BYTES[k];
			struct loaded loaded = load_bytes(copy, sizeof(SAMPLE) - 1);
			unload(&loaded);
		}
	}
}

static int opened;

static int count_open(const char *name)
{
	(void)name;
	opened++;
	return 0;
}

static void entities_of_other_files_are_refused_unopened(void **state)
{
	(void)state;
	static const char *const TEXTS[] = {
		"<!DOCTYPE svg [<!ENTITY x SYSTEM \"file:///etc/hostname\">]>"
		"<svg xmlns=\"http://www.w3.org/2000/svg\">&x;</svg>",
		"<!DOCTYPE svg [<!ENTITY x SYSTEM \"/etc/hostname\">]>"
		"<svg xmlns=\"http://www.w3.org/2000/svg\" id=\"&x;\"/>",
		"<!DOCTYPE svg [<!ENTITY % x SYSTEM \"/etc/hostname\">%x;]>"
		"<svg xmlns=\"http://www.w3.org/2000/svg\"/>",
		"<!DOCTYPE svg SYSTEM \"/etc/hostname\"><svg "
		"xmlns=\"http://www.w3.org/2000/svg\"/>",
		"<svg xmlns=\"http://www.w3.org/2000/svg\"><xi:include "
		"xmlns:xi=\"http://www.w3.org/2001/XInclude\" href=\"/etc/hostname\"/></svg>",
	};
	xmlExternalEntityLoader before = xmlGetExternalEntityLoader();
	xmlRegisterInputCallbacks(count_open, NULL, NULL, NULL);
	for (size_t i = 0; i < sizeof(TEXTS) / sizeof(*TEXTS); i++) {
		struct loaded loaded = load(TEXTS[i]);
		if (i < 2)
			assert_int_equal(notice_of(&loaded, "xml-syntax")->level, NOTICE_FATAL);
		unload(&loaded);
	}
	assert_int_equal(opened, 0);
	assert_ptr_equal(xmlGetExternalEntityLoader(), before);
	xmlPopInputCallbacks();
}

static void is_fatal(const char *text, const char *code)
{
	struct loaded loaded = load(text);
	assert_int_equal(loaded.result, -1);
	if (code)
		assert_int_equal(notice_of(&loaded, code)->level, NOTICE_FATAL);
	unload(&loaded);
}

static void entities_that_grow_without_measure_are_stopped(void **state)
{
	(void)state;
	struct text text = {0};
	text_add_string(&text, "<!DOCTYPE svg [<!ENTITY a0 'xxxxxxxxxx'>");
	for (int i = 1; i < 12; i++) {
		text_format(&text, "<!ENTITY a%d '", i);
		for (int k = 0; k < 10; k++)
			text_format(&text, "&a%d;", i - 1);
		text_add_string(&text, "'>");
	}
	text_add_string(&text, "]><svg xmlns=\"http://www.w3.org/2000/svg\">&a11;</svg>");
	is_fatal(text.bytes, NULL);

	/* one long entity, used many times: quadratic */
	text.length = 0;
	text_add_string(&text, "<!DOCTYPE svg [<!ENTITY a '");
	for (int i = 0; i < 20000; i++)
		text_add_string(&text, "xxxxx");
	text_add_string(&text, "'>]><svg xmlns=\"http://www.w3.org/2000/svg\">");
	for (int i = 0; i < 20000; i++)
		text_add_string(&text, "&a;");
	text_add_string(&text, "</svg>");
	is_fatal(text.bytes, NULL);
	text_finish(&text);
}

static void a_tag_may_not_have_any_number_of_attributes(void **state)
{
	(void)state;
	for (int count = 990; count <= 1010; count += 20) {
		struct text text = {0};
		text_add_string(&text,
				"<!-- <a = = = -->" ROOT_100MM "<path d='M0 0L1 1' fill='a>b='");
		for (int i = 2; i < count; i++)
			text_format(&text, " a%d=''", i);
		text_add_string(&text, "/></svg>");
		if (count < 1000) {
			struct loaded loaded = load(text.bytes);
			assert_int_equal(loaded.result, 0);
			assert_int_equal(loaded.design->elements[1]->attribute_count, count);
			unload(&loaded);
		} else {
			is_fatal(text.bytes, "too-large");
		}
		text_finish(&text);
	}
}

static void deep_nesting_is_allowed_up_to_a_limit(void **state)
{
	(void)state;
	for (int depth = 999; depth <= 1000; depth++) {
		struct text text = {0};
		text_add_string(&text, ROOT_100MM);
		for (int i = 1; i < depth; i++)
			text_add_string(&text, "<g>");
		text_add_string(&text, "<rect width=\"1\" height=\"1\"/>");
		for (int i = 1; i < depth; i++)
			text_add_string(&text, "</g>");
		text_add_string(&text, "</svg>");
		if (depth < 1000) {
			struct loaded loaded = load(text.bytes);
			assert_no_notices(&loaded);
			assert_int_equal(loaded.design->outline_count, 1);
			unload(&loaded);
		} else {
			is_fatal(text.bytes, "too-large");
		}
		text_finish(&text);
	}
}

static void nesting_of_100000_elements_is_refused_where_the_limit_is_passed(void **state)
{
	(void)state;
	struct text text = {0};
	text_add_string(&text, ROOT_100MM "\n");
	for (int i = 0; i < 100000; i++)
		text_add_string(&text, "<g>");
	for (int i = 0; i < 100000; i++)
		text_add_string(&text, "</g>");
	text_add_string(&text, "</svg>");
	struct loaded loaded = load(text.bytes);
	const struct notice *notice = notice_of(&loaded, "too-large");
	assert_non_null(strstr(notice->message, "(limit depth: 1000)"));
	assert_in_range(notice->byte, sizeof(ROOT_100MM) + 3 * 999 - 1,
			sizeof(ROOT_100MM) + 3 * 1000);
	assert_true(arena_size(loaded.arena) < 4 * text.length);
	unload(&loaded);
	text_finish(&text);
}

static void uses_that_multiply_are_stopped(void **state)
{
	(void)state;
	struct text text = {0};
	text_add_string(&text, ROOT_100MM "<defs><rect id=\"u0\" width=\"1\" height=\"1\"/>");
	for (int i = 1; i < 12; i++) {
		text_format(&text, "<g id=\"u%d\">", i);
		for (int k = 0; k < 10; k++)
			text_format(&text, "<use href=\"#u%d\"/>", i - 1);
		text_add_string(&text, "</g>");
	}
	text_add_string(&text, "</defs><use href=\"#u11\"/></svg>");
	is_fatal(text.bytes, "too-large");
	text_finish(&text);
}

static void a_long_chain_of_uses_is_stopped(void **state)
{
	(void)state;
	struct text text = {0};
	text_add_string(&text, ROOT_100MM "<use id=\"u0\" href=\"#u1\"/>");
	for (int i = 1; i < 5000; i++)
		text_format(&text, "<use id=\"u%d\" href=\"#u%d\"/>", i, i + 1);
	text_add_string(&text, "<rect id=\"u5000\" width=\"1\" height=\"1\"/></svg>");
	is_fatal(text.bytes, "too-large");
	text_finish(&text);
}

static void numbers_without_end_are_refused_at_their_byte(void **state)
{
	(void)state;
	static const char *const BODIES[] = {
		"<path d=\"M0 0 @L1e308 0\"/>",
		"<path d=\"M0 0 @L1e999 0\"/>",
		"<path d=\"M0 0 @L-2001 0\"/>",
		"<path d=\"M0 0 @C1 1 1e300 1 2 2\"/>",
		"<path d=\"M0 0 @A1e308 1e308 0 0 0 5 5\"/>",
		"<path d=\"M0 0 @a1e999 1 0 0 0 5 5\"/>",
		"<path d=\"M0 0 @Q1e308 -1e308 2 2t1e308 1\"/>",
		"<polygon points=\"0,0 @1e308,1e308 3,3\"/>",
		"@<circle r=\"1e308\"/>",
		"@<circle r=\"1500\" cx=\"900\"/>",
		"@<rect x=\"1e308\" width=\"1e308\" height=\"1\"/>",
		"@<line x2=\"1e9\" stroke=\"red\"/>",
		"<g transform=\"scale(1e308) scale(1e308)\">@<rect width=\"1\" height=\"1\"/></g>",
		"<g transform=\"translate(1e308) scale(-1e308)\"><path d=\"M1 1@h5\"/></g>",
		"<g transform=\"skewX(90)\">@<rect width=\"1\" height=\"1\"/></g>",
	};
	for (size_t i = 0; i < sizeof(BODIES) / sizeof(*BODIES); i++) {
		const char *mark = strchr(BODIES[i], '@');
		char text[512];
		int before = snprintf(text, sizeof(text), "%s%.*s", ROOT_100MM,
				      (int)(mark - BODIES[i]), BODIES[i]);
		snprintf(text + before, sizeof(text) - (size_t)before, "%s</svg>", mark + 1);
		struct loaded loaded = load(text);
		const struct notice *notice = notice_of(&loaded, "too-large");
		assert_int_equal(notice->level, NOTICE_FATAL);
		assert_int_equal(notice->byte, before);
		unload(&loaded);
	}
}

static void words_for_numbers_without_end_are_no_numbers(void **state)
{
	(void)state;
	/* CSS Syntax 3, 4.3.12 and SVG 2, 9.3.9 know neither NaN nor infinity */
	static const char *const WORDS[] = {"NaN",   "nan",  "Infinity", "-inf",
					    "1e999", "0x10", "1e"};
	static const char *const PLACES[] = {
		"<rect width='%s' height='1'/>",
		"<path d='M0 0h1 0 l%s 5'/>",
		"<polygon points='0 0 1 1 %s 5'/>",
		"<g transform='scale(%s)'><rect width='1' height='1'/></g>",
		"<circle r='1' style='cx:%s'/>",
		"<svg viewBox='0 0 1 %s'/>",
		"<circle r='1' stroke-width='%s'/>"};
	for (size_t i = 0; i < sizeof(WORDS) / sizeof(*WORDS); i++) {
		for (size_t k = 0; k < sizeof(PLACES) / sizeof(*PLACES); k++) {
			struct text text = {0};
			text_add_string(&text, ROOT_100MM);
			text_format(&text, PLACES[k], WORDS[i]);
			text_add_string(&text, "</svg>");
			struct loaded loaded = load(text.bytes);
			if (!loaded.notices.count)
				fail_msg("%s passes", text.bytes);
			for (uint32_t n = 0; loaded.design && n < loaded.design->shape_count; n++)
				assert_true(isfinite(loaded.design->shapes[n].stroke_width_mm));
			unload(&loaded);
			text_finish(&text);
		}
	}
}

static void scales_without_end_are_refused_at_what_they_draw(void **state)
{
	(void)state;
	static const char *const TEXTS[] = {
		ROOT_OPEN "width='9mm' height='9mm' viewBox='1e308 0 9 9'>@<circle r='1'/></svg>",
		ROOT_OPEN
		"width='9mm' height='9mm' viewBox='0 0 1e-310 1e-310'>@<circle r='1'/></svg>",
		ROOT_100MM "<svg viewBox='0 0 1e-310 1e-310'>@<circle r='1'/></svg></svg>",
	};
	for (size_t i = 0; i < sizeof(TEXTS) / sizeof(*TEXTS); i++) {
		struct loaded loaded = load_marked(TEXTS[i], "too-large");
		const struct notice *notice = notice_of(&loaded, "too-large");
		assert_int_equal(notice->level, NOTICE_FATAL);
		assert_null(strstr(notice->message, "nan"));
		assert_null(strstr(notice->message, "inf"));
		unload(&loaded);
	}
}

static void what_is_far_out_but_not_burned_is_left_out(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<g display=\"none\"><path d=\"M0 0H1 9999\"/></g>"
					    "<path d=\"M0 0H5\"/>"));
	assert_int_equal(notice_of(&loaded, "too-large")->level, NOTICE_WARNING);
	assert_int_equal(loaded.design->outline_count, 1);
	assert_int_equal(loaded.design->shapes[0].outline_count, 0);
	assert_int_equal(loaded.design->shapes[1].first_outline, 0);
	unload(&loaded);
}

static void a_flood_of_mistakes_is_counted(void **state)
{
	(void)state;
	struct text text = {0};
	text_add_string(&text, ROOT_100MM);
	for (int i = 0; i < 5000; i++)
		text_add_string(&text, "<path d=\"M0 0 L 1 1 ?\"/>");
	text_add_string(&text, "</svg>");
	struct loaded loaded = load(text.bytes);
	assert_int_equal(count_notices(&loaded, "path-data"), 201);
	assert_string_equal(loaded.notices.items[200].message,
			    "4800 more of this kind are not listed (limit notices: 200)");
	assert_int_equal(loaded.notices.items[200].level, NOTICE_ERROR);
	unload(&loaded);
	text_finish(&text);
}

static void what_a_notice_quotes_can_not_steer_a_terminal(void **state)
{
	(void)state;
	struct loaded loaded =
		load(DRAWING("<path d=\"M0 0 &#10;\xc2\x9b\"/><use href=\"#a&#10;b\"/>"));
	for (uint32_t i = 0; i < loaded.notices.count; i++) {
		assert_null(strchr(loaded.notices.items[i].message, '\n'));
		assert_null(strstr(loaded.notices.items[i].message, "\xc2\x9b"));
	}
	assert_int_equal(loaded.notices.count, 2);
	unload(&loaded);
}

static void selectors_on_deep_trees_end_soon(void **state)
{
	(void)state;
	/* tried one by one, twenty descendants on 900 levels would be more than 10^30 ways */
	struct text text = {0};
	text_add_string(&text, ROOT_100MM "<style>b ");
	for (int i = 0; i < 20; i++)
		text_add_string(&text, "g ");
	text_add_string(&text, "rect{fill:red}</style>");
	for (int i = 0; i < 900; i++)
		text_add_string(&text, "<g>");
	text_add_string(&text, "<rect id=\"r\" width=\"1\" height=\"1\"/>");
	for (int i = 0; i < 900; i++)
		text_add_string(&text, "</g>");
	text_add_string(&text, "</svg>");
	struct loaded loaded = load(text.bytes);
	assert_int_equal(shape_of(&loaded, "r")->fill.rgb, 0);
	unload(&loaded);
	text_finish(&text);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_drawing_cut_off_anywhere_is_refused),
		cmocka_unit_test(a_drawing_with_any_byte_changed_does_not_crash),
		cmocka_unit_test(entities_of_other_files_are_refused_unopened),
		cmocka_unit_test(entities_that_grow_without_measure_are_stopped),
		cmocka_unit_test(a_tag_may_not_have_any_number_of_attributes),
		cmocka_unit_test(deep_nesting_is_allowed_up_to_a_limit),
		cmocka_unit_test(nesting_of_100000_elements_is_refused_where_the_limit_is_passed),
		cmocka_unit_test(uses_that_multiply_are_stopped),
		cmocka_unit_test(a_long_chain_of_uses_is_stopped),
		cmocka_unit_test(numbers_without_end_are_refused_at_their_byte),
		cmocka_unit_test(words_for_numbers_without_end_are_no_numbers),
		cmocka_unit_test(scales_without_end_are_refused_at_what_they_draw),
		cmocka_unit_test(what_is_far_out_but_not_burned_is_left_out),
		cmocka_unit_test(a_flood_of_mistakes_is_counted),
		cmocka_unit_test(what_a_notice_quotes_can_not_steer_a_terminal),
		cmocka_unit_test(selectors_on_deep_trees_end_soon),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
