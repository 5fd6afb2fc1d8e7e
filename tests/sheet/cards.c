/* Cards, folds, panels and faces. Lengths and areas are closed forms of rectangles. */
#include "drawing.h"

static void without_outline_or_blank_the_page_is_the_card(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<circle cx='30' cy='30' r='5'" LINE "/>"));
	assert_int_equal(d.sheet->card_count, 1);
	assert_int_equal(d.sheet->cards[0].outline, CUTLINT_NONE);
	assert_false(d.sheet->cards[0].edge_burned);
	assert_near(d.sheet->cards[0].area_mm2, 6000, 1e-9);
	assert_int_equal(d.sheet->cards[0].face, -1);
	drawing_close(&d);
}

static void an_outline_is_the_card_with_a_burned_edge(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<rect id='outline' x='10' y='10' width='60' height='40'" LINE "/>"));
	assert_int_equal(d.sheet->card_count, 1);
	assert_int_equal(d.sheet->cards[0].outline, drawing_outline(&d, "outline"));
	assert_true(d.sheet->cards[0].edge_burned);
	assert_near(d.sheet->cards[0].area_mm2, 2400, 1e-9);
	assert_near(d.sheet->cards[0].box.right, 70, 1e-9);
	drawing_close(&d);
}

static void outlines_side_by_side_are_cards_and_one_inside_is_not(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g class='outline'" LINE ">"
			      "<rect x='12' y='12' width='10' height='10'/>"
			      "<rect x='10' y='10' width='30' height='40'/>"
			      "<rect x='40' y='10' width='30' height='40'/></g>"));
	assert_int_equal(d.sheet->card_count, 2);
	assert_near(d.sheet->cards[0].box.left, 10, 1e-9);
	assert_near(d.sheet->cards[1].box.left, 40, 1e-9);
	drawing_close(&d);
}

static void a_blank_round_an_outline_is_the_stock_that_it_is_cut_from(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<rect id='blank' x='2' y='2' width='96' height='56'" LINE "/>"
			      "<rect id='outline' x='10' y='10' width='60' height='40'" LINE "/>"));
	assert_int_equal(d.sheet->card_count, 1);
	assert_int_equal(d.sheet->cards[0].outline, drawing_outline(&d, "outline"));
	drawing_close(&d);
}

static void four_lines_that_join_within_tolerance_are_an_outline(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g class='outline'" LINE "><line x1='10' y1='10' x2='70' y2='10'/>"
			      "<line x1='70' y1='50' x2='70.03' y2='10'/>"
			      "<line x1='70' y1='50' x2='10' y2='50'/>"
			      "<line x1='10' y1='50' x2='10' y2='10.04'/></g>"));
	assert_int_equal(d.sheet->card_count, 1);
	assert_near(d.sheet->cards[0].area_mm2, 2400.6, 0.7);
	assert_true(d.sheet->cards[0].edge_burned);
	drawing_close(&d);
}

static void an_outline_that_is_nearly_closed_is_still_the_card(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<path id='outline' d='M10 10H70V50H10V10.6'" LINE "/>"
			      "<circle cx='40' cy='30' r='5'" LINE "/>"));
	assert_int_equal(d.sheet->card_count, 1);
	assert_near(d.sheet->cards[0].area_mm2, 2400, 1e-9);
	assert_near(drawing_part(&d, CUTLINT_PART_FRAME)->area_mm2, 2400 - 78.54, 0.2);
	assert_int_equal(drawing_part_count(&d, CUTLINT_PART_LOOSE), 0);
	drawing_close(&d);
	drawing_open(&d, PAGE(100, 60, "<path id='outline' d='M10 10H70V50H10V12'" LINE "/>"));
	assert_int_equal(d.sheet->cards[0].outline, CUTLINT_NONE);
	drawing_close(&d);
}

static void dashes_in_one_line_are_one_fold_with_its_gaps(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g class='fold'" LINE "><line x1='50' y1='2' x2='50' y2='10'/>"
			      "<line x1='50' y1='12' x2='50.01' y2='30'/>"
			      "<line x1='50' y1='57' x2='50' y2='34'/></g>"));
	assert_int_equal(d.sheet->fold_count, 1);
	const struct cutlint_fold *fold = &d.sheet->folds[0];
	assert_int_equal(fold->piece_count, 3);
	assert_int_equal(fold->card, 0);
	assert_near(fold->burned_mm, 8 + 18 + 23, 1e-4);
	assert_near(fold->widest_gap_mm, 4, 1e-4);
	assert_near(hypot(fold->to.x - fold->from.x, fold->to.y - fold->from.y), 55, 1e-9);
	assert_near(fold->farthest_mm, 0.01, 1e-6);
	drawing_close(&d);
}

