/* Style sheets: Selectors 3 (sections 6, 8, 9), CSS Cascade, CSS Syntax. */
#include <stdio.h>

#include "helper.h"

#define SHEET(css, body) DRAWING("<style>" css "</style>" body)

static void fill_is(const char *text, const char *id, uint32_t rgb)
{
	struct loaded loaded = load(text);
	assert_no_notices(&loaded);
	assert_int_equal(shape_of(&loaded, id)->fill.rgb, rgb);
	unload(&loaded);
}

#define RECT                                                                                       \
	"<g class=\"outer\"><g><rect id=\"r\" class=\"st0 st1\" width=\"1\" "                      \
	"height=\"1\"/></g></g>"

static void each_kind_of_selector_is_applied(void **state)
{
	(void)state;
	fill_is(SHEET("rect{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("*{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET(".st1{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("#r{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("rect.st0.st1#r{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("[id]{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("rect[id='r']{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET(".a,.st0 , .b{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET(".outer rect{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("g>rect{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET(".outer > g > .st0{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("svg .outer>g rect{fill:red}", RECT), "r", 0xff0000);
}

static void what_does_not_match_is_not_applied(void **state)
{
	(void)state;
	fill_is(SHEET(".st{fill:red}", RECT), "r", 0);
	fill_is(SHEET("circle{fill:red}", RECT), "r", 0);
	fill_is(SHEET(".outer>rect{fill:red}", RECT), "r", 0);
	fill_is(SHEET("rect rect{fill:red}", RECT), "r", 0);
	fill_is(SHEET("g>g>g>rect{fill:red}", RECT), "r", 0);
	fill_is(SHEET("svg>.outer rect>*{fill:red}", RECT), "r", 0);
	fill_is(SHEET("[id=x]{fill:red}", RECT), "r", 0);
}

static void specificity_then_order_decides(void **state)
{
	(void)state;
	/* Selectors 3, 9: ids, then classes and attributes, then types */
	fill_is(SHEET("#r{fill:red} .st0.st1{fill:blue} rect{fill:lime}", RECT), "r", 0xff0000);
	fill_is(SHEET(".st0{fill:red} g g rect{fill:blue}", RECT), "r", 0xff0000);
	fill_is(SHEET(".st0{fill:red} .st1{fill:blue}", RECT), "r", 0x0000ff);
	fill_is(SHEET(".st1{fill:blue} .st0{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET(".st0{fill:blue!important} #r{fill:red}", RECT), "r", 0x0000ff);
}

static void a_sheet_stands_between_attributes_and_style(void **state)
{
	(void)state;
	/* SVG 2, 6.6 */
	fill_is(SHEET("*{fill:red}", "<rect id=\"r\" width=\"1\" height=\"1\" fill=\"blue\"/>"),
		"r", 0xff0000);
	fill_is(SHEET("#r{fill:red}",
		      "<rect id=\"r\" width=\"1\" height=\"1\" style=\"fill:blue\"/>"),
		"r", 0x0000ff);
	fill_is(SHEET("#r{fill:red !important}",
		      "<rect id=\"r\" width=\"1\" height=\"1\" style=\"fill:blue\"/>"),
		"r", 0xff0000);
}

static void comments_wrappings_and_cdata_are_passed_by(void **state)
{
	(void)state;
	fill_is(SHEET("<![CDATA[ /* a{ */ <!-- .st0 /* x */ { fill : red; } --> ]]>", RECT), "r",
		0xff0000);
	fill_is(SHEET("@charset \"utf-8\"; @font-face{font-family:x} .st0{fill:red}", RECT), "r",
		0xff0000);
	fill_is(DRAWING(RECT "<style>.st0{fill:blue}</style>"
			     "<defs><style type=\"text/css\">.st0{fill:red}</style></defs>"),
		"r", 0xff0000);
}

static void what_is_not_followed_is_said(void **state)
{
	(void)state;
	static const struct {
		const char *sheet, *place;
	} CASES[] = {
		{"path:last-child{fill:red}", "path:last"},
		{"a,g>a+b{fill:red}", "g>a+b"},
		{"a~b{fill:red}", "a~b"},
		{"rect:nth-child(1){fill:red}", "rect:nth"},
		{"svg|rect{fill:red}", "svg|rect"},
		{"[id='R' i]{fill:red}", "[id='R' i]"},
		{"rect:not(g rect){fill:red}", "rect:not"},
		{"g{} @media (min-width:1px){rect{fill:red}}", "@media"},
		{"@supports (fill:red){rect{fill:red}}", "@supports"},
		{"@import 'x.css';", "@import"},
		{"rect{fill : var(--x)}", "var(--x)"},
		{"rect{r:1;rotate:45deg}", "rotate:"},
		{"@media screen{rect{transform-box:fill-box}}", "transform-box"},
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		char text[512];
		snprintf(text, sizeof(text), SHEET("%s", RECT), CASES[i].sheet);
		struct loaded loaded = load(text);
		assert_notice_at(&loaded, "unsupported-content", NOTICE_WARNING, CASES[i].place);
		assert_int_equal(shape_of(&loaded, "r")->fill.rgb, 0);
		unload(&loaded);
	}
}

static void a_sheet_in_another_language_is_said(void **state)
{
	(void)state;
	/* SVG 2, 6.2 (type): other style sheet languages are not applied */
	struct loaded loaded =
		load(DRAWING("<style type='text/x-other'>rect{fill:red}</style>" RECT));
	assert_notice_at(&loaded, "unsupported-content", NOTICE_WARNING, "<style");
	assert_int_equal(shape_of(&loaded, "r")->fill.rgb, 0);
	unload(&loaded);
}

static void a_list_keeps_the_selectors_that_are_followed(void **state)
{
	(void)state;
	struct loaded loaded = load(SHEET("a:hover,.st0{fill:red}", RECT));
	assert_int_equal(count_notices(&loaded, "unsupported-content"), 1);
	assert_int_equal(shape_of(&loaded, "r")->fill.rgb, 0xff0000);
	unload(&loaded);
}

static void attributes_are_compared_in_all_ways(void **state)
{
	(void)state;
	/* Selectors 4, 6.1 and 6.2 */
	fill_is(SHEET("[class~=st1]{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("[class^='st0']{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("[class$=\"st1\"]{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("[class*='0 s']{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("[ id |= r ]{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("[id|=r]{fill:red}", "<rect id=\"r-1\" width=\"1\" height=\"1\"/>"), "r-1",
		0xff0000);
	fill_is(SHEET("[class^='']{fill:red}", RECT), "r", 0);
	fill_is(SHEET("[class~='']{fill:red}", RECT), "r", 0);
	fill_is(SHEET("[class~=st]{fill:red}", RECT), "r", 0);
	fill_is(SHEET("[class$=st0]{fill:red}", RECT), "r", 0);
	fill_is(SHEET("[id|=rr]{fill:red}", RECT), "r", 0);
}

static void structure_and_negation_are_followed(void **state)
{
	(void)state;
	/* Selectors 4, 4.3, 14.1 and 14.3 */
	fill_is(SHEET("rect:first-child{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET(".outer:first-child rect{fill:red}", RECT), "r", 0);
	fill_is(SHEET(":root>.outer rect{fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("rect:not(.st2){fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("rect:not(.st2,#q,[x]){fill:red}", RECT), "r", 0xff0000);
	fill_is(SHEET("rect:not(.st0){fill:red}", RECT), "r", 0);
	fill_is(SHEET(":not(g):not(svg){fill:red}", RECT), "r", 0xff0000);
	/* as specific as what is negated (Selectors 4, 17) */
	fill_is(SHEET("rect:not(#q){fill:red} .st0.st1{fill:blue}", RECT), "r", 0xff0000);
	fill_is(SHEET(".st0{fill:red} rect:not(g){fill:blue}", RECT), "r", 0xff0000);
}

static void escapes_in_names_are_read(void **state)
{
	(void)state;
	/* CSS Syntax 3, 4.3.7: a colon, a digit at the start, six digits and a space */
	static const char BODY[] = "<rect id=\"r\" class=\"a:b 1c \xc3\xa9\" width=\"1\" "
				   "height=\"1\"/>";
	static const char *const SELECTORS[] = {".a\\:b",    ".\\31 c", ".\\000031c",  ".\\e9",
						".\\0000E9", "#\\72 ",  "[class*=\\:]"};
	for (size_t i = 0; i < sizeof(SELECTORS) / sizeof(*SELECTORS); i++) {
		char text[512];
		snprintf(text, sizeof(text), SHEET("%s{fill:red}", "%s"), SELECTORS[i], BODY);
		fill_is(text, "r", 0xff0000);
	}
}

static void media_that_a_screen_is_are_followed(void **state)
{
	(void)state;
	/* Media Queries 4, 2 */
	fill_is(SHEET("@media screen{rect{fill:red}}", RECT), "r", 0xff0000);
	fill_is(SHEET("@media all{@media screen , print{rect{fill:red}}}", RECT), "r", 0xff0000);
	fill_is(SHEET("@media only screen{rect{fill:red}} @media{g{}}", RECT), "r", 0xff0000);
	fill_is(SHEET("@media not print{rect{fill:red}}", RECT), "r", 0xff0000);
	fill_is(DRAWING("<style media=\"print, screen\">rect{fill:red}</style>" RECT), "r",
		0xff0000);
}

static void what_is_for_print_only_is_noted(void **state)
{
	(void)state;
	static const char *const TEXTS[] = {
		DRAWING("<style media=\"print\">rect{fill:red}</style>" RECT),
		SHEET("@media print{rect{fill:red}}", RECT),
		SHEET("@media print and (color){rect{fill:red}}", RECT),
		SHEET("@media not all{rect{fill:red}}", RECT),
	};
	for (size_t i = 0; i < sizeof(TEXTS) / sizeof(*TEXTS); i++) {
		struct loaded loaded = load(TEXTS[i]);
		assert_notice_at(&loaded, "unsupported-content", NOTICE_NOTE,
				 i ? "@media" : "<style");
		assert_int_equal(shape_of(&loaded, "r")->fill.rgb, 0);
		unload(&loaded);
	}
}

static void a_mistake_has_its_own_place_whatever_the_sheet_is_wrapped_in(void **state)
{
	(void)state;
	static const char *const SHEETS[] = {
		"g{}\n.a{fill:@bleu}",
		"g{}\r\n/* \xc3\xa9 */\r\n.a{fill:\r\n@bleu}",
		"g{}\r.a{fill:@bleu}",
		"<![CDATA[g{}\r\n.a{\r\nfill:@bleu}]]>",
		"g{}<![CDATA[g{}]]>\n<!-- .b{} -->.a{fill:@bleu}<![CDATA[]]>",
		"g{}&#10;g &gt; .a{r:1}&#x2e;a{fill:@bleu}",
		"/* &lt; \xf0\x9d\x84\x9e */ <?pi?>.a{&fill;:@bleu}",
		".a{fill:@&wrong;}",
		"&rule;.a{fill:@bleu}",
		"/* 0123456789012345678901234567890123456789 \xc3\xa9\xc3\xa9\xc3\xa9 "
		"0123456789012345678901234567890123456789012345678901234567890123456789 "
		"0123456789012345678901234567890123456789012345678901234567890123456789 "
		"0123456789012345678901234567890123456789012345678901234567890123456789 "
		"0123456789012345678901234567890123456789012345678901234567890123456789 */"
		"\xc3\xa9{fill:red} .a{fill:@bleu}",
	};
	for (size_t i = 0; i < sizeof(SHEETS) / sizeof(*SHEETS); i++) {
		char text[1024];
		snprintf(text, sizeof(text),
			 "<!DOCTYPE svg [<!ENTITY fill 'fill'><!ENTITY wrong 'bleu'>"
			 "<!ENTITY rule 'g{} g{}'>]>" ROOT_100MM "<style>%s</style></svg>",
			 SHEETS[i]);
		struct loaded loaded = load_marked(text, "style");
		unload(&loaded);
	}
}

static void a_mistake_in_an_attribute_has_its_own_place(void **state)
{
	(void)state;
	struct loaded loaded = load("<!DOCTYPE svg [<!ENTITY r 'r:1;'>]>" DRAWING(
		"<g style='&r;fill:red;\r\n stroke : bleu'/>"));
	assert_notice_at(&loaded, "style", NOTICE_WARNING, "bleu'");
	unload(&loaded);
}

static void a_rule_with_an_invalid_selector_is_void_as_in_a_viewer(void **state)
{
	(void)state;
	/* Selectors 4, 4.1: an invalid selector in a list makes all of it invalid */
	static const struct {
		const char *sheet, *place;
	} CASES[] = {
		{"rect,.1a{fill:red}", ".1a"},
		{"rect,{fill:red}", "{fill"},
		{"rect:frobnicate,rect{fill:red}", "rect:frob"},
		{"rect,>g{fill:red}", ">g{"},
		{"rect,a>{fill:red}", "a>{"},
		{"#1,rect{fill:red}", "#1,"},
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		char text[512];
		snprintf(text, sizeof(text), SHEET("%s", RECT), CASES[i].sheet);
		struct loaded loaded = load(text);
		assert_notice_at(&loaded, "style", NOTICE_WARNING, CASES[i].place);
		assert_int_equal(shape_of(&loaded, "r")->fill.rgb, 0);
		unload(&loaded);
	}
}

static void geometry_and_visibility_come_from_sheets_too(void **state)
{
	(void)state;
	/* SVG 2, 7 (geometry properties) */
	struct loaded loaded = load(SHEET("circle{r:5px;cx:20px} .off{display:none}",
					  "<circle id=\"c\" class=\"off\" r=\"1\" cx=\"1\"/>"));
	assert_no_notices(&loaded);
	assert_box(&loaded, 0, 15, -5, 25, 5);
	assert_int_equal(shape_of(&loaded, "c")->unburned, CUTLINT_UNBURNED_DISPLAY);
	unload(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(each_kind_of_selector_is_applied),
		cmocka_unit_test(what_does_not_match_is_not_applied),
		cmocka_unit_test(specificity_then_order_decides),
		cmocka_unit_test(a_sheet_stands_between_attributes_and_style),
		cmocka_unit_test(comments_wrappings_and_cdata_are_passed_by),
		cmocka_unit_test(what_is_not_followed_is_said),
		cmocka_unit_test(a_sheet_in_another_language_is_said),
		cmocka_unit_test(a_list_keeps_the_selectors_that_are_followed),
		cmocka_unit_test(attributes_are_compared_in_all_ways),
		cmocka_unit_test(structure_and_negation_are_followed),
		cmocka_unit_test(escapes_in_names_are_read),
		cmocka_unit_test(media_that_a_screen_is_are_followed),
		cmocka_unit_test(what_is_for_print_only_is_noted),
		cmocka_unit_test(a_mistake_has_its_own_place_whatever_the_sheet_is_wrapped_in),
		cmocka_unit_test(a_mistake_in_an_attribute_has_its_own_place),
		cmocka_unit_test(a_rule_with_an_invalid_selector_is_void_as_in_a_viewer),
		cmocka_unit_test(geometry_and_visibility_come_from_sheets_too),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
