/* fingerprint.c - what of a drawing changes the fingerprints of its findings, and what does not. */
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

#include "scene.h"

#define ROOT                                                                                       \
	"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"60mm\" height=\"30mm\" "                \
	"viewBox=\"0 0 60 30\">"
#define CARD "<rect id=\"outline\" x=\"2\" y=\"2\" width=\"56\" height=\"26\"/>"

#define MOST 8

/* The fingerprints of all findings of a drawing, in their order. */
struct prints {
	char text[MOST][64];
	size_t count;
};

static struct prints prints_of(struct scene *scene, const char *drawing)
{
	struct prints prints = {0};
	scene_write(scene, "a.svg", drawing);
	struct ran ran = CUTLINT(scene, "check", "-q", "--format", "sarif", "a.svg");
	assert_int_equal(ran.status, 1);
	json_error_t error;
	json_t *log = json_loads(ran.out, 0, &error), *results;
	assert_non_null(log);
	assert_int_equal(json_unpack(log, "{s:[{s:o}]}", "runs", "results", &results), 0);
	prints.count = json_array_size(results);
	assert_true(prints.count <= MOST);
	for (size_t i = 0; i < prints.count; i++) {
		const char *text;
		assert_int_equal(json_unpack(json_array_get(results, i), "{s:{s:s}}",
					     "partialFingerprints", "cutlint/v1", &text),
				 0);
		assert_int_equal(strlen(text), 32);
		strncpy(prints.text[i], text, sizeof(prints.text[i]) - 1);
	}
	json_decref(log);
	ran_finish(&ran);
	return prints;
}

static void assert_same(struct scene *scene, const char *before, const char *after)
{
	struct prints a = prints_of(scene, before), b = prints_of(scene, after);
	assert_true(a.count > 0);
	assert_int_equal(a.count, b.count);
	for (size_t i = 0; i < a.count; i++)
		assert_string_equal(a.text[i], b.text[i]);
}

/* Two windows 0.3 mm apart and a dot of 0.3 mm: an element with an id, and some without. */
#define WINDOWS "<circle cx=\"20\" cy=\"15\" r=\"5\"/><circle cx=\"30.3\" cy=\"15\" r=\"5\"/>"
#define DOT     "<circle id=\"dot\" cx=\"45\" cy=\"15\" r=\"0.15\"/>"
#define DRAWING ROOT CARD "<g>" WINDOWS DOT "</g></svg>"

static void lines_above_change_nothing(void **state)
{
	assert_same(*state, DRAWING, "<!-- a\n\nb -->\n\n" DRAWING);
	assert_same(*state, DRAWING,
		    ROOT "\n\n<desc>\n</desc>\n" CARD "<g>" WINDOWS DOT "</g></svg>");
}

static void the_order_of_attributes_changes_nothing(void **state)
{
	assert_same(*state, DRAWING,
		    ROOT CARD "<g><circle r=\"5\" cy=\"15\" cx=\"20\"/>"
			      "<circle cy=\"15\" r=\"5\" cx=\"30.3\"/>"
			      "<circle r=\"0.15\" cy=\"15\" cx=\"45\" id=\"dot\"/></g></svg>");
}

static void indentation_changes_nothing(void **state)
{
	assert_same(*state, DRAWING,
		    ROOT "\r\n\t" CARD
			 "\r\n\t<g>\r\n\t\t<circle\r\n\t\t\tcx=\"20\"\r\n\t\t\tcy = '15' r=\"5\" />"
			 "\r\n\t\t<circle cx=\"30.3\" cy=\"15\" r=\"5\"></circle>\r\n\t\t" DOT
			 "\r\n\t</g>\r\n</svg>\r\n");
}

#define DIAMOND(white)                                                                             \
	ROOT CARD "<path d=\"M20 15" white "l0.15 0.15" white "-0.15 0.15" white                   \
		  "-0.15 -0.15z\"/></svg>"

static void white_space_in_path_data_changes_nothing(void **state)
{
	assert_same(*state, DIAMOND(" "), DIAMOND("\n\t  "));
}

