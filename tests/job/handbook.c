/*
 * handbook.c - the tables of handbooks and stationers against what cutlint knows: paper, cards and
 * their open sheets, envelopes, grammage and caliper. Each table names its source.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "job/envelope.h"
#include "job/paper.h"
#include "job/starter.h"
#include "load.h"
#include "unit.h"

#define IN 25.4

static void assert_sides(const char *name, struct paper_size size, double width, double height)
{
	if (fabs(size.width_mm - width) > 1e-9 || fabs(size.height_mm - height) > 1e-9)
		fail_msg("%s is %.4f x %.4f", name, size.width_mm, size.height_mm);
}

static struct paper_size card(const char *name)
{
	struct paper_size size = {0, 0};
	struct value_error error;
	if (paper_parse(name, &size, &error) < 0)
		fail_msg("%s", error.text);
	return size;
}

static struct paper_size envelope(const char *name)
{
	struct paper_size size = {0, 0};
	struct value_error error;
	if (envelope_parse(name, &size, &error) < 0)
		fail_msg("%s", error.text);
	return size;
}

/* ISO 216:2007, main series A and B, trimmed sizes in mm. */
static void iso_216_sizes_stand_as_the_standard_prints_them(void **state)
{
	static const struct {
		const char *name;
		double width, height;
	} TABLE[] = {{"ISO A0", 841, 1189}, {"ISO A1", 594, 841}, {"ISO A2", 420, 594},
		     {"ISO A3", 297, 420},  {"ISO A4", 210, 297}, {"ISO A5", 148, 210},
		     {"ISO A6", 105, 148},  {"ISO A7", 74, 105},  {"ISO A8", 52, 74},
		     {"ISO A9", 37, 52},    {"ISO A10", 26, 37},  {"ISO B0", 1000, 1414},
		     {"ISO B1", 707, 1000}, {"ISO B2", 500, 707}, {"ISO B3", 353, 500},
		     {"ISO B4", 250, 353},  {"ISO B5", 176, 250}, {"ISO B6", 125, 176},
		     {"ISO B7", 88, 125},   {"ISO B8", 62, 88},   {"ISO B9", 44, 62},
		     {"ISO B10", 31, 44}};
	(void)state;
	for (size_t i = 0; i < sizeof(TABLE) / sizeof(*TABLE); i++)
		assert_sides(TABLE[i].name, card(TABLE[i].name), TABLE[i].width, TABLE[i].height);
}

/* ISO 269, sizes of envelopes in mm. */
static void iso_269_sizes_stand_as_the_standard_prints_them(void **state)
{
	static const struct {
		const char *name;
		double width, height;
	} TABLE[] = {{"C3", 324, 458}, {"C4", 229, 324},  {"C5", 162, 229}, {"C6", 114, 162},
		     {"C7", 81, 114},  {"C7/6", 81, 162}, {"DL", 110, 220}};
	(void)state;
	for (size_t i = 0; i < sizeof(TABLE) / sizeof(*TABLE); i++)
		assert_sides(TABLE[i].name, envelope(TABLE[i].name), TABLE[i].width,
			     TABLE[i].height);
}

/*
 * Announcement sizes in inches: two stationers' tables and a list of envelope styles; no standard.
 * The open sheet has the fold in its middle, at the card's width.
 */