static void a_fold_that_stops_short_has_a_gap_to_the_edge(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<line id='fold' x1='50' y1='0' x2='50' y2='53'" LINE "/>"));
	assert_near(d.sheet->folds[0].widest_gap_mm, 7, 1e-9);
	drawing_close(&d);
}

static void lines_far_apart_or_out_of_line_are_folds_of_their_own(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g class='fold'" LINE "><line x1='50' y1='0' x2='50' y2='20'/>"
			      "<line x1='50' y1='31' x2='50' y2='60'/>"
			      "<line x1='51' y1='22' x2='51' y2='30'/></g>"));
	assert_int_equal(d.sheet->fold_count, 3);
	assert_int_equal(d.sheet->cards[0].fold_count,
			 1); /* only two of them reach the edge, each one side of it */
	assert_int_equal(d.sheet->cards[0].fold, 1);
	drawing_close(&d);
}

#define DASHES                                                                                     \
	"<g class='fold'" LINE "><line x1='50' y1='0' x2='50' y2='27'/>"                           \
	"<line x1='50' y1='33' x2='50' y2='60'/></g>"

/* A pop-up 6 wide between two slits parts the fold; the fold's halves end 0.2 off the slits. */
static void a_pop_up_parts_the_fold_that_it_stands_across(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g class='fold'" LINE "><line x1='50' y1='0' x2='50' y2='26.8'/>"
			      "<line x1='50' y1='33.2' x2='50' y2='60'/></g>"
			      "<g class='slit'" LINE "><line x1='40' y1='27' x2='60' y2='27'/>"
			      "<line x1='40' y1='33' x2='60' y2='33'/></g>"));
	assert_int_equal(d.sheet->fold_count, 2);
	assert_near(d.sheet->folds[0].burned_mm, 26.8, 1e-6);
	assert_near(d.sheet->folds[1].burned_mm, 26.8, 1e-6);
	drawing_close(&d);
}

/*
 * A fold from edge to edge over a mouth: the slit at y = 30 parts it, its four scores are folds,
 * and the card has the one fold that goes across it. Four folds that meet in a place fold flat
 * where opposite angles add up to half a turn (Kawasaki's theorem), as here: 50.2 degrees and the
 * rest.
 */
static void a_mouth_parts_the_fold_that_its_scores_meet_on(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g class='fold'" LINE "><line x1='50' y1='0' x2='50' y2='60'/>"
			      "<path d='M38 30L50 20L62 30L50 40Z'/></g>"
			      "<path class='slit' d='M38 30H62'" LINE "/>"));
	assert_int_equal(d.sheet->fold_count, 6);
	assert_int_equal(d.sheet->cards[0].fold_count, 1);
	assert_near(d.sheet->folds[0].burned_mm, 30, 1e-6);
	assert_near(d.sheet->folds[1].burned_mm, 30, 1e-6);
	for (uint32_t i = 2; i < 6; i++)
		assert_near(d.sheet->folds[i].burned_mm, hypot(12, 10), 1e-6);
	assert_near(d.sheet->cards[0].panels[0].width_mm, 50, 1e-9);
	drawing_close(&d);
}

/* Scores that end 2 apart on the fold, unequal angles, one side only, no score: no mouth. */
static void a_slit_without_the_scores_of_a_mouth_parts_no_fold(void **state)
{
	(void)state;
#define SLIT_ACROSS                                                                                \
	"<line class='fold' x1='50' y1='0' x2='50' y2='60'" LINE "/>"                              \
	"<path class='slit' d='M38 30H62'" LINE "/>"
	static const char *const drawings[] = {
		PAGE(100, 60, SLIT_ACROSS),
		PAGE(100, 60, SLIT_ACROSS "<path class='fold' d='M38 30L50 20'" LINE "/>"),
		PAGE(100, 60,
		     SLIT_ACROSS "<path class='fold' d='M38 30L50 20M62 30L50 18'" LINE "/>"),
		PAGE(100, 60, SLIT_ACROSS "<path class='fold' d='M38 30L50 20L55 30'" LINE "/>"),
	};
	for (size_t i = 0; i < sizeof drawings / sizeof *drawings; i++) {
		struct drawing d;
		drawing_open(&d, drawings[i]);
		assert_near(d.sheet->folds[0].burned_mm, 60, 1e-6);
		drawing_close(&d);
	}
}