static void where_the_art_lies_and_how_it_looks_changes_nothing(void **state)
{
	assert_same(*state, DRAWING,
		    ROOT CARD "<g transform=\"translate(1.25 -2)\" fill=\"#123456\">" WINDOWS DOT
			      "</g></svg>");
}

static void other_shapes_before_it_change_nothing(void **state)
{
	assert_same(*state, DRAWING,
		    ROOT CARD "<circle cx=\"8\" cy=\"8\" r=\"3\"/><g/><g>" WINDOWS DOT
			      "</g></svg>");
}

static void assert_all_differ(struct scene *scene, const char *drawing, size_t count)
{
	struct prints prints = prints_of(scene, drawing);
	assert_int_equal(prints.count, count);
	for (size_t i = 0; i < count; i++) {
		for (size_t j = 0; j < i; j++)
			assert_string_not_equal(prints.text[i], prints.text[j]);
	}
}

static void equal_findings_on_different_elements_differ(void **state)
{
	assert_all_differ(*state,
			  ROOT CARD "<circle id=\"a\" cx=\"20\" cy=\"15\" r=\"0.15\"/>"
				    "<circle id=\"b\" cx=\"30\" cy=\"15\" r=\"0.15\"/>"
				    "<circle cx=\"40\" cy=\"15\" r=\"0.15\"/>"
				    "<circle cx=\"50\" cy=\"15\" r=\"0.15\"/></svg>",
			  4);
}

/* Placed four times by groups, the elements themselves are alike in all they have. */
static void equal_findings_on_equal_elements_differ(void **state)
{
	assert_all_differ(
		*state,
		ROOT CARD
		"<g transform=\"translate(10)\"><circle cx=\"9\" cy=\"15\" r=\".15\"/></g>"
		"<g transform=\"translate(20)\"><circle cx=\"9\" cy=\"15\" r=\".15\"/></g>"
		"</svg>",
		2);
}

#define HOLE(x) "M" x " 15h0.3v0.3h-0.3z"

static void equal_findings_in_one_path_differ(void **state)
{
	assert_all_differ(
		*state,
		ROOT CARD "<path id=\"art\" d=\"" HOLE("10") HOLE("20") HOLE("30") "\"/></svg>", 3);
}

/* Of holes in one path the first is mended: the others stay the same findings. */
static void mending_one_leaves_the_others(void **state)
{
	struct scene *scene = *state;
	struct prints before = prints_of(scene, ROOT CARD "<path id=\"art\" d=\"M5 15h3v3h-3z" HOLE(
							"10") HOLE("20") HOLE("30") "\"/></svg>");
	struct prints after = prints_of(scene, ROOT CARD "<path id=\"art\" d=\"M5 15h3v3h-3z" HOLE(
						       "20") HOLE("30") "\"/></svg>");
	assert_int_equal(before.count, 3);
	assert_int_equal(after.count, 2);
	assert_string_equal(before.text[1], after.text[0]);
	assert_string_equal(before.text[2], after.text[1]);
}

static void another_rule_or_element_is_another_finding(void **state)
{
	struct scene *scene = *state;
	struct prints before = prints_of(scene, DRAWING);
	struct prints after =
		prints_of(scene, ROOT CARD "<g>" WINDOWS "<circle id=\"spot\" cx=\"45\" cy=\"15\" "
					   "r=\"0.15\"/></g></svg>");
	assert_int_equal(before.count, 2);
	assert_int_equal(after.count, 2);
	assert_string_not_equal(before.text[0], before.text[1]);
	assert_string_equal(before.text[0], after.text[0]);
	assert_string_not_equal(before.text[1], after.text[1]);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SCENE(lines_above_change_nothing),
		SCENE(the_order_of_attributes_changes_nothing),
		SCENE(indentation_changes_nothing),
		SCENE(white_space_in_path_data_changes_nothing),
		SCENE(where_the_art_lies_and_how_it_looks_changes_nothing),
		SCENE(other_shapes_before_it_change_nothing),
		SCENE(equal_findings_on_different_elements_differ),
		SCENE(equal_findings_on_equal_elements_differ),
		SCENE(equal_findings_in_one_path_differ),
		SCENE(mending_one_leaves_the_others),
		SCENE(another_rule_or_element_is_another_finding),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
