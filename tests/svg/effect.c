/* What is seen and not burned: clip paths, masks, filters, paint, markers. */
#include "helper.h"

#define CLIP(attributes, content) "<clipPath id='c'" attributes ">" content "</clipPath>"
#define DOT                       "<rect id='dot' x='10' y='10' width='5' height='5'/>"

static void is_whole(const char *text)
{
	struct loaded loaded = load(text);
	for (uint32_t i = 0; i < loaded.notices.count; i++)
		assert_string_equal(loaded.notices.items[i].code, "template");
	assert_false(shape_of(&loaded, "dot")->clipped);
	unload(&loaded);
}

static void is_cut(const char *text, const char *code, const char *place)
{
	struct loaded loaded = load(text);
	const struct notice *notice = assert_notice_at(&loaded, code, NOTICE_WARNING, place);
	assert_int_equal(count_notices(&loaded, code), 1);
	assert_non_null(notice->suggestion);
	assert_true(shape_of(&loaded, "dot")->clipped);
	unload(&loaded);
}

static void a_clip_path_that_hides_nothing_is_silent(void **state)
{
	(void)state;
	/* what exports put round a whole drawing: the page as a rectangle, in all its forms */
#define G "<g clip-path='url(#c)'>" DOT "</g>"
	is_whole(DRAWING(CLIP("", "<rect width='20' height='20'/>") G));
	is_whole(DRAWING(CLIP("", "<path d='M0 0H20V20H0z'/>") G));
	is_whole(DRAWING(CLIP("", "<path d='M0 0V20H20V0L0 0M5 5'/>") G));
	is_whole(DRAWING(CLIP("", "<polygon points='0,0 20,0 20,20 0,20'/>") G));
	is_whole(DRAWING(CLIP(" transform='scale(2)'",
			      "<title>x</title><rect y='1' width='10' height='10'/>") G));
	is_whole(DRAWING(CLIP("", "<rect width='20' height='20' transform='translate(9)'/>") G));
	is_whole(DRAWING(CLIP("", "<circle r='1'/>") "<g clip-path='none'>" DOT "</g>"));
	/* CSS Masking 1, 5.1: a reference to nothing is as no clip path */
	is_whole(DRAWING("<g clip-path='url(#nothing)'>" DOT "</g>"));
	is_whole(DRAWING("<g clip-path='url(#c)'/>" DOT CLIP("", "<circle r='1'/>")));
	struct loaded loaded =
		load(DRAWING(CLIP("", "") "<g clip-path='url(#c)' opacity='0'>" DOT "</g>"));
	assert_no_notices(&loaded);
	unload(&loaded);
}

static void a_clip_path_that_hides_a_part_is_said_at_its_reference(void **state)
{
	(void)state;
	is_cut(DRAWING(CLIP("", "<rect width='12' height='20'/>") G), "clip-path", "url(#c)'>");
	is_cut(DRAWING(CLIP("", "<path d='M0 0H20V20H5z'/>") G), "clip-path", "url(#c)'>");
	is_cut(DRAWING(CLIP("", "<circle r='50'/>") G), "clip-path", "url(#c)'>");
	is_cut(DRAWING(CLIP("", "<rect width='20' height='20' rx='1'/>") G), "clip-path", "url");
	is_cut(DRAWING(CLIP("", "<rect width='20' height='20'/><rect/>") G), "clip-path", "url");
	is_cut(DRAWING(CLIP(" clipPathUnits='objectBoundingBox'", "<rect width='20' height='20'/>")
			       G),
	       "clip-path", "url");
	is_cut(DRAWING(CLIP("", "") G), "clip-path", "url");
	is_cut(DRAWING("<g style='clip-path: circle(40%)'>" DOT "</g>"), "clip-path", "circle(");
	is_cut(DRAWING("<style>g{clip-path:url(&quot;#c&quot;)}</style>" CLIP(
		       "", "<circle r='1'/>") "<g>" DOT "</g>"),
	       "clip-path", "<g>");
}

static void masks_and_filters_are_said(void **state)
{
	(void)state;
	is_cut(DRAWING("<mask id='c'/><g mask='url(#c)'>" DOT "<circle r='1'/></g>"), "mask",
	       "url(#c)");
	struct loaded loaded = load(DRAWING("<filter id='f'/><g filter='url(#f)'>" DOT "</g>"
					    "<g filter='url(#f)'/>"
					    "<g filter='url(#none)'>" DOT "</g>"));
	assert_notice_at(&loaded, "filter", NOTICE_WARNING, "url(#f)'><rect");
	assert_int_equal(loaded.notices.count, 1);
	assert_false(shape_of(&loaded, "dot")->clipped);
	unload(&loaded);
	loaded = load(DRAWING("<g style='filter:blur(2px)'>" DOT "</g>"));
	assert_notice_at(&loaded, "filter", NOTICE_WARNING, "blur(2px)");
	unload(&loaded);
}

static void what_leaves_a_nested_viewport_is_said(void **state)
{
	(void)state;
	is_cut(DRAWING("<svg width='12' height='12'>" DOT "</svg>"), "viewport", "<svg width='12'");
	is_whole(DRAWING("<svg width='12' height='12' overflow='visible'>" DOT "</svg>"));
}

