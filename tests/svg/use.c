/* use and symbol: SVG 2, 5.5 and 5.6. */
#include "helper.h"

#define XLINK "xmlns:xlink=\"http://www.w3.org/1999/xlink\" "

static void a_use_moves_a_copy_by_x_and_y_inside_its_transform(void **state)
{
	(void)state;
	/* SVG 2, 5.5: translate(x,y) is appended to the right of the use's transform */
	struct loaded loaded =
		load(DRAWING("<defs><rect id=\"r\" width=\"2\" height=\"3\"/></defs>"
			     "<use href=\"#r\" x=\"5\" y=\"7\" transform=\"scale(2)\"/>"));
	assert_no_notices(&loaded);
	assert_int_equal(loaded.design->shape_count, 1);
	assert_box(&loaded, 0, 10, 14, 14, 20);
	const struct cutlint_placement *placement = loaded.design->shapes[0].placement;
	assert_string_equal(placement->use->tag, "use");
	assert_null(placement->outer);
	unload(&loaded);
}

static void uses_chain_and_the_innermost_stands_first(void **state)
{
	(void)state;
	struct loaded loaded =
		load(DRAWING("<defs><rect id=\"r\" width=\"1\" height=\"1\"/>"
			     "<g id=\"pair\"><use id=\"in\" href=\"#r\" x=\"1\"/></g></defs>"
			     "<use id=\"out\" href=\"#pair\" x=\"10\"/>"));
	assert_no_notices(&loaded);
	assert_box(&loaded, 0, 11, 0, 12, 1);
	const struct cutlint_placement *placement = loaded.design->shapes[0].placement;
	assert_string_equal(placement->use->id, "in");
	assert_string_equal(placement->outer->use->id, "out");
	assert_null(placement->outer->outer);
	unload(&loaded);
}

static void href_wins_over_the_older_name(void **state)
{
	(void)state;
	/* SVG 2, 16.1.6: if both are present, xlink:href is ignored */
	struct loaded loaded =
		load(ROOT_OPEN XLINK "width=\"9mm\" height=\"9mm\" viewBox=\"0 0 9 9\"><defs>"
				     "<rect id=\"a\" width=\"1\" height=\"1\"/>"
				     "<rect id=\"b\" width=\"2\" height=\"2\"/></defs>"
				     "<use xlink:href=\"#a\" href=\"#b\"/>"
				     "<use xlink:href=\"#a\"/></svg>");
	assert_box(&loaded, 0, 0, 0, 2, 2);
	assert_box(&loaded, 1, 0, 0, 1, 1);
	unload(&loaded);
}

static void a_symbol_fills_the_size_that_the_use_gives(void **state)
{
	(void)state;
	/* SVG 2, 5.6: a symbol is a nested viewport; 20 mm for 10 units */
	struct loaded loaded =
		load(DRAWING("<symbol id=\"s\" viewBox=\"0 0 10 10\"><rect width=\"10\" "
			     "height=\"10\"/></symbol>"
			     "<use href=\"#s\" x=\"5\" width=\"20\" height=\"20\"/>"
			     "<use href=\"#s\"/><use href=\"#s\" width=\"0\"/>"));
	assert_no_notices(&loaded);
	assert_int_equal(loaded.design->outline_count, 2);
	assert_box(&loaded, 0, 5, 0, 25, 20);
	assert_box(&loaded, 1, 0, 0, 100, 100); /* auto is 100 % */
	unload(&loaded);
}

static void a_nested_svg_takes_the_size_of_the_use_before_its_own(void **state)
{
	(void)state;
	/* SVG 2, 5.5: width and height on the use override those of an svg target */
	struct loaded loaded =
		load(DRAWING("<defs><svg id=\"s\" width=\"10\" height=\"10\" viewBox=\"0 0 1 1\">"
			     "<rect width=\"1\" height=\"1\"/></svg></defs>"
			     "<use href=\"#s\" width=\"30\" height=\"30\"/><use href=\"#s\"/>"));
	assert_box(&loaded, 0, 0, 0, 30, 30);
	assert_box(&loaded, 1, 0, 0, 10, 10);
	unload(&loaded);
}

static void style_comes_down_through_the_use(void **state)
{
	(void)state;
	/* SVG 2, 5.5.2: inheritance from the use, selectors by the original tree */
	struct loaded loaded =
		load(DRAWING("<style>defs rect { stroke: blue } g rect { stroke: red }</style>"
			     "<defs><rect id=\"r\" width=\"1\" height=\"1\"/></defs>"
			     "<g fill=\"#010203\" visibility=\"hidden\"><use href=\"#r\"/></g>"));
	const struct cutlint_shape *shape = shape_of(&loaded, "r");
	assert_int_equal(shape->fill.rgb, 0x010203);
	assert_int_equal(shape->stroke.rgb, 0x0000ff);
	assert_int_equal(shape->unburned, CUTLINT_UNBURNED_VISIBILITY);
	unload(&loaded);
}