static void us_cards_sheets_and_envelopes_stand_as_stationers_print_them(void **state)
{
	static const struct {
		const char *name;
		double envelope[2], card[2], open[2];
	} TABLE[] = {
		{"US A1", {3.625, 5.125}, {3.5, 4.875}, {7, 4.875}},
		{"US 4-bar", {3.625, 5.125}, {3.5, 4.875}, {7, 4.875}},
		{"US A2", {4.375, 5.75}, {4.25, 5.5}, {8.5, 5.5}},
		{"US A6", {4.75, 6.5}, {4.5, 6.25}, {9, 6.25}},
		{"US A7", {5.25, 7.25}, {5, 7}, {10, 7}},
		{"US A8", {5.5, 8.125}, {5.25, 7.875}, {10.5, 7.875}},
		{"US A9", {5.75, 8.75}, {5.5, 8.5}, {11, 8.5}},
		{"US A10", {6, 9.5}, {5.75, 9.25}, {11.5, 9.25}},
	};
	(void)state;
	for (size_t i = 0; i < sizeof(TABLE) / sizeof(*TABLE); i++) {
		struct starter starter = {.spine = CUTLINT_SPINE_LEFT};
		struct value_error error;
		struct paper_size open;
		const char *name = TABLE[i].name;
		assert_sides(name, envelope(name), TABLE[i].envelope[0] * IN,
			     TABLE[i].envelope[1] * IN);
		assert_sides(name, card(name), TABLE[i].card[0] * IN, TABLE[i].card[1] * IN);
		assert_int_equal(starter_set_format(&starter, name, &error), 0);
		starter_flat(&starter, &open.width_mm, &open.height_mm);
		assert_sides(name, open, TABLE[i].open[0] * IN, TABLE[i].open[1] * IN);
	}
	/* The A2 that opens upwards: 4 1/4 in x 11 in. */
	struct starter upwards = {.spine = CUTLINT_SPINE_TOP};
	struct value_error error;
	struct paper_size open;
	assert_int_equal(starter_set_format(&upwards, "US A2", &error), 0);
	starter_flat(&upwards, &open.width_mm, &open.height_mm);
	assert_sides("US A2", open, 4.25 * IN, 11 * IN);
}

/*
 * Two misprints that go round in trade tables: a folded A8 with its fold at 5 in of 10 1/2 in, and
 * an A6 card that is 4 3/4 in wide, as wide as its envelope.
 */
static void published_misprints_are_not_followed(void **state)
{
	(void)state;
	assert_true(fabs(card("US A8").width_mm - 5.25 * IN) < 1e-9);
	assert_true(fabs(2 * card("US A8").width_mm - 10.5 * IN) < 1e-9);
	assert_true(fabs(card("US A6").width_mm - 4.5 * IN) < 1e-9);
	assert_true(fabs(envelope("US A6").width_mm - card("US A6").width_mm - 0.25 * IN) < 1e-9);
}

/* ISO 216: the longer side halved gives the next size, so a folded A(n) opens to A(n - 1). */
static void a_folded_iso_card_opens_to_the_size_above_it(void **state)
{
	(void)state;
	for (int number = 1; number <= 10; number++) {
		char name[16], above[16];
		snprintf(name, sizeof(name), "ISO A%d", number);
		snprintf(above, sizeof(above), "ISO A%d", number - 1);
		struct starter starter = {.spine = CUTLINT_SPINE_LEFT};
		struct value_error error;
		double width, height;
		assert_int_equal(starter_set_format(&starter, name, &error), 0);
		starter_flat(&starter, &width, &height);
		/* Halving rounds half a millimetre down, so the fold loses up to one. */
		assert_true(height == card(above).width_mm);
		assert_true(card(above).height_mm - width >= 0 &&
			    card(above).height_mm - width <= 1);
	}
}

/* Printers' basis weight tables: pounds of cover, 500 sheets of 20 in x 26 in, in g/m². */
static void pounds_of_cover_are_the_grammage_that_printers_print(void **state)
{
	static const struct {
		double pounds, grammage;
	} TABLE[] = {{65, 176},  {80, 216},  {90, 243}, {100, 270},
		     {110, 297}, {120, 324}, {130, 352}};
	(void)state;
	for (size_t i = 0; i < sizeof(TABLE) / sizeof(*TABLE); i++) {
		char text[32];
		double grammage;
		struct value_error error;
		struct stock stock;
		snprintf(text, sizeof(text), "%.0f lb cover", TABLE[i].pounds);
		assert_int_equal(value_parse(text, VALUE_GRAMMAGE, &grammage, &error), 0);
		assert_true(fabs(grammage - TABLE[i].grammage) <= 0.6);
		assert_int_equal(stock_parse(text, &stock, &error), 0);
		assert_true(stock.grammage == TABLE[i].grammage);
	}
	/* 453.592 g / (500 x 20 in x 26 in) = 2.7041 g/m², by hand. */
	double pound;
	struct value_error error;
	assert_int_equal(value_parse("1 lb cover", VALUE_GRAMMAGE, &pound, &error), 0);
	assert_true(fabs(pound - 2.7041) < 0.00005);
}

