/* edit.c - what is deleted with an element, and which elements stay. */
#include "engine/edit.h"

#include <string.h>

#include "fresh.h"
#include "model/private.h"
#include "svg/load.h"

#define HEAD "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\">"

/* What is left of a drawing without its element `number`; the drawing itself where that stays. */
static void assert_left(struct arena *arena, const char *drawing, uint32_t number,
			const char *wanted)
{
	struct svg_report report;
	const struct svg_options options = {.report = &report};
	struct notices notices = {.arena = arena};
	struct cutlint_design *design;
	struct edit_facts facts = {0};
	assert_int_equal(svg_load_bytes(arena, drawing, strlen(drawing), "a.svg", &options,
					&notices, &design),
			 0);
	struct cutlint_span span =
		edit_element_span(&facts, arena, design, design->elements[number]);
	struct text left = {0};
	text_add(&left, drawing, span.byte);
	text_add_string(&left, drawing + span.byte + span.length);
	assert_string_equal(left.bytes, wanted);
	text_finish(&left);
}

#define STAYS(drawing, number) assert_left(*state, drawing, number, drawing)

static void an_element_alone_on_its_line_takes_the_line_along(void **state)
{
	assert_left(*state, HEAD "\n  <path d=\"M0 0h1\"/>\n</svg>", 1, HEAD "\n</svg>");
	assert_left(*state, HEAD "\r\n\t<path d=\"M0 0h1\"/> \r\n</svg>", 1, HEAD "\r\n</svg>");
	assert_left(*state, HEAD "\n<path\n d=\"M0 0h1\"\n/>\n</svg>", 1, HEAD "\n</svg>");
}

static void beside_others_it_goes_alone(void **state)
{
	assert_left(*state, HEAD "<path d=\"M0 0h1\"/><g/></svg>", 1, HEAD "<g/></svg>");
	assert_left(*state, HEAD "\n <g/> <path d=\"M0 0h1\"/>\n</svg>", 2,
		    HEAD "\n <g/> \n</svg>");
}

static void an_end_tag_goes_with_it(void **state)
{
	assert_left(*state, HEAD "<path d=\"M0 0h1\"> </path ><g/></svg>", 1, HEAD "<g/></svg>");
}

static void one_with_content_stays(void **state)
{
	STAYS(HEAD "<path d=\"M0 0h1\"><title>a</title></path></svg>", 1);
	STAYS(HEAD "<path d=\"M0 0h1\"><!-- why --></path></svg>", 1);
}

static void one_that_something_refers_to_stays(void **state)
{
	STAYS(HEAD "<path id=\"a\" d=\"M0 0h1\"/><g style=\"fill:url('#a')\"/></svg>", 1);
	STAYS(HEAD "<path id=\"a\" d=\"M0 0h1\"/><use href=\"#a\"/></svg>", 1);
	assert_left(*state, HEAD "<path id=\"a\" d=\"M0 0h1\"/><use href=\"#ab\"/></svg>", 1,
		    HEAD "<use href=\"#ab\"/></svg>");
}

/* A use of its group draws it once more. */
static void one_that_is_drawn_twice_stays(void **state)
{
	STAYS(HEAD "<g id=\"g\"><path d=\"M0 0h1\"/></g><use href=\"#g\" x=\"2\"/></svg>", 2);
}

static void one_that_stands_in_an_entity_stays(void **state)
{
	STAYS("<!DOCTYPE svg [<!ENTITY p '<path d=\"M0 0h1\"/>'>]>" HEAD "&p;</svg>", 1);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(an_element_alone_on_its_line_takes_the_line_along),
		FRESH(beside_others_it_goes_alone),
		FRESH(an_end_tag_goes_with_it),
		FRESH(one_with_content_stays),
		FRESH(one_that_something_refers_to_stays),
		FRESH(one_that_is_drawn_twice_stays),
		FRESH(one_that_stands_in_an_entity_stays),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