/* Each lies whole in a gap of 6: one slit, two slits that miss the fold, a window, a ring, a window
 * of two open lines that join, and two slits between which no scores run. */
static void a_slit_or_a_window_in_a_gap_parts_no_fold(void **state)
{
	(void)state;
	static const char *const drawings[] = {
		PAGE(100, 60, DASHES "<path class='slit' d='M40 30H60'" LINE "/>"),
		PAGE(100, 60, DASHES "<path class='slit' d='M40 29H49M40 31H49'" LINE "/>"),
		PAGE(100, 60, DASHES "<circle cx='50' cy='30' r='2'/>"),
		PAGE(100, 60, DASHES "<path d='M48 28h4v4h-4zM49 29v2h2v-2z'/>"),
		PAGE(100, 60, DASHES "<path d='M48 28h4v4M48 28v4h4'" LINE "/>"),
		PAGE(100, 60, DASHES "<path class='slit' d='M40 28.4H60M40 31.6H60'" LINE "/>"),
	};
	for (size_t i = 0; i < sizeof drawings / sizeof *drawings; i++) {
		struct drawing d;
		drawing_open(&d, drawings[i]);
		assert_int_equal(d.sheet->fold_count, 1);
		assert_near(d.sheet->folds[0].widest_gap_mm, 6, 1e-6);
		drawing_close(&d);
	}
}

static void a_curved_fold_tells_how_far_it_strays(void **state)
{
	(void)state;
	struct drawing d;
	/* The curve's middle is at 3/4 of its control points' offset (de Casteljau). */
	drawing_open(&d, PAGE(100, 60, "<path id='fold' d='M50 0C52 20 52 40 50 60'" LINE "/>"));
	assert_near(d.sheet->folds[0].farthest_mm, 1.5, 0.005);
	drawing_close(&d);
}

static void a_fold_parts_the_card_into_two_panels(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60, "<line id='fold' x1='48' y1='0' x2='48' y2='60'" LINE "/>"));
	const struct cutlint_card *card = &d.sheet->cards[0];
	assert_near(card->panels[0].width_mm, 48, 1e-9);
	assert_near(card->panels[1].width_mm, 52, 1e-9);
	assert_near(card->panels[0].area_mm2, 48 * 60, 1e-9);
	assert_near(card->panels[1].box.left, 48, 1e-9);
	assert_int_equal(cutlint_card_panel(d.sheet, 0, (struct cutlint_xy){10, 10}), 0);
	assert_int_equal(cutlint_card_panel(d.sheet, 0, (struct cutlint_xy){90, 10}), 1);
	assert_int_equal(cutlint_card_panel(d.sheet, 0, (struct cutlint_xy){48, 10}), -1);
	assert_int_equal(cutlint_card_panel(d.sheet, 0, (struct cutlint_xy){90, 70}), -1);
	drawing_close(&d);
}

static void the_upper_panel_of_a_level_fold_comes_first(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d,
		     PAGE(100, 60, "<line id='fold' x1='100' y1='20' x2='0' y2='20'" LINE "/>"));
	assert_near(d.sheet->cards[0].panels[0].width_mm, 20, 1e-9);
	assert_near(d.sheet->cards[0].panels[1].width_mm, 40, 1e-9);
	drawing_close(&d);
}

static int face_for(const char *svg, enum cutlint_spine spine, enum cutlint_side side)
{
	struct drawing d;
	drawing_read(&d, svg);
	d.facts.spine = spine;
	d.facts.side = side;
	drawing_build(&d);
	int face = d.sheet->cards[0].face;
	drawing_close(&d);
	return face;
}

/*
 * A card lies closed with its spine to the left, front up: opened like a book and laid with its
 * outside up, the front is the right half. Turned over about the vertical, the front lies to the
 * left. Worked out with a folded sheet; common practice, no source.
 */
