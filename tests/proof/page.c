/* The page and the plain SVG: well-formed, true to size and place, and nothing of the drawing's own
 * markup in them. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "made.h"

/* An A6 card, folded from A5 (ISO 216: 210 mm x 148 mm), with a window in the left panel. */
#define CARD                                                                                       \
	PAGE(230, 168,                                                                             \
	     "<rect id='outline' x='10' y='10' width='210' height='148'" LINE "/>"                 \
	     "<line id='fold' x1='115' y1='10' x2='115' y2='158'" LINE "/>"                        \
	     "<rect id='window' x='30' y='40' width='20' height='30'/>")

static void the_page_has_each_finding_once(void **state)
{
	(void)state;
	struct made made;
	made_open(&made, CARD);
	made_find(&made, "first", 30, 40);
	made_find(&made, "second", 50, 70)->severity = CUTLINT_WARNING;
	made_find(&made, "about the file", 0, 0)->place.on_sheet = false;
	made_make(&made, proof_page);
	assert_int_equal(made_count(&made, "//h:li[starts-with(@id, 'finding-')]"), 3);
	assert_int_equal(made_count(&made, "//h:li[@id='finding-1']//h:a[@href='#mark-1']"), 1);
	assert_int_equal(made_count(&made, "//s:a[starts-with(@id, 'mark-')]"), 2);
	assert_int_equal(made_count(&made, "//s:a[@id='mark-2'][@x:href='#finding-2']"), 1);
	assert_int_equal(made_count(&made, "//h:li[@id='finding-3']//h:a"), 0);
	char *place = made_text(&made, "//h:li[@id='finding-1']/h:p[@class='place']/h:code");
	assert_string_equal(place, "test.svg:3:7");
	xmlFree(place);
	made_close(&made);
}

static void what_is_silenced_is_told_apart(void **state)
{
	(void)state;
	const struct silence silence = {.rule = "test-rule", .reason = "meant to be so"};
	struct made made;
	made_open(&made, CARD);
	made_find(&made, "quiet", 30, 40)->silence = &silence;
	made_make(&made, proof_page);
	assert_int_equal(made_count(&made, "//h:li[starts-with(@id, 'finding-')]"), 0);
	assert_int_equal(made_count(&made, "//s:a[starts-with(@id, 'mark-')]"), 0);
	assert_int_equal(made_count(&made, "//h:li[contains(., 'meant to be so')]"), 1);
	made_close(&made);
}

/* Two numbers in brackets of a transform, or apart in an attribute. */
static struct cutlint_xy pair_of(const struct made *made, const char *path)
{
	char *text = made_text(made, path);
	char *at = strpbrk(text, "-0123456789");
	assert_non_null(at);
	struct cutlint_xy pair;
	pair.x = strtod(at, &at);
	pair.y = strtod(at, NULL);
	xmlFree(text);
	return pair;
}

static void marks_and_dimension_lines_stand_at_their_true_places(void **state)
{
	(void)state;
	const struct finding_figure figures[] = {
		{.kind = FIGURE_SPAN, .from = {50, 55.25}, .to = {53.4, 55.25}, .length_mm = 3.4},
		{.kind = FIGURE_CIRCLE, .from = {80, 60}, .to = {80, 60}, .diameter_mm = 0.4}};
	struct made made;
	made_open(&made, CARD);
	struct finding *finding = made_find(&made, "bridge", 50, 55.25);
	finding->figures = (struct finding_figure *)figures;
	finding->figure_count = 2;
	made_make(&made, proof_page);
	struct cutlint_xy at =
		pair_of(&made, "//s:a[@id='mark-1']/s:g[s:g/@class='flag']/@transform");
	assert_near(at.x, 50, 1e-9);
	assert_near(at.y, 55.25, 1e-9);
#define SPAN   "//s:a[@id='mark-1']//s:g[@class='span']/s:line/"
#define CIRCLE "//s:a[@id='mark-1']//s:circle[@class='measured']/"
	assert_near(made_number(&made, SPAN "@x1"), 50, 1e-9);
	assert_near(made_number(&made, SPAN "@x2"), 53.4, 1e-9);
	assert_near(made_number(&made, SPAN "@y2"), 55.25, 1e-9);
	assert_near(made_number(&made, CIRCLE "@cx"), 80, 1e-9);
	assert_near(made_number(&made, CIRCLE "@r"), 0.2, 1e-9);
	assert_int_equal(made_count(&made, "//s:a[@id='mark-1']//s:text[.='3.40 mm']"), 2);
	made_close(&made);
}

