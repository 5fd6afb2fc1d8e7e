/* Positions: what a span names must stand there in the source, whatever the file looks like. */
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "helper.h"

static const struct cutlint_attribute *attribute_of(const struct cutlint_element *element,
						    const char *name)
{
	for (uint32_t i = 0; i < element->attribute_count; i++) {
		if (strcmp(element->attributes[i].name, name) == 0)
			return &element->attributes[i];
	}
	fail_msg("there is no attribute %s", name);
	return NULL;
}

static void assert_span(const struct loaded *loaded, struct cutlint_span span, const char *text)
{
	const struct source *source = &loaded->design->priv->source;
	assert_int_equal(span.length, strlen(text));
	assert_true(span.byte + span.length <= source->length);
	assert_memory_equal(source->bytes + span.byte, text, span.length);
}

static void assert_position(const struct loaded *loaded, uint32_t byte, uint32_t line,
			    uint32_t column)
{
	struct source_position at = design_position(loaded->design, byte);
	assert_int_equal(at.line, line);
	assert_int_equal(at.column, column);
}

static void a_start_tag_spans_from_bracket_to_bracket(void **state)
{
	(void)state;
	struct loaded loaded =
		load(DRAWING("<g><!-- <g> --><path  d = 'M0 0L1 1'\n\tid=\"a>b\"  /></g><g ></g>"));
	const struct cutlint_element *const *elements = loaded.design->elements;
	assert_span(&loaded, elements[0]->start_tag, ROOT_100MM);
	assert_span(&loaded, elements[1]->start_tag, "<g>");
	assert_span(&loaded, elements[2]->start_tag, "<path  d = 'M0 0L1 1'\n\tid=\"a>b\"  />");
	assert_span(&loaded, elements[3]->start_tag, "<g >");
	const struct cutlint_attribute *d = attribute_of(elements[2], "d");
	assert_span(&loaded, d->name_span, "d");
	assert_span(&loaded, d->value_span, "M0 0L1 1");
	assert_span(&loaded, attribute_of(elements[2], "id")->value_span, "a>b");
	unload(&loaded);
}

static void namespace_declarations_do_not_shift_attributes(void **state)
{
	(void)state;
	struct loaded loaded =
		load(DRAWING("<a id=\"x\" xmlns:href=\"u:h\" xmlns=\"http://www.w3.org/2000/svg\" "
			     "href:href=\"y\" class=\"z\"/>"));
	const struct cutlint_element *element = loaded.design->elements[1];
	assert_span(&loaded, attribute_of(element, "id")->value_span, "x");
	assert_span(&loaded, attribute_of(element, "href:href")->value_span, "y");
	assert_span(&loaded, attribute_of(element, "class")->value_span, "z");
	unload(&loaded);
}

static void a_file_of_one_long_line_has_exact_columns(void **state)
{
	(void)state;
	static char text[200000];
	size_t length = (size_t)snprintf(text, sizeof(text), "%s", ROOT_100MM);
	for (int i = 0; i < 5000; i++)
		length += (size_t)snprintf(text + length, sizeof(text) - length,
					   "<path d=\"M1 1h%d\"/>", i % 90 + 1);
	snprintf(text + length, sizeof(text) - length, "</svg>");
	struct loaded loaded = load(text);
	assert_no_notices(&loaded);
	assert_int_equal(loaded.design->outline_count, 5000);
	for (uint32_t i = 0; i < 5000; i++) {
		char expected[16];
		snprintf(expected, sizeof(expected), "h%d\"", (int)(i % 90 + 1));
		assert_command_at(&loaded, i, 0, expected);
		const struct cutlint_command *command = &loaded.design->commands[i];
		assert_position(&loaded, command->byte, 1, command->byte + 1);
	}
	unload(&loaded);
}

static void lines_and_columns_are_right_with_every_line_end(void **state)
{
	(void)state;
	static const char *const ENDS[] = {"\n", "\r\n", "\r"};
	for (int i = 0; i < 3; i++) {
		char text[512];
		snprintf(text, sizeof(text), "%s%s\t<path%s d=\"M1 1%s L2 2%s L3 3\"/></svg>",
			 ROOT_100MM, ENDS[i], ENDS[i], ENDS[i], ENDS[i]);
		struct loaded loaded = load(text);
		assert_no_notices(&loaded);
		assert_position(&loaded, loaded.design->elements[1]->start_tag.byte, 2, 2);
		assert_command_at(&loaded, 0, 0, "L2 2");
		assert_command_at(&loaded, 0, 1, "L3 3");
		assert_position(&loaded, loaded.design->commands[0].byte, 4, 2);
		assert_position(&loaded, loaded.design->commands[1].byte, 5, 2);
		unload(&loaded);
	}
}