static void the_face_follows_from_spine_and_side(void **state)
{
	(void)state;
	static const char *const upright =
		PAGE(100, 60, "<line id='fold' x1='50' y1='0' x2='50' y2='60'" LINE "/>");
	static const char *const level =
		PAGE(100, 60, "<line id='fold' x1='0' y1='30' x2='100' y2='30'" LINE "/>");
	enum { LEFT, RIGHT, ABOVE = 0, BELOW = 1, UNKNOWN = -1 };
	const struct {
		enum cutlint_spine spine;
		enum cutlint_side side;
		int upright, level;
	} cases[] = {
		{CUTLINT_SPINE_LEFT, CUTLINT_SIDE_FRONT, RIGHT, UNKNOWN},
		{CUTLINT_SPINE_LEFT, CUTLINT_SIDE_BACK, LEFT, UNKNOWN},
		{CUTLINT_SPINE_RIGHT, CUTLINT_SIDE_FRONT, LEFT, UNKNOWN},
		{CUTLINT_SPINE_RIGHT, CUTLINT_SIDE_BACK, RIGHT, UNKNOWN},
		{CUTLINT_SPINE_TOP, CUTLINT_SIDE_FRONT, UNKNOWN, BELOW},
		{CUTLINT_SPINE_TOP, CUTLINT_SIDE_BACK, UNKNOWN, BELOW},
		{CUTLINT_SPINE_BOTTOM, CUTLINT_SIDE_FRONT, UNKNOWN, ABOVE},
		{CUTLINT_SPINE_BOTTOM, CUTLINT_SIDE_BACK, UNKNOWN, ABOVE},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		assert_int_equal(face_for(upright, cases[i].spine, cases[i].side),
				 cases[i].upright);
		assert_int_equal(face_for(level, cases[i].spine, cases[i].side), cases[i].level);
	}
}

static void a_face_guide_tells_the_face_whatever_the_spine(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<line id='fold' x1='50' y1='0' x2='50' y2='60'" LINE "/>"
			      "<rect id='face' x='0' y='0' width='50' height='60' fill='none'/>"));
	assert_int_equal(d.sheet->cards[0].face, 0);
	assert_int_equal(d.sheet->cards[0].face_outline, drawing_outline(&d, "face"));
	drawing_close(&d);
}

static void an_outline_lies_on_the_card_that_holds_its_middle(void **state)
{
	(void)state;
	struct drawing d;
	drawing_open(&d, PAGE(100, 60,
			      "<g class='outline'" LINE ">"
			      "<rect x='0' y='0' width='30' height='40'/>"
			      "<rect x='50' y='0' width='30' height='40'/></g>"
			      "<circle id='on' cx='60' cy='20' r='3'" LINE "/>"
			      "<rect id='over' x='28' y='10' width='10' height='5'" LINE "/>"
			      "<circle id='off' cx='40' cy='50' r='3'" LINE "/>"));
	assert_int_equal(cutlint_sheet_card_of(d.design, d.sheet, drawing_outline(&d, "on")), 1);
	assert_int_equal(cutlint_sheet_card_of(d.design, d.sheet, drawing_outline(&d, "over")), 0);
	assert_int_equal(cutlint_sheet_card_of(d.design, d.sheet, drawing_outline(&d, "off")),
			 CUTLINT_NONE);
	drawing_close(&d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(without_outline_or_blank_the_page_is_the_card),
		cmocka_unit_test(an_outline_is_the_card_with_a_burned_edge),
		cmocka_unit_test(outlines_side_by_side_are_cards_and_one_inside_is_not),
		cmocka_unit_test(a_blank_round_an_outline_is_the_stock_that_it_is_cut_from),
		cmocka_unit_test(four_lines_that_join_within_tolerance_are_an_outline),
		cmocka_unit_test(an_outline_that_is_nearly_closed_is_still_the_card),
		cmocka_unit_test(dashes_in_one_line_are_one_fold_with_its_gaps),
		cmocka_unit_test(a_fold_that_stops_short_has_a_gap_to_the_edge),
		cmocka_unit_test(lines_far_apart_or_out_of_line_are_folds_of_their_own),
		cmocka_unit_test(a_pop_up_parts_the_fold_that_it_stands_across),
		cmocka_unit_test(a_mouth_parts_the_fold_that_its_scores_meet_on),
		cmocka_unit_test(a_slit_without_the_scores_of_a_mouth_parts_no_fold),
		cmocka_unit_test(a_slit_or_a_window_in_a_gap_parts_no_fold),
		cmocka_unit_test(a_curved_fold_tells_how_far_it_strays),
		cmocka_unit_test(a_fold_parts_the_card_into_two_panels),
		cmocka_unit_test(the_upper_panel_of_a_level_fold_comes_first),
		cmocka_unit_test(the_face_follows_from_spine_and_side),
		cmocka_unit_test(a_face_guide_tells_the_face_whatever_the_spine),
		cmocka_unit_test(an_outline_lies_on_the_card_that_holds_its_middle),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