/* Width and height in mm, and as many user units in the viewBox: one unit is 1 mm on paper. */
static void pictures_have_their_true_size(void **state)
{
	(void)state;
	struct made made;
	made_open(&made, CARD);
	made_make(&made, proof_page);
#define STAGE "//h:div[@id='stage']/s:svg/"
	char *box = made_text(&made, STAGE "@viewBox"), *at = box;
	double left = strtod(at, &at), top = strtod(at, &at);
	double width = strtod(at, &at), height = strtod(at, &at);
	xmlFree(box);
	assert_true(left < 10 && top < 10);
	assert_near(made_number(&made, STAGE "@width"), width, 0.01);
	assert_near(made_number(&made, STAGE "@height"), height, 0.01);
	char *unit = made_text(&made, STAGE "@width");
	assert_string_equal(unit + strlen(unit) - 2, "mm");
	xmlFree(unit);
	double from = made_number(&made, STAGE "s:g[@class='ruler']/s:line/@x1");
	double to = made_number(&made, STAGE "s:g[@class='ruler']/s:line/@x2");
	assert_near(to - from, 100, 1e-9);
	made_close(&made);
}

/* The paths of the regions, put together from whole micrometres. */
static void the_window_is_drawn_where_it_is(void **state)
{
	(void)state;
	struct made made;
	made_open(&made, CARD);
	made_make(&made, proof_page);
	char *scale = made_text(&made, "//s:g[@id='regions']/@transform");
	assert_string_equal(scale, "scale(0.001)");
	xmlFree(scale);
	struct cutlint_xy corner = pair_of(&made, "//s:clipPath[@id='openings']/s:path/@d");
	assert_true(corner.x == 30000 || corner.x == 50000);
	assert_true(corner.y == 40000 || corner.y == 70000);
	made_close(&made);
}

/* An inset drawn on the face lies there; one drawn beside the card, in the face's middle. */
static void the_inset_lies_behind_the_face(void **state)
{
	(void)state;
	static const char *const INSETS[] = {
		"<rect id='inset' x='120' y='15' width='90' height='130'" LINE "/>",
		"<rect id='inset' x='20' y='180' width='90' height='130'" LINE "/>"};
	/* The face is right of the fold: 115 to 220 mm, its middle 167.5 mm. */
	static const double LEFT[] = {120, 122.5};
	for (int i = 0; i < 2; i++) {
		char svg[1024];
		struct made made;
		snprintf(svg, sizeof(svg),
			 "<svg xmlns='http://www.w3.org/2000/svg' width='230mm' height='330mm' "
			 "viewBox='0 0 230 330'>"
			 "<rect id='outline' x='10' y='10' width='210' height='148'" LINE "/>"
			 "<line id='fold' x1='115' y1='10' x2='115' y2='158'" LINE "/>%s</svg>",
			 INSETS[i]);
		made_open(&made, svg);
		made_make(&made, proof_page);
		assert_near(made_number(&made, "//s:clipPath[@id='inset']/s:rect/@x"), LEFT[i],
			    1e-3);
		assert_near(made_number(&made, "//s:clipPath[@id='inset']/s:rect/@width"), 90,
			    1e-3);
		/* The same in the unit of the paths, a micrometre. */
		assert_near(made_number(&made,
					"//s:g[@class='window']/s:rect[@fill='url(#p-window)']/@x"),
			    LEFT[i] * 1e3, 1);
		made_close(&made);
	}
}

static double first_figure(const struct made *made, const char *path)
{
	return pair_of(made, path).x;
}