static void a_missing_target_is_an_error_at_the_use(void **state)
{
	(void)state;
	static const char *const BAD[] = {"#nowhere", "other.svg#a", "#grad"};
	struct loaded loaded =
		load(DRAWING("<linearGradient id=\"grad\"/><use href=\"#nowhere\"/>"
			     "<use href=\"other.svg#a\"/><use href=\"#grad\"/><use x=\"3\"/>"));
	assert_int_equal(count_notices(&loaded, "use-target"), 4);
	for (uint32_t i = 0; i < 3; i++) {
		const struct notice *notice = &loaded.notices.items[i];
		assert_int_equal(notice->level, NOTICE_ERROR);
		assert_memory_equal(loaded.design->priv->source.bytes + notice->byte, BAD[i],
				    notice->length);
		assert_string_equal(notice->element->tag, "use");
	}
	unload(&loaded);
}

static void a_cycle_is_an_error_and_the_rest_is_drawn(void **state)
{
	(void)state;
	/* SVG 2, 5.5: a use that refers to itself or an ancestor, directly or not, is in error */
	struct loaded loaded = load(DRAWING("<use id=\"self\" href=\"#self\"/>"
					    "<rect width=\"1\" height=\"1\"/>"));
	assert_notice_at(&loaded, "use-cycle", NOTICE_ERROR, "#self");
	assert_int_equal(loaded.design->outline_count, 1);
	unload(&loaded);
	loaded = load(DRAWING("<g id=\"g\"><use href=\"#g\"/></g>"));
	assert_int_equal(count_notices(&loaded, "use-cycle"), 1);
	unload(&loaded);
	loaded = load(
		DRAWING("<defs><g id=\"a\"><rect width=\"1\" height=\"1\"/><use href=\"#b\"/></g>"
			"<g id=\"b\"><use href=\"#a\"/></g></defs><use href=\"#a\"/>"));
	assert_int_equal(count_notices(&loaded, "use-cycle"), 1);
	assert_int_equal(loaded.design->outline_count, 1);
	unload(&loaded);
}

static void what_a_use_places_is_said_once(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<defs><path id=\"p\" d=\"M0 0L1 1?\"/></defs>"
					    "<use href=\"#p\"/><use href=\"#p\" x=\"3\"/>"));
	assert_int_equal(loaded.design->outline_count, 2);
	assert_int_equal(count_notices(&loaded, "path-data"), 1);
	unload(&loaded);
}

static void templates_that_nothing_places_are_counted(void **state)
{
	(void)state;
	struct loaded loaded = load(
		DRAWING("<defs><rect width=\"1\" height=\"1\"/><g><path d=\"M0 0h1\"/></g></defs>"
			"<defs><rect/></defs>"
			"<clipPath id=\"c\"><circle r=\"1\"/></clipPath>"));
	assert_int_equal(loaded.design->shape_count, 0);
	assert_int_equal(loaded.notices.count, 2);
	assert_string_equal(loaded.notices.items[0].message,
			    "3 shapes in <defs> are a template: not burned where they stand");
	assert_string_equal(loaded.notices.items[1].message,
			    "1 shape in <clipPath> is a template: not burned where it stands");
	assert_int_equal(loaded.notices.items[0].level, NOTICE_NOTE);
	unload(&loaded);
}

static void a_name_may_be_percent_encoded(void **state)
{
	(void)state;
	/* RFC 3986, 2.1; an id that has the percent sign itself comes first */
	struct loaded loaded =
		load(DRAWING("<defs><rect id=\"a b\xc3\xa9\" width=\"2\" height=\"3\"/>"
			     "<rect id=\"a%20c\" width=\"4\" height=\"5\"/></defs>"
			     "<use href=\"#a%20b%C3%a9\"/><use href=\"#a%20c\"/>"));
	assert_no_notices(&loaded);
	assert_box(&loaded, 0, 0, 0, 2, 3);
	assert_box(&loaded, 1, 0, 0, 4, 5);
	unload(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_use_moves_a_copy_by_x_and_y_inside_its_transform),
		cmocka_unit_test(uses_chain_and_the_innermost_stands_first),
		cmocka_unit_test(href_wins_over_the_older_name),
		cmocka_unit_test(a_symbol_fills_the_size_that_the_use_gives),
		cmocka_unit_test(a_nested_svg_takes_the_size_of_the_use_before_its_own),
		cmocka_unit_test(style_comes_down_through_the_use),
		cmocka_unit_test(a_missing_target_is_an_error_at_the_use),
		cmocka_unit_test(a_cycle_is_an_error_and_the_rest_is_drawn),
		cmocka_unit_test(what_a_use_places_is_said_once),
		cmocka_unit_test(templates_that_nothing_places_are_counted),
		cmocka_unit_test(a_name_may_be_percent_encoded),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
