/* What a DOCTYPE may do: entities and attributes that it gives (XML 1.0, 3.3.2 and 4), bounded. */
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "helper.h"

static void add_times(struct text *out, const char *text, unsigned times)
{
	for (unsigned i = 0; i < times; i++)
		text_add_string(out, text);
}

/* a0 stands for `leaf`, each next one for ten of the one before: a10 for 10^10 leaves. */
static void add_bomb(struct text *out, const char *leaf)
{
	text_format(out, "<!ENTITY a0 '%s'>", leaf);
	for (int i = 1; i <= 10; i++) {
		char reference[16];
		snprintf(reference, sizeof(reference), "&a%d;", i - 1);
		text_format(out, "<!ENTITY a%d '", i);
		add_times(out, reference, 10);
		text_add_string(out, "'>");
	}
}

static void is_refused(const char *text, const char *code, const char *words)
{
	struct loaded loaded = load(text);
	const struct notice *notice = notice_of(&loaded, code);
	assert_int_equal(loaded.result, -1);
	assert_int_equal(notice->level, NOTICE_FATAL);
	assert_non_null(strstr(notice->message, words));
	assert_true(arena_size(loaded.arena) < (size_t)32 * 1024 * 1024);
	unload(&loaded);
}

static void what_grows_by_powers_of_ten_is_refused_wherever_it_stands(void **state)
{
	(void)state;
	static const struct {
		const char *leaf, *declared, *body;
	} CASES[] = {
		{"xxxxxxxxxx", "", "<g>&a10;</g>"},
		{"xxxxxxxxxx", "", "<g id='&a10;'/>"},
		{"xxxxxxxxxx", "", "<style>&a10;</style>"},
		{"xxxxxxxxxx", "<!ATTLIST g id CDATA '&a10;'>", "<g/>"},
		{"<g></g>", "", "&a10;"},
		{"", "", "&a10;"},
		{"", "", "<g id='&a10;'/>"},
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		struct text text = {0};
		text_add_string(&text, "<!DOCTYPE svg [");
		add_bomb(&text, CASES[i].leaf);
		text_format(&text, "%s]>" ROOT_100MM "%s</svg>", CASES[i].declared, CASES[i].body);
		is_refused(text.bytes, "too-large", "limit entity-growth: 8");
		text_finish(&text);
	}
}

static void parameter_entities_that_grow_are_refused(void **state)
{
	(void)state;
	/* in a parameter entity's own text, references to others count (XML 1.0, 2.8) */
	struct text text = {0};
	text_add_string(&text, "<!DOCTYPE svg [<!ENTITY % a 'xxxxxxxxxx'><!ENTITY % w '");
	for (int i = 0; i < 11; i++) {
		char reference[24] = "&#37;a;";
		if (i)
			snprintf(reference, sizeof(reference), "&#37;b%d;", i - 1);
		text_format(&text, "<!ENTITY &#37; b%d \"", i);
		add_times(&text, reference, 10);
		text_add_string(&text, "\">");
	}
	text_add_string(&text, "'>%w;]>" ROOT_100MM "</svg>");
	is_refused(text.bytes, "too-large", "entit");
	text_finish(&text);
}

static void an_entity_that_holds_itself_is_refused(void **state)
{
	(void)state;
	/* XML 1.0, 4.1, well-formedness constraint: no recursion */
	static const char *const ENTITIES[] = {
		"<!ENTITY a '&a;'>",
		"<!ENTITY a '&b;&b;'><!ENTITY b '&a;&a;'>",
		"<!ENTITY a '<g>&a;</g>'>",
	};
	for (size_t i = 0; i < sizeof(ENTITIES) / sizeof(*ENTITIES); i++) {
		for (int attribute = 0; attribute < (i == 2 ? 1 : 2); attribute++) {
			char text[512];
			snprintf(text, sizeof(text), "<!DOCTYPE svg [%s]>" ROOT_100MM "%s</svg>",
				 ENTITIES[i], attribute ? "<g id='&a;'/>" : "<g>&a;</g>");
			is_refused(text, "xml-syntax", "an entity holds itself");
		}
	}
}

static void the_doctype_may_not_give_any_number_of_attributes(void **state)
{
	(void)state;
	struct text text = {0};
	text_add_string(&text, "<!DOCTYPE svg [<!ATTLIST g");
	for (int i = 0; i < 1000; i++)
		text_format(&text, " a%d CDATA ''", i);
	size_t first = text.length;
	text_add_string(&text, " b CDATA ''>]>" ROOT_100MM "</svg>");
	is_refused(text.bytes, "too-large", "limit attributes: 1000");

	/* those that are allowed make any small tag a large one */
	text.length = first;
	text_add_string(&text, ">]>" ROOT_100MM);
	add_times(&text, "<g/>", 20000);
	text_add_string(&text, "</svg>");
	is_refused(text.bytes, "too-large", "limit entity-growth: 8");
	text_finish(&text);
}

static void a_drawing_with_entities_has_the_limits_of_all_others(void **state)
{
	(void)state;
	/* nested 900 deep, and 11 MB in one attribute: what exports with a DOCTYPE may hold */
	struct text text = {0};
	text_add_string(&text, "<!DOCTYPE svg [<!ENTITY none 'fill:none;'>]>" ROOT_100MM);
	add_times(&text, "<g>", 900);
	text_add_string(&text, "<rect id='r' width='1' height='1' style='&none;stroke:red'/>");
	add_times(&text, "</g>", 900);
	text_add_string(&text, "<image href='data:image/png;base64,");
	add_times(&text, "AAAABBBBCCCCDDDDEEEE", 550000);
	text_add_string(&text, "'/><path d='M0 0 ?'/></svg>");
	struct loaded loaded = load(text.bytes);
	assert_int_equal(loaded.result, 0);
	assert_int_equal(shape_of(&loaded, "r")->fill.kind, CUTLINT_PAINT_NONE);
	assert_int_equal(shape_of(&loaded, "r")->stroke.rgb, 0xff0000);
	assert_notice_at(&loaded, "raster-image", NOTICE_WARNING, "<image");
	assert_notice_at(&loaded, "path-data", NOTICE_ERROR, "?'/></svg>");
	unload(&loaded);
	text_finish(&text);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_grows_by_powers_of_ten_is_refused_wherever_it_stands),
		cmocka_unit_test(parameter_entities_that_grow_are_refused),
		cmocka_unit_test(an_entity_that_holds_itself_is_refused),
		cmocka_unit_test(the_doctype_may_not_give_any_number_of_attributes),
		cmocka_unit_test(a_drawing_with_entities_has_the_limits_of_all_others),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