/* Cut from the back the beam sees the inside: the front is its mirror image. */
static void the_front_is_mirrored_back_from_a_cut_from_the_back(void **state)
{
	(void)state;
	for (int back = 0; back < 2; back++) {
		struct made made;
		made = (struct made){.document = NULL};
		drawing_read(&made.drawing, CARD);
		made.findings.arena = made.drawing.arena;
		made.drawing.facts.side = back ? CUTLINT_SIDE_BACK : CUTLINT_SIDE_FRONT;
		drawing_build(&made.drawing);
		made_make(&made, proof_page);
		double a = first_figure(&made, "//s:g[s:g/@id='card']/@transform");
		assert_near(a, back ? -1 : 1, 1e-9);
		/* The spine is left, so the window's panel is the front only from the back. */
		int front = made.drawing.sheet->cards[0].face;
		double middle = (made.drawing.sheet->cards[0].panels[front].box.left +
				 made.drawing.sheet->cards[0].panels[front].box.right) /
				2;
		assert_true(back ? middle < 115 : middle > 115);
		made_close(&made);
	}
}

/* Two cards of 80 mm x 50 mm; a guide says that the second lies with its front to the left. */
#define TWO_CARDS                                                                                  \
	PAGE(100, 130,                                                                             \
	     "<rect id='outline' x='10' y='10' width='80' height='50'" LINE "/>"                   \
	     "<line id='fold' x1='50' y1='10' x2='50' y2='60'" LINE "/>"                           \
	     "<rect id='outline-2' class='outline' x='10' y='70' width='80' height='50'" LINE "/>" \
	     "<line class='fold' x1='50' y1='70' x2='50' y2='120'" LINE "/>"                       \
	     "<rect class='face' x='11' y='71' width='38' height='48'" LINE "/>")

static void every_card_is_shown_folded_with_its_name(void **state)
{
	(void)state;
	struct made made;
	made_open(&made, TWO_CARDS);
	made_make(&made, proof_page);
#define FOLDED(number) "//h:figure[contains(@class, 'folded')][" #number "]"
	assert_int_equal(made_count(&made, "//h:figure[contains(@class, 'folded')]"), 2);
	char *name = made_text(&made, FOLDED(2) "/h:figcaption/text()");
	assert_string_equal(name, "Folded, as it comes out of its envelope: card 2 of 2, "
				  "rect#outline-2.");
	xmlFree(name);
	/* Its own half of its own card; the front, right of a left spine, lies turned by 180. */
	assert_int_equal(made_count(&made, FOLDED(2) "//s:g[@clip-path='url(#face-side-2)']"
						     "/s:g[@clip-path='url(#card-edge-2)']"),
			 1);
	assert_near(first_figure(&made, FOLDED(1) "/s:svg/s:g[@transform][.//s:use]/@transform"), 1,
		    1e-9);
	assert_near(first_figure(&made, FOLDED(2) "/s:svg/s:g[@transform][.//s:use]/@transform"),
		    -1, 1e-9);
	/* An inset is taken to lie behind each face: from 50 mm, and from 10 mm. */
	assert_int_equal(made_count(&made, "//s:clipPath[@id='inset']/s:rect"), 2);
	assert_near(made_number(&made, "//s:clipPath[@id='inset']/s:rect[1]/@x"), 50, 1e-6);
	assert_near(made_number(&made, "//s:clipPath[@id='inset']/s:rect[2]/@x"), 10, 1e-6);
	made_close(&made);
}

static void so_many_cards_are_folded_and_the_rest_is_counted(void **state)
{
	(void)state;
	struct text svg = {0};
	struct made made;
	text_add_string(&svg, "<svg xmlns='http://www.w3.org/2000/svg' width='200mm' "
			      "height='200mm' viewBox='0 0 200 200'>");
	for (int i = 0; i < 15; i++)
		text_format(&svg,
			    "<rect class='outline' x='%d' y='%d' width='40' height='30'" LINE "/>"
			    "<path class='fold' d='M%d %dv30'" LINE "/>",
			    i % 4 * 45 + 5, i / 4 * 35 + 5, i % 4 * 45 + 25, i / 4 * 35 + 5);
	text_add_string(&svg, "</svg>");
	made_open(&made, svg.bytes);
	made_make(&made, proof_page);
	assert_int_equal(made_count(&made, "//h:figure[contains(@class, 'folded')]"), 12);
	assert_int_equal(made_count(&made, "//h:p[.='The first 12 of 15 cards are shown folded.']"),
			 1);
	made_close(&made);
	text_finish(&svg);
}