static void a_byte_order_mark_shifts_nothing_but_bytes(void **state)
{
	(void)state;
	struct loaded loaded = load("\xef\xbb\xbf" DRAWING("<path d=\"M1 1L2 2\"/>"));
	assert_no_notices(&loaded);
	assert_span(&loaded, loaded.design->elements[0]->start_tag, ROOT_100MM);
	assert_int_equal(loaded.design->elements[0]->start_tag.byte, 3);
	assert_position(&loaded, 3, 1, 1);
	assert_command_at(&loaded, 0, 0, "L2 2");
	unload(&loaded);
}

static void columns_count_characters_not_bytes(void **state)
{
	(void)state;
	/* é takes two bytes, 𝄞 four; each is one column */
	struct loaded loaded =
		load(ROOT_100MM "\n<path id=\"\xc3\xa9\xf0\x9d\x84\x9e\" d=\"M0 0L1 1\"/></svg>");
	assert_position(&loaded, loaded.design->commands[0].byte, 2, 22);
	unload(&loaded);
}

static void entities_in_path_data_are_followed(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<path d=\"M1&#32;1&#x4C;2 2&#9;L3 3 x\"/>"));
	assert_command_at(&loaded, 0, 0, "&#x4C;2 2");
	assert_command_at(&loaded, 0, 1, "L3 3");
	assert_notice_at(&loaded, "path-data", NOTICE_ERROR, "x\"");
	unload(&loaded);
}

static void what_comes_from_an_entity_stands_at_its_reference(void **state)
{
	(void)state;
	/* XML 1.0, 4.4.5 (included in literal); nested, with characters of two and more bytes */
	struct loaded loaded = load(
		"<!DOCTYPE svg [<!ENTITY two 'L2 2&#13;&tail;'>"
		"<!ENTITY tail 'L&#38;#x33; 1'><!ENTITY e '&#233;&lt;'>]>" DRAWING(
			"<path d=\"M1 1 L5 5 &two;\r\n L4 4 &two; L3 &#51; ?\"/>"
			"<rect style='fill:url(#&e;);&e;:1;stroke:bleu' width='1' height='1'/>"));
	static const char *const PLACES[] = {"L5 5",     "&two;\r",  "&two;\r", "L4 4",
					     "&two; L3", "&two; L3", "L3 &#51;"};
	assert_int_equal(loaded.design->outlines[0].command_count, 7);
	for (uint32_t i = 0; i < 7; i++)
		assert_command_at(&loaded, 0, i, PLACES[i]);
	assert_vertex(&loaded, 0, 3, 3, 1);
	assert_notice_at(&loaded, "path-data", NOTICE_ERROR, "?\"/>");
	assert_notice_at(&loaded, "paint-server", NOTICE_WARNING, "url(#&e;)");
	assert_span(&loaded, attribute_of(loaded.design->elements[1], "d")->value_span,
		    "M1 1 L5 5 &two;\r\n L4 4 &two; L3 &#51; ?");
	unload(&loaded);
}

static void an_attribute_that_the_doctype_gives_stands_at_the_tag(void **state)
{
	(void)state;
	/* XML 1.0, 3.3.2 */
	struct loaded loaded = load("<!DOCTYPE svg [<!ATTLIST path d CDATA 'M1 1H5 x'>]>" DRAWING(
		"\n<path id='p'/><path d='M2 2H9'/>"));
	assert_position(&loaded, loaded.design->commands[0].byte, 2, 1);
	assert_command_at(&loaded, 0, 0, "<path id='p'/>");
	assert_command_at(&loaded, 1, 0, "H9'");
	assert_notice_at(&loaded, "path-data", NOTICE_ERROR, "<path id='p'/>");
	unload(&loaded);
}

