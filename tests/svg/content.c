/* What is in a drawing beside shapes: text, pictures, switch, namespaces, and what is no drawing.
 */
#include <string.h>

#include "helper.h"

static void text_and_pictures_are_kept_and_said(void **state)
{
	(void)state;
	struct loaded loaded = load(
		DRAWING("<text id=\"t\"><tspan>Ada</tspan></text><image id=\"i\" href=\"a.png\"/>"
			"<foreignObject id=\"f\"/>"));
	assert_notice_at(&loaded, "live-text", NOTICE_WARNING, "<text");
	assert_notice_at(&loaded, "raster-image", NOTICE_WARNING, "<image");
	assert_notice_at(&loaded, "foreign-object", NOTICE_WARNING, "<foreignObject");
	assert_int_equal(loaded.notices.count, 3);
	for (uint32_t i = 0; i < 3; i++)
		assert_non_null(loaded.notices.items[i].suggestion);
	assert_int_equal(shape_of(&loaded, "t")->unburned, CUTLINT_UNBURNED_TEXT);
	assert_int_equal(shape_of(&loaded, "i")->unburned, CUTLINT_UNBURNED_IMAGE);
	assert_int_equal(shape_of(&loaded, "f")->unburned, CUTLINT_UNBURNED_OTHER);
	assert_int_equal(loaded.design->outline_count, 0);
	unload(&loaded);
}

static void flowed_text_of_older_drafts_is_text(void **state)
{
	(void)state;
	/* SVG 1.2 (W3C working draft of 13 April 2005), 4: editors show it, browsers do not */
	struct loaded loaded = load(DRAWING("<flowRoot><flowRegion><rect width='9' height='9'/>"
					    "</flowRegion><flowPara>x</flowPara></flowRoot>"));
	assert_notice_at(&loaded, "live-text", NOTICE_WARNING, "<flowRoot");
	assert_int_equal(loaded.design->outline_count, 0);
	unload(&loaded);
}

static void hidden_or_empty_text_is_silent(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<text id=\"e\"> \n </text>"
					    "<g display=\"none\"><text id=\"h\">x</text></g>"
					    "<image visibility=\"hidden\"/>"));
	assert_no_notices(&loaded);
	assert_int_equal(shape_of(&loaded, "h")->unburned, CUTLINT_UNBURNED_DISPLAY);
	unload(&loaded);
}

static void text_that_is_first_placed_hidden_is_still_said(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<defs><text id=\"t\">x</text></defs>"
					    "<use href=\"#t\" visibility=\"hidden\"/>"
					    "<use href=\"#t\"/><use href=\"#t\"/>"));
	assert_int_equal(count_notices(&loaded, "live-text"), 1);
	unload(&loaded);
}

static void elements_for_another_language_are_left_out_with_a_note(void **state)
{
	(void)state;
	/* SVG 2, 5.8: the attributes count outside of a switch too */
	struct loaded loaded = load(DRAWING("<g systemLanguage=\"de\"><circle r=\"1\"/></g>"));
	assert_int_equal(loaded.design->shape_count, 0);
	assert_notice_at(&loaded, "switch", NOTICE_NOTE, "<g ");
	unload(&loaded);
}

static void a_switch_takes_the_first_child_that_qualifies(void **state)
{
	(void)state;
	/* SVG 2, 5.8.2 to 5.8.5 */
	struct loaded loaded = load(
		DRAWING("<switch><foreignObject requiredExtensions=\"http://example.org/x\"/>"
			"<rect id=\"de\" systemLanguage=\"de\" width=\"1\" height=\"1\"/>"
			"<rect id=\"en\" systemLanguage=\"fr, en-GB\" width=\"2\" height=\"2\"/>"
			"<rect id=\"rest\" width=\"3\" height=\"3\"/></switch>"));
	assert_int_equal(loaded.design->shape_count, 1);
	assert_string_equal(loaded.design->shapes[0].element->id, "en");
	assert_int_equal(notice_of(&loaded, "switch")->level, NOTICE_NOTE);
	unload(&loaded);
}

static void unknown_elements_draw_nothing_but_are_kept(void **state)
{
	(void)state;
	/* SVG 2, 2 and 5.3: an unknown element is not rendered, nor is what is in it */
	struct loaded loaded = load(
		DRAWING("<x:layer xmlns:x=\"http://example.org/x\"><rect width=\"1\" "
			"height=\"1\"/></x:layer><blob/><title>t</title><linearGradient/>"
			"<x:rect xmlns:x=\"http://example.org/x\" width=\"1\" height=\"1\"/>"));
	assert_no_notices(&loaded);
	assert_int_equal(loaded.design->shape_count, 0);
	assert_int_equal(loaded.design->element_count, 7);
	assert_string_equal(loaded.design->elements[1]->tag, "layer");
	unload(&loaded);
}

static void elements_know_their_names_and_places_in_the_tree(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING(
		"<g id=\"a\" class=\"k l\" xmlns:p=\"http://example.org/p\" p:label=\"Face\">"
		"<path/><rect/><path/></g>"));
	const struct cutlint_element *const *elements = loaded.design->elements;
	assert_string_equal(elements[1]->id, "a");
	assert_string_equal(elements[1]->classes, "k l");
	assert_string_equal(elements[1]->label, "Face");
	assert_int_equal(elements[1]->attribute_count, 3);
	assert_string_equal(elements[1]->attributes[2].name, "p:label");
	assert_ptr_equal(elements[4]->parent, elements[1]);
	assert_int_equal(elements[2]->nth, 1);
	assert_int_equal(elements[3]->nth, 1);
	assert_int_equal(elements[4]->nth, 2);
	assert_int_equal(elements[4]->index, 4);
	char name[64];
	cutlint_element_name(elements[4], name, sizeof(name));
	assert_string_equal(name, "/svg/g[1]/path[2]");
	unload(&loaded);
}