/* All that a drawing, a job or a file name can try: markup, scripts, handlers, references. */
#define HOSTILE                                                                                    \
	"<!DOCTYPE svg [<!ENTITY e '&#60;script>alert(1)&#60;/script>'>]>"                         \
	"<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' "      \
	"width='60mm' height='40mm' viewBox='0 0 60 40' onload='alert(2)'>"                        \
	"<script>alert(3)</script><style>@import url(http://example.invalid/x.css);</style>"       \
	"<foreignObject width='9' height='9'><body xmlns='http://www.w3.org/1999/xhtml'>"          \
	"<iframe src='http://example.invalid/'/></body></foreignObject>"                           \
	"<image xlink:href='http://example.invalid/i.png' width='9' height='9'/>"                  \
	"<a xlink:href='javascript:alert(4)'><rect "                                               \
	"id='\"&gt;&lt;script&gt;alert(5)&lt;/script&gt;' "                                        \
	"x='10' y='10' width='9' height='9' onclick='alert(6)'/></a>"                              \
	"<rect id=\"' onmouseover='alert(7)\" x='30' y='10' width='9' height='9' "                 \
	"fill='url(http://example.invalid/p#x)'/></svg>"

static void assert_harmless(const struct made *made, int scripts)
{
	assert_int_equal(made_count(made, "//*[local-name()='script']"), scripts);
	assert_int_equal(made_count(made, "//*[local-name()='foreignObject' or "
					  "local-name()='iframe' or local-name()='image' or "
					  "local-name()='img' or local-name()='object' or "
					  "local-name()='embed' or local-name()='link']"),
			 0);
	assert_int_equal(made_count(made, "//@*[starts-with(local-name(), 'on')]"), 0);
	assert_int_equal(made_count(made, "//@*[local-name()='href' and not(starts-with(., '#'))]"),
			 0);
	assert_int_equal(
		made_count(made, "//@*[contains(., 'url(') and not(contains(., 'url(#'))]"), 0);
	assert_int_equal(made_count(made, "//@src|//@style"), 0);
}

static void fill_hostile(struct made *made)
{
	made_open(made, HOSTILE);
	struct finding *finding =
		made_find(made, "</li></ol><script>alert(8)</script> \x01 \xff & ]]>", 15, 15);
	finding->suggestion = "<img src=x onerror=alert(9)>";
	finding->place.element = "rect#\"><script>alert(5)</script>";
	finding->place.file = "</code><script>alert(10)</script>.svg";
	made->drawing.facts.stock_name = "<script>alert(11)</script>";
	made->drawing.facts.envelope = "\"><script>alert(12)</script>";
}

static void nothing_of_a_hostile_drawing_reaches_the_page(void **state)
{
	(void)state;
	struct made made;
	fill_hostile(&made);
	made_make(&made, proof_page);
	assert_harmless(&made, 1);
	/* What is text stays readable as text, what XML can't hold as \xHH. */
	char *message = made_text(&made, "//h:li[@id='finding-1']//h:a[@class='go']");
	assert_string_equal(message, "</li></ol><script>alert(8)</script> \\x01 \\xff & ]]>");
	xmlFree(message);
	made_close(&made);
}

static void nothing_of_a_hostile_drawing_reaches_the_picture(void **state)
{
	(void)state;
	struct made made;
	fill_hostile(&made);
	made_make(&made, proof_drawing);
	assert_harmless(&made, 0);
	assert_int_equal(made_count(&made, "/s:svg/s:title"), 1);
	made_close(&made);
}

