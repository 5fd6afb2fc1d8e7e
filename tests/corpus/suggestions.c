/*
 * suggestions.c - what a suggestion asks for is enough: each drawing is drawn again with the figure
 * that the suggestion names, and then nothing is found.
 */
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "scene.h"

/* A card of 60 by 30 whose edge is burned; %s: what lies on it. */
#define OUTLINE "<rect id='outline' x='2' y='2' width='56' height='26' fill='none' stroke='black'/>"
#define BLANK   "<rect id='blank' x='2' y='2' width='56' height='26' fill='none' stroke='black'/>"

/* Draws something with one length in it that is judged. */
typedef void draw_length(char *out, size_t size, double mm);

static void draw(const struct scene *scene, draw_length *shape, double mm)
{
	char body[2048], svg[4096];
	shape(body, sizeof body, mm);
	snprintf(svg, sizeof svg,
		 "<svg xmlns='http://www.w3.org/2000/svg' width='60mm' height='30mm' "
		 "viewBox='0 0 60 30'>%s</svg>\n",
		 body);
	scene_write(scene, "card.svg", svg);
}

/* The number behind some words of what is printed. */
static double number_behind(const char *printed, const char *words)
{
	const char *found = strstr(printed, words);
	if (!found)
		fail_msg("'%s' does not hold '%s'", printed, words);
	return strtod(found + strlen(words), NULL);
}

/* `words` stand before the suggestion's figure: the length itself, or, if `more`, what it lacks. */
static void follow(const struct scene *scene, draw_length *shape, double mm, const char *rule,
		   const char *words, bool more)
{
	draw(scene, shape, mm);
	struct ran ran = CUTLINT(scene, "check", "card.svg");
	assert_int_equal(ran.status, 1);
	assert_has(ran.out, rule);
	double wanted = number_behind(ran.out, words) + (more ? mm : 0);
	ran_finish(&ran);
	assert_true(wanted > mm);

	draw(scene, shape, wanted);
	ran = CUTLINT(scene, "check", "card.svg");
	if (ran.status != 0)
		fail_msg("%.2f mm instead of %.2f mm: %s", wanted, mm, ran.out);
	assert_int_equal(ran.out_length, 0);
	ran_finish(&ran);
}

static void two_windows(char *out, size_t size, double mm)
{
	snprintf(out, size,
		 OUTLINE "<circle cx='20' cy='15' r='5'/><circle cx='%.6f' cy='15' r='5'/>",
		 30 + mm);
}

static void a_thin_wall_drawn_as_wide_as_suggested_passes(void **state)
{
	follow(*state, two_windows, 0.05, "[bridge-width]", "draw it at least ", false);
	follow(*state, two_windows, 0.3, "[bridge-width]", "draw it at least ", false);
	follow(*state, two_windows, 0.95, "[bridge-width]", "draw it at least ", false);
}

static void on_one_stem(char *out, size_t size, double mm)
{
	snprintf(out, size, OUTLINE "<path d='M20 7H%.6fV11H25V20H35V11H%.6fV7H40V23H20Z'/>",
		 30 - mm / 2, 30 + mm / 2);
}

static void a_bridge_that_holds_alone_drawn_as_wide_as_suggested_passes(void **state)
{
	follow(*state, on_one_stem, 0.8, "[bridge-width]", "draw it at least ", false);
	follow(*state, on_one_stem, 1.9, "[bridge-width]", "draw it at least ", false);
}

static void window_at_edge(char *out, size_t size, double mm)
{
	snprintf(out, size, OUTLINE "<circle cx='%.6f' cy='15' r='5'/>", 7 + mm);
}

static void window_at_blank(char *out, size_t size, double mm)
{
	snprintf(out, size, BLANK "<circle cx='%.6f' cy='15' r='5'/>", 7 + mm);
}

static void a_window_moved_in_from_the_edge_as_suggested_passes(void **state)
{
	for (double mm = 0.2; mm < 2.8; mm += 0.337) {
		follow(*state, window_at_edge, mm, "[card-margin]", "move it in by ", true);
		follow(*state, window_at_blank, mm, "[card-margin]", "move it in by ", true);
	}
}

static void a_dot(char *out, size_t size, double mm)
{
	snprintf(out, size, OUTLINE "<circle cx='30' cy='15' r='%.6f'/>", mm / 2);
}

static void a_hole_drawn_as_wide_as_suggested_passes(void **state)
{
	follow(*state, a_dot, 0.3, "[hole-size]", "at least ", false);
}

static void window_beside_fold(char *out, size_t size, double mm)
{
	snprintf(out, size,
		 OUTLINE "<line id='fold' x1='30' y1='2' x2='30' y2='28' stroke='black'/>"
			 "<circle cx='%.6f' cy='15' r='5'/>",
		 35 + mm);
}