static void prefixed_svg_is_svg(void **state)
{
	(void)state;
	struct loaded loaded =
		load("<s:svg xmlns:s=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\" "
		     "viewBox=\"0 0 9 9\"><s:rect width=\"1\" height=\"1\"/><rect width=\"1\" "
		     "height=\"1\"/></s:svg>");
	assert_no_notices(&loaded);
	assert_int_equal(loaded.design->outline_count, 1);
	unload(&loaded);
}

static void a_drawing_without_namespace_is_read_with_a_warning(void **state)
{
	(void)state;
	struct loaded loaded = load("<svg width=\"9mm\" height=\"9mm\"><circle r=\"1\"/></svg>");
	assert_notice_at(&loaded, "svg-namespace", NOTICE_WARNING, "<svg");
	assert_int_equal(loaded.design->outline_count, 1);
	unload(&loaded);
}

static void is_fatal(const char *bytes, size_t length, const char *code)
{
	struct loaded loaded = load_bytes(bytes, length);
	assert_int_equal(loaded.result, -1);
	assert_int_equal(notice_of(&loaded, code)->level, NOTICE_FATAL);
	assert_int_equal(loaded.notices.fatal_count, 1);
	unload(&loaded);
}

static void what_is_no_drawing_is_refused(void **state)
{
	(void)state;
	is_fatal("", 0, "empty-file");
	is_fatal(" \r\n\t", 4, "empty-file");
	is_fatal("<html/>", 7, "not-svg");
	is_fatal("hello", 5, "xml-syntax");
	is_fatal("<svg>", 5, "xml-syntax");
	is_fatal("<svg/><svg/>", 12, "xml-syntax");
	is_fatal("<svg a=\"1\" a=\"2\"/>", 18, "xml-syntax");
	is_fatal("<svg>&none;</svg>", 17, "xml-syntax");
	is_fatal("\x1f\x8b\x08\0\0", 5, "encoding");
	is_fatal("\x89PNG\r\n\x1a\n\0\0", 10, "not-svg");
	is_fatal("%PDF-1.4\n", 9, "not-svg");
	is_fatal("\xff\xd8\xff\xe0", 4, "not-svg");
	is_fatal("\xff\xd8", 2, "encoding");
	is_fatal("<svg>\xff</svg>", 12, "encoding");
	is_fatal("<svg>\0</svg>", 12, "encoding");
	is_fatal("<?xml version=\"1.0\" encoding=\"klingon\"?><svg/>", 46, "encoding");
}

static void an_entity_that_an_outer_file_might_declare_is_not_passed_by(void **state)
{
	(void)state;
	const char text[] = "<!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" "
			    "\"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd\">"
			    "<svg xmlns=\"http://www.w3.org/2000/svg\">&shape;</svg>";
	is_fatal(text, sizeof(text) - 1, "xml-syntax");
}

static void what_is_not_followed_is_said(void **state)
{
	(void)state;
	struct loaded loaded = load("<?xml-stylesheet href=\"a.css\"?>" ROOT_100MM "</svg>");
	assert_int_equal(notice_of(&loaded, "unsupported-content")->level, NOTICE_WARNING);
	unload(&loaded);
	loaded = load(DRAWING("<defs><script>draw()</script></defs>"));
	assert_notice_at(&loaded, "unsupported-content", NOTICE_WARNING, "<script");
	unload(&loaded);
	loaded = load(DRAWING("<circle r=\"1\"><animate attributeName=\"r\" to=\"5\"/></circle>"));
	assert_notice_at(&loaded, "unsupported-content", NOTICE_WARNING, "<animate");
	unload(&loaded);
}

static void missing_files_and_folders_are_fatal(void **state)
{
	(void)state;
	static const char *const PATHS[] = {"/nowhere/at/all.svg", "/"};
	for (int i = 0; i < 2; i++) {
		struct svg_options options = {.flatness_mm = 0.005};
		struct notices notices = {.arena = arena_create()};
		struct cutlint_design *design;
		assert_int_equal(
			svg_load(notices.arena, PATHS[i], PATHS[i], &options, &notices, &design),
			-1);
		assert_null(design);
		assert_int_equal(notices.fatal_count, 1);
		arena_destroy(notices.arena);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(text_and_pictures_are_kept_and_said),
		cmocka_unit_test(flowed_text_of_older_drafts_is_text),
		cmocka_unit_test(hidden_or_empty_text_is_silent),
		cmocka_unit_test(text_that_is_first_placed_hidden_is_still_said),
		cmocka_unit_test(elements_for_another_language_are_left_out_with_a_note),
		cmocka_unit_test(a_switch_takes_the_first_child_that_qualifies),
		cmocka_unit_test(unknown_elements_draw_nothing_but_are_kept),
		cmocka_unit_test(elements_know_their_names_and_places_in_the_tree),
		cmocka_unit_test(prefixed_svg_is_svg),
		cmocka_unit_test(a_drawing_without_namespace_is_read_with_a_warning),
		cmocka_unit_test(what_is_no_drawing_is_refused),
		cmocka_unit_test(an_entity_that_an_outer_file_might_declare_is_not_passed_by),
		cmocka_unit_test(what_is_not_followed_is_said),
		cmocka_unit_test(missing_files_and_folders_are_fatal),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