/* CSP level 3: nothing may be fetched, and only the page's own style and script run. */
static void the_page_forbids_every_request(void **state)
{
	(void)state;
	struct made made;
	made_open(&made, CARD);
	made_make(&made, proof_page);
	char *policy = made_text(&made, "//h:meta[@http-equiv='Content-Security-Policy']/@content");
	assert_non_null(strstr(policy, "default-src 'none'"));
	assert_non_null(strstr(policy, "script-src 'sha256-"));
	assert_null(strstr(policy, "unsafe"));
	xmlFree(policy);
	made_close(&made);
}

static void a_drawing_without_cards_or_lines_has_a_proof(void **state)
{
	(void)state;
	struct made made;
	made_open(&made, "<svg xmlns='http://www.w3.org/2000/svg'/>");
	made_make(&made, proof_page);
	assert_int_equal(made_count(&made, "//h:p[@class='none']"), 1);
	made_close(&made);
	made_open(&made, "<svg xmlns='http://www.w3.org/2000/svg'/>");
	made_make(&made, proof_drawing);
	made_close(&made);
}

/* Windows, the ring of a loose part: radii 20 and 15, as in the closed form of its area. */
static void what_falls_out_by_mistake_is_told_by_pattern_and_label(void **state)
{
	(void)state;
	struct made made;
	made_open(&made, PAGE(100, 60,
			      "<circle cx='50' cy='30' r='25'" LINE "/>"
			      "<circle cx='50' cy='30' r='20'" LINE "/>"
			      "<circle cx='50' cy='30' r='15'" LINE "/>"));
	made_make(&made, proof_page);
	assert_int_equal(made_count(&made, "//s:g[@class='loose'][@fill='url(#p-loose)'][s:path]"),
			 1);
	assert_int_equal(made_count(&made, "//s:pattern[@id='p-loose']/s:path"), 1);
	assert_int_equal(made_count(&made, "//s:g[@class='label']/s:text[not(@aria-hidden)]"), 1);
	made_close(&made);
}

/* The plain picture's list ends, but nothing is left out without a word. */
static void a_picture_counts_the_findings_that_it_does_not_list(void **state)
{
	(void)state;
	struct made made;
	made_open(&made, CARD);
	for (int i = 0; i < 203; i++)
		made_find(&made, "found", 30 + i * 0.1, 40)->severity =
			i < 202 ? CUTLINT_ERROR : CUTLINT_NOTE;
	made_make(&made, proof_drawing);
	assert_int_equal(made_count(&made, "//s:text[contains(., 'error: found')]"), 200);
	assert_int_equal(made_count(&made, "//s:text[contains(., 'note: found')]"), 0);
	assert_int_equal(
		made_count(&made, "//s:text[contains(., 'errors 2, warnings 0, notes 1')]"), 1);
	assert_int_equal(made_count(&made, "//s:a[starts-with(@id, 'mark-')]"), 203);
	made_close(&made);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_page_has_each_finding_once),
		cmocka_unit_test(what_is_silenced_is_told_apart),
		cmocka_unit_test(marks_and_dimension_lines_stand_at_their_true_places),
		cmocka_unit_test(pictures_have_their_true_size),
		cmocka_unit_test(the_window_is_drawn_where_it_is),
		cmocka_unit_test(the_inset_lies_behind_the_face),
		cmocka_unit_test(the_front_is_mirrored_back_from_a_cut_from_the_back),
		cmocka_unit_test(every_card_is_shown_folded_with_its_name),
		cmocka_unit_test(so_many_cards_are_folded_and_the_rest_is_counted),
		cmocka_unit_test(nothing_of_a_hostile_drawing_reaches_the_page),
		cmocka_unit_test(nothing_of_a_hostile_drawing_reaches_the_picture),
		cmocka_unit_test(the_page_forbids_every_request),
		cmocka_unit_test(a_drawing_without_cards_or_lines_has_a_proof),
		cmocka_unit_test(what_falls_out_by_mistake_is_told_by_pattern_and_label),
		cmocka_unit_test(a_picture_counts_the_findings_that_it_does_not_list),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