static void a_window_moved_off_the_fold_as_suggested_passes(void **state)
{
	for (double mm = 0.1; mm < 3; mm += 0.413)
		follow(*state, window_beside_fold, mm, "[fold-clearance]", "move the cut at least ",
		       false);
}

/* Its far corners lie hypot(4, 22.5) = 22.85 from the middle of its stem. */
static void far_on_one_stem(char *out, size_t size, double mm)
{
	snprintf(out, size, OUTLINE "<path d='M8 %.6fH12V11H32.5V19H12V%.6fH8V23H38V7H8Z'/>",
		 15 - mm / 2, 15 + mm / 2);
}

static void a_part_that_reaches_far_on_a_stem_as_wide_as_suggested_passes(void **state)
{
	follow(*state, far_on_one_stem, 2.0, "[weak-hold]", "draw this one at least ", false);
}

/* Kept material between two windows of one outline, 38 long. */
static void tongue(char *out, size_t size, double mm)
{
	snprintf(out, size, OUTLINE "<path d='M8 %.6fH46V%.6fH8V7H52V23H8Z'/>", 15 + mm / 2,
		 15 - mm / 2);
}

static void a_tongue_whose_root_is_as_much_wider_as_suggested_passes(void **state)
{
	follow(*state, tongue, 1.5, "[weak-hold]", "draw its root at least ", true);
	follow(*state, tongue, 2.2, "[weak-hold]", "draw its root at least ", true);
}

static void hair(char *out, size_t size, double mm)
{
	snprintf(out, size, OUTLINE "<path d='M8 %.6fH13V%.6fH8V7H52V23H8Z'/>", 15 + mm / 2,
		 15 - mm / 2);
}

static void a_free_strip_drawn_as_wide_as_suggested_passes(void **state)
{
	follow(*state, hair, 0.3, "[fine-tip]", "draw it at least ", false);
	follow(*state, hair, 0.45, "[fine-tip]", "draw it at least ", false);
}

static void two_cards(char *out, size_t size, double mm)
{
	snprintf(out, size,
		 "<rect id='outline-1' x='2' y='2' width='20' height='26' fill='none' "
		 "stroke='black'/><rect id='outline-2' x='%.6f' y='2' width='20' height='26' "
		 "fill='none' stroke='black'/>",
		 22 + mm);
}

static void two_cards_moved_apart_as_suggested_pass(void **state)
{
	for (double mm = 0.3; mm < 1; mm += 0.137)
		follow(*state, two_cards, mm, "[set-fit]", "move them ", true);
}

static void lettering(char *out, size_t size, double mm)
{
	snprintf(out, size, OUTLINE "<rect id='name' x='%.6f' y='12' width='20' height='6'/>",
		 2 + mm);
}

static void lettering_moved_in_as_suggested_passes(void **state)
{
	scene_write(*state, "cutlint.job", "[lettering]\nbox = 40 mm x 10 mm\n");
	for (double mm = 3.1; mm < 6; mm += 0.437)
		follow(*state, lettering, mm, "[name-fit]", "move it in by ", true);
}

/* An inset on the right-hand panel, which is the face of a card with its spine to the left. */
static void inset_as_wide(char *out, size_t size, double mm)
{
	snprintf(out, size,
		 OUTLINE "<line id='fold' x1='30' y1='2' x2='30' y2='28' stroke='black'/>"
			 "<rect id='inset' x='%.6f' y='5' width='%.6f' height='20'/>"
			 "<rect x='38' y='11' width='10' height='8'/>",
		 43 - mm / 2, mm);
}

static void an_inset_as_wide_as_suggested_passes(void **state)
{
	for (double mm = 8; mm < 16; mm += 1.13)
		follow(*state, inset_as_wide, mm, "[inset-fit]", "make it at least ", false);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SCENE(a_thin_wall_drawn_as_wide_as_suggested_passes),
		SCENE(a_bridge_that_holds_alone_drawn_as_wide_as_suggested_passes),
		SCENE(a_window_moved_in_from_the_edge_as_suggested_passes),
		SCENE(a_hole_drawn_as_wide_as_suggested_passes),
		SCENE(a_window_moved_off_the_fold_as_suggested_passes),
		SCENE(a_part_that_reaches_far_on_a_stem_as_wide_as_suggested_passes),
		SCENE(a_tongue_whose_root_is_as_much_wider_as_suggested_passes),
		SCENE(a_free_strip_drawn_as_wide_as_suggested_passes),
		SCENE(two_cards_moved_apart_as_suggested_pass),
		SCENE(lettering_moved_in_as_suggested_passes),
		SCENE(an_inset_as_wide_as_suggested_passes),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