static void elements_in_an_entity_stand_at_its_reference(void **state)
{
	(void)state;
	struct loaded loaded = load(
		"<!DOCTYPE svg [<!ENTITY box '<g><path id=\"p\" d=\"M0 0L1 1\"/></g>'>]>" DRAWING(
			"\n &box;<rect width=\"1\" height=\"1\"/>&box;"));
	assert_no_notices(&loaded);
	assert_int_equal(loaded.design->element_count, 6);
	for (uint32_t i = 1; i < 6; i++) {
		const struct cutlint_element *element = loaded.design->elements[i];
		assert_int_equal(element->from_entity, i != 3);
		if (i != 3)
			assert_span(&loaded, element->start_tag, "&box;");
	}
	assert_position(&loaded, loaded.design->elements[1]->start_tag.byte, 2, 2);
	assert_command_at(&loaded, 0, 0, "&box;<rect");
	assert_span(&loaded, loaded.design->elements[3]->start_tag,
		    "<rect width=\"1\" height=\"1\"/>");
	unload(&loaded);
}

/* Widens ASCII to UTF-16 with a byte order mark. */
static size_t widen(const char *text, int big_endian, char *out)
{
	size_t length = 0;
	out[length++] = (char)(big_endian ? 0xfe : 0xff);
	out[length++] = (char)(big_endian ? 0xff : 0xfe);
	for (; *text; text++) {
		out[length + (size_t)big_endian] = *text;
		out[length + (size_t)!big_endian] = 0;
		length += 2;
	}
	return length;
}

/* ASCII in `width` bytes a letter, of which the one at `first` holds it. */
static void add_wide(struct text *out, const char *text, unsigned width, unsigned first)
{
	for (; *text; text++) {
		char letter[4] = {0};
		letter[first] = *text;
		text_add(out, letter, width);
	}
}

static void utf_16_is_read_and_placed_in_its_utf_8_text(void **state)
{
	(void)state;
	for (int big_endian = 0; big_endian < 2; big_endian++) {
		char bytes[1024];
		size_t length = widen("<?xml version='1.0' encoding='UTF-16'?>\n" DRAWING(
					      "<path d=\"M1 1L2 2\"/>"),
				      big_endian, bytes);
		struct loaded loaded = load_bytes(bytes, length);
		assert_no_notices(&loaded);
		assert_command_at(&loaded, 0, 0, "L2 2");
		assert_position(&loaded, loaded.design->elements[0]->start_tag.byte, 2, 1);
		unload(&loaded);
	}
}

static void latin_1_is_read_and_placed_in_its_utf_8_text(void **state)
{
	(void)state;
	struct loaded loaded = load("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>" DRAWING(
		"<path id=\"caf\xe9\" d=\"M1 1L2 2\"/>"));
	assert_no_notices(&loaded);
	assert_string_equal(loaded.design->elements[1]->id, "caf\xc3\xa9");
	assert_command_at(&loaded, 0, 0, "L2 2");
	unload(&loaded);
}

static void columns_count_characters_of_the_encoding_that_the_file_has(void **state)
{
	(void)state;
	/* the same text, with é, 漢 and 𝄞 where the encoding has them, in each encoding */
	static const struct {
		const char *name, *letter;
	} CASES[] = {
		{"UTF-8", "\xf0\x9d\x84\x9e"},    {"ISO-8859-1", "\xe9"},
		{"windows-1252", "\x80"},         {"Shift_JIS", "\x8a\xbf"},
		{"UTF-16LE", "\x34\xd8\x1e\xdd"}, {"UTF-16BE", "\xd8\x34\xdd\x1e"},
		{"UTF-32LE", "\x1e\xd1\x01\x00"}, {"UTF-32BE", "\x00\x01\xd1\x1e"},
	};
	for (size_t i = 0; i < sizeof(CASES) / sizeof(*CASES); i++) {
		unsigned width = strncmp(CASES[i].name, "UTF-16", 6) == 0   ? 2
				 : strncmp(CASES[i].name, "UTF-32", 6) == 0 ? 4
									    : 1;
		struct text text = {0};
		char head[128];
		snprintf(head, sizeof(head), "<?xml version='1.0' encoding='%.*s'?>\r\n",
			 width > 1 ? 6 : 20, CASES[i].name);
		unsigned first = strstr(CASES[i].name, "BE") ? width - 1 : 0;
		add_wide(&text, head, width, first);
		add_wide(&text, ROOT_100MM "\r\n<path id='", width, first);
		text_add(&text, CASES[i].letter, width > 1 ? 4 : strlen(CASES[i].letter));
		add_wide(&text, "' d='M1 1L2 2 ?'/></svg>", width, first);
		struct loaded loaded = load_bytes(text.bytes, text.length);
		const struct notice *notice =
			assert_notice_at(&loaded, "path-data", NOTICE_ERROR, "?'/>");
		assert_position(&loaded, notice->byte, 3, 26);
		assert_position(&loaded, loaded.design->commands[0].byte, 3, 21);
		unload(&loaded);
		text_finish(&text);
	}
}