/*
 * A printer's chart of coated card (points of 0.001 in) and a paper-cutting service's figures for
 * uncoated card; both measured, so the derived caliper is near them and no more.
 */
static void derived_calipers_are_near_the_measured_ones(void **state)
{
	static const struct {
		double grammage, points;
		bool coated;
	} TABLE[] = {{210, 9, true},  {240, 10, true}, {255, 12, true},  {305, 14, true},
		     {355, 16, true}, {400, 18, true}, {176, 10, false}, {216, 13, false}};
	(void)state;
	for (size_t i = 0; i < sizeof(TABLE) / sizeof(*TABLE); i++) {
		double measured_mm = TABLE[i].points * 0.001 * IN;
		double derived_mm = stock_caliper_mm(TABLE[i].grammage, TABLE[i].coated);
		if (fabs(derived_mm / measured_mm - 1) > 0.12)
			fail_msg("%.0f g/m2 is derived as %.3f mm, measured %.3f mm",
				 TABLE[i].grammage, derived_mm, measured_mm);
	}
	/* Grammage times bulk of 1.35 cm³/g, worked out by hand. */
	assert_true(fabs(stock_caliper_mm(200, false) - 0.27) < 1e-9);
	assert_true(fabs(stock_caliper_mm(250, false) - 0.3375) < 1e-9);
	assert_true(fabs(stock_caliper_mm(300, false) - 0.405) < 1e-9);
	assert_true(fabs(stock_caliper_mm(300, true) - 0.345) < 1e-9);
}

static void a_caliper_follows_grammage_and_finish_unless_it_is_given(void **state)
{
	(void)state;
	struct loaded loaded = load_good("[stock]\ngrammage = 300 g/m2\nfinish = coated\n");
	assert_true(fabs(loaded.job->facts.stock_thickness_mm - 0.345) < 1e-9);
	assert_true(loaded.job->facts.stock_coated);
	load_finish(&loaded);
	loaded = load_good("[stock]\ngrammage = 80 lb cover\nfinish = uncoated\n");
	assert_true(fabs(loaded.job->facts.stock_thickness_mm - 80 * 2.70411 * 1.35 / 1000) < 1e-5);
	load_finish(&loaded);
	loaded = load_good("[stock]\ngrammage = 300 g/m2\nthickness = 0.012 in\n");
	assert_true(fabs(loaded.job->facts.stock_thickness_mm - 0.3048) < 1e-9);
	load_finish(&loaded);
}

/* 14 points of caliper are 0.014 in; 14 type points would be 4.9 mm, which no card is. */
static void points_of_caliper_are_no_type_points(void **state)
{
	(void)state;
	struct loaded loaded = load_text("[stock]\nthickness = 14 pt\n");
	assert_int_equal(loaded.result, -1);
	assert_non_null(strstr(loaded.notices.items[0].message, "write 14 points as '0.014 in'"));
	load_finish(&loaded);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(iso_216_sizes_stand_as_the_standard_prints_them),
		cmocka_unit_test(iso_269_sizes_stand_as_the_standard_prints_them),
		cmocka_unit_test(us_cards_sheets_and_envelopes_stand_as_stationers_print_them),
		cmocka_unit_test(published_misprints_are_not_followed),
		cmocka_unit_test(a_folded_iso_card_opens_to_the_size_above_it),
		cmocka_unit_test(pounds_of_cover_are_the_grammage_that_printers_print),
		cmocka_unit_test(derived_calipers_are_near_the_measured_ones),
		cmocka_unit_test(a_caliper_follows_grammage_and_finish_unless_it_is_given),
		cmocka_unit_test(points_of_caliper_are_no_type_points),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