static void gradients_are_noted_and_patterns_are_said_once(void **state)
{
	(void)state;
	struct loaded loaded =
		load(DRAWING("<linearGradient id='g'/><pattern id='p'/>"
			     "<g fill='url(#g)'><rect width='1' height='1'/></g>"
			     "<rect width='1' height='1' stroke='url(#g)'/>"
			     "<rect id='r' width='1' height='1' fill='url( \"#p\" )'/>"
			     "<rect width='1' height='1' style='fill:url(#p)'/>"));
	assert_notice_at(&loaded, "gradient", NOTICE_NOTE, "<rect");
	assert_notice_at(&loaded, "pattern", NOTICE_WARNING, "url( \"#p\" )");
	assert_int_equal(loaded.notices.count, 2);
	assert_int_equal(shape_of(&loaded, "r")->fill.kind, CUTLINT_PAINT_SERVER);
	unload(&loaded);
}

static void paint_that_leads_nowhere_is_as_a_viewer_takes_it(void **state)
{
	(void)state;
	/* SVG 2, 13.2: the fallback, or none */
	struct loaded loaded =
		load(DRAWING("<circle id='a' r='1' fill='url(#nowhere)'/>"
			     "<circle id='b' r='1' fill='url(#nowhere) red'/>"
			     "<circle id='c' r='1' stroke='url(#a) currentColor' color='blue'/>"));
	assert_int_equal(shape_of(&loaded, "a")->unburned, CUTLINT_UNBURNED_PAINT);
	assert_int_equal(shape_of(&loaded, "b")->fill.rgb, 0xff0000);
	assert_int_equal(shape_of(&loaded, "c")->stroke.rgb, 0x0000ff);
	assert_int_equal(count_notices(&loaded, "paint-server"), 3);
	assert_notice_at(&loaded, "paint-server", NOTICE_WARNING, "url(#nowhere)'");
	unload(&loaded);
}

static void markers_are_said_where_they_show(void **state)
{
	(void)state;
#define MARKER "<marker id='m'><circle r='1'/></marker>"
	static const char *const SHOWN[] = {
		DRAWING(MARKER "<path d='M0 0h5' stroke='red' marker-end='@url(#m)'/>"),
		DRAWING(MARKER "<line x2='5' stroke='red' style='marker:@url(#m)'/>"),
		DRAWING(MARKER "<g marker-mid='url(#m)'>@<polyline stroke='red' points='1 2 3 4'/>"
			       "</g>"),
	};
	for (size_t i = 0; i < sizeof(SHOWN) / sizeof(*SHOWN); i++) {
		struct loaded loaded = load_marked(SHOWN[i], "marker");
		unload(&loaded);
	}
	struct loaded loaded = load(DRAWING(
		MARKER "<rect width='1' height='1' marker-end='url(#m)'/>"
		       "<line x2='5' stroke='red' marker-start='url(#none)' marker-end='none'/>"
		       "<line x2='5' stroke='red' style='marker-end:url(#m);marker:none'/>"
		       "<path d='M0 0h1' fill='none' marker-end='url(#m)'/>"));
	assert_int_equal(count_notices(&loaded, "marker"), 0);
	unload(&loaded);
}

static void a_dashed_line_is_one_outline(void **state)
{
	(void)state;
	struct loaded loaded = load(DRAWING("<path id='fold' pathLength='10' d='M0 5h90' "
					    "stroke='red' stroke-dasharray='1 .5'/>"));
	assert_no_notices(&loaded);
	assert_true(shape_of(&loaded, "fold")->dashed);
	assert_int_equal(loaded.design->outline_count, 1);
	assert_box(&loaded, 0, 0, 5, 90, 5);
	unload(&loaded);
}

static void a_number_that_ends_in_a_dot_is_none(void **state)
{
	(void)state;
	/* SVG 2, 9.3.9; CSS Syntax 3, 4.3.12; confirmed with a browser */
	struct loaded loaded = load(DRAWING("<rect width='10.' height='5'/>"
					    "<path d='M0 0h7' transform='scale(2.)' "
					    "stroke='red'/>"));
	assert_notice_at(&loaded, "length", NOTICE_ERROR, "10.'");
	assert_notice_at(&loaded, "transform", NOTICE_ERROR, "2.)");
	assert_box(&loaded, 0, 0, 0, 7, 0);
	unload(&loaded);
}

static void a_prefix_that_nothing_declares_is_an_error(void **state)
{
	(void)state;
	/* Namespaces in XML 1.0, 5 */
	struct loaded loaded = load(DRAWING("<defs>" DOT "</defs><use xlink:href='#dot'/>"));
	assert_int_equal(notice_of(&loaded, "xml-namespace")->level, NOTICE_ERROR);
	assert_int_equal(loaded.design->outline_count, 1);
	unload(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_clip_path_that_hides_nothing_is_silent),
		cmocka_unit_test(a_clip_path_that_hides_a_part_is_said_at_its_reference),
		cmocka_unit_test(masks_and_filters_are_said),
		cmocka_unit_test(what_leaves_a_nested_viewport_is_said),
		cmocka_unit_test(gradients_are_noted_and_patterns_are_said_once),
		cmocka_unit_test(paint_that_leads_nowhere_is_as_a_viewer_takes_it),
		cmocka_unit_test(markers_are_said_where_they_show),
		cmocka_unit_test(a_dashed_line_is_one_outline),
		cmocka_unit_test(a_number_that_ends_in_a_dot_is_none),
		cmocka_unit_test(a_prefix_that_nothing_declares_is_an_error),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