static void lines_above_65535_are_counted_on(void **state)
{
	(void)state;
	struct text text = {0};
	text_add_string(&text, ROOT_100MM);
	for (int i = 1; i < 70000; i++)
		text_add_string(&text, "\n");
	text_add_string(&text, "  <path d='M1 1L2 2 ?'/>\n<g a=></svg>");
	struct loaded loaded = load(text.bytes);
	const struct notice *notice = notice_of(&loaded, "xml-syntax");
	struct source source;
	assert_int_equal(
		source_index(&source, loaded.arena, "a.svg", text.bytes, (uint32_t)text.length), 0);
	assert_int_equal(source_position(&source, notice->byte).line, 70001);
	unload(&loaded);

	text.length -= strlen("<g a=></svg>");
	text_add_string(&text, "</svg>");
	loaded = load(text.bytes);
	assert_position(&loaded, notice_of(&loaded, "path-data")->byte, 70000, 21);
	unload(&loaded);
	text_finish(&text);
}

static void a_syntax_error_stands_where_the_parser_stopped(void **state)
{
	(void)state;
	const char text[] = ROOT_100MM "\n<g>\n<path d=M0/></g></svg>";
	struct loaded loaded = load(text);
	const struct notice *notice = notice_of(&loaded, "xml-syntax");
	assert_int_equal(notice->byte, strstr(text, "M0/>") - text);
	assert_non_null(strstr(notice->message, "libxml2: "));
	unload(&loaded);
}

static void assert_syntax(const char *text, const char *said)
{
	struct loaded loaded = load(text);
	assert_non_null(strstr(notice_of(&loaded, "xml-syntax")->message, said));
	unload(&loaded);
}

static void a_file_that_breaks_off_says_where_it_was(void **state)
{
	(void)state;
	assert_syntax(ROOT_100MM "<path d=\"M0 0", "the file ends inside a tag");
	assert_syntax(ROOT_100MM "<path d=\"M0 0\"\n", "the file ends inside a tag");
	assert_syntax(ROOT_100MM "<path d=", "the file ends inside a tag");
	assert_syntax(ROOT_100MM "<", "the file ends inside a tag");
	assert_syntax(ROOT_100MM "</sv", "the file ends inside a tag");
	assert_syntax(ROOT_100MM "<!-- a", "the file ends inside a comment");
	assert_syntax(ROOT_100MM "<![CDATA[ a", "the file ends inside a CDATA section");
	assert_syntax(ROOT_100MM "<?a b", "the file ends inside a processing instruction");
	assert_syntax(ROOT_100MM "&am", "the file ends inside a reference");
	assert_syntax("<!DOCTYPE svg", "the file ends inside the document type");
	assert_syntax("<?xml version=\"1.0\"?>\n", "the file ends before an element begins");
	assert_syntax(ROOT_100MM "<g>\n", "the file ends before all elements are closed");
	assert_syntax(ROOT_100MM "<g></svg>", "an end tag does not match its start tag");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_start_tag_spans_from_bracket_to_bracket),
		cmocka_unit_test(namespace_declarations_do_not_shift_attributes),
		cmocka_unit_test(a_file_of_one_long_line_has_exact_columns),
		cmocka_unit_test(lines_and_columns_are_right_with_every_line_end),
		cmocka_unit_test(a_byte_order_mark_shifts_nothing_but_bytes),
		cmocka_unit_test(columns_count_characters_not_bytes),
		cmocka_unit_test(entities_in_path_data_are_followed),
		cmocka_unit_test(what_comes_from_an_entity_stands_at_its_reference),
		cmocka_unit_test(an_attribute_that_the_doctype_gives_stands_at_the_tag),
		cmocka_unit_test(a_file_that_breaks_off_says_where_it_was),
		cmocka_unit_test(elements_in_an_entity_stand_at_its_reference),
		cmocka_unit_test(utf_16_is_read_and_placed_in_its_utf_8_text),
		cmocka_unit_test(latin_1_is_read_and_placed_in_its_utf_8_text),
		cmocka_unit_test(columns_count_characters_of_the_encoding_that_the_file_has),
		cmocka_unit_test(lines_above_65535_are_counted_on),
		cmocka_unit_test(a_syntax_error_stands_where_the_parser_stopped),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
