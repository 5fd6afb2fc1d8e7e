/* kerf.c - cutlint kerf and the test square, cutlint job and what it prints. */
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "scene.h"

/*
 * k = (hole - part) / 2, both from one square: a university's course page on cutting. A square of
 * 20 mm: the beam takes half a kerf on each side, outwards from the hole, inwards from the part.
 */
static void the_kerf_is_half_of_hole_less_part(void **state)
{
	PRINTS(*state, "\nkerf = 0.15 mm\n", "kerf", "--hole", "20.15 mm", "--part", "19.85 mm");
	PRINTS(*state, "\nkerf = 0.08 mm\n", "kerf", "--hole=20.08mm", "--part=19.92mm");
	PRINTS(*state, "\nkerf = 0.127 mm\n", "kerf", "--hole", "1.005 in", "--part", "0.995 in",
	       "--square", "1 in");
}

static void several_measures_give_their_mean(void **state)
{
	PRINTS(*state, "\nkerf = 0.12 mm\n", "kerf", "--hole", "20.10 mm", "--part", "19.90 mm",
	       "--hole", "20.14 mm", "--part", "19.86 mm");
}

static void the_printed_line_is_one_of_the_job_file(void **state)
{
	struct ran ran = CUTLINT(*state, "kerf", "--hole", "20.2 mm", "--part", "19.8 mm");
	char job[512] = "[burn]\n";
	strncat(job, ran.out, sizeof(job) - strlen(job) - 1);
	ran_finish(&ran);
	scene_write(*state, "cutlint.job", job);
	scene_write(*state, "bad.svg", BAD_DRAWING);
	/* 0.30 mm as drawn, less 0.20 mm. */
	ran = CUTLINT(*state, "check", "bad.svg");
	assert_has(ran.out, "of 0.10 mm is under 0.35 mm (0.30 mm as drawn)");
	ran_finish(&ran);
}

static void nonsense_is_refused(void **state)
{
	REFUSES(*state, "is not smaller than its hole", "kerf", "--hole", "19.8 mm", "--part",
		"20.2 mm");
	REFUSES(*state, "is not smaller than its hole", "kerf", "--hole", "20 mm", "--part",
		"20 mm");
	REFUSES(*state, "above 0 mm", "kerf", "--hole", "0 mm", "--part", "20 mm");
	REFUSES(*state, "above 0 mm", "kerf", "--hole", "-20 mm", "--part", "-21 mm");
	REFUSES(*state, "missing unit behind '20.1'", "kerf", "--hole", "20.1", "--part", "20 mm");
	REFUSES(*state, "a kerf of 2.500 mm can't be", "kerf", "--hole", "25 mm", "--part",
		"20 mm");
	REFUSES(*state, "a kerf of 0.004 mm can't be", "kerf", "--hole", "20.004 mm", "--part",
		"19.996 mm");
	REFUSES(*state, "give a --hole and a --part", "kerf", "--hole", "20.1 mm");
	REFUSES(*state, "give a --hole and a --part", "kerf");
	REFUSES(*state, "takes options only", "kerf", "--hole", "20.1 mm", "--part", "19.9 mm",
		"20");
	REFUSES(*state, "did you mean '--part'?", "kerf", "--prat", "20 mm");
}

static void assert_notes(const struct scene *scene, const char *said, const char *const *given)
{
	struct ran ran = scene_cutlint(scene, given);
	assert_int_equal(ran.status, 0);
	assert_has(ran.out, "\nkerf = ");
	if (said)
		assert_has(ran.err, said);
	else
		assert_string_equal(ran.err, "");
	ran_finish(&ran);
}
#define NOTES(said, ...) assert_notes(*state, said, (const char *const[]){__VA_ARGS__, NULL})

/* 0.45 mm is the largest kerf that services publish, 0.04 mm under any spot. */
static void what_is_hard_to_believe_is_said(void **state)
{
	NOTES(NULL, "kerf", "--hole", "20.45 mm", "--part", "19.55 mm");
	NOTES("more than any that is published", "kerf", "--hole", "20.46 mm", "--part",
	      "19.54 mm");
	NOTES("less than a beam's spot", "kerf", "--hole", "20.03 mm", "--part", "19.97 mm");
	NOTES("kerfs from 0.08 mm to 0.16 mm", "kerf", "--hole", "20.08 mm", "--part", "19.92 mm",
	      "--hole", "20.16 mm", "--part", "19.84 mm");
	NOTES("the drawing was scaled", "kerf", "--hole", "15.15 mm", "--part", "14.85 mm");
	NOTES(NULL, "kerf", "--hole", "15.15 mm", "--part", "14.85 mm", "--square", "15 mm");
}

static void the_help_shows_the_cautions(void **state)
{
	PRINTS(*state, "stay beside it", "help", "kerf");
	PRINTS(*state, "fumes drawn off", "help", "kerf");
	PRINTS(*state, "corpus/kerf-square.svg", "help", "kerf");
}

/* A card with a fold and a window, in the measures that the starter's comment gives. */
static void write_card(const struct scene *scene, const char *job)
{
	double width, height, fold;
	char text[1024];
	const char *open = strstr(job, "Open ");
	assert_non_null(open);
	assert_int_equal(
		sscanf(open, "Open %lf mm x %lf mm, with the fold %lf mm", &width, &height, &fold),
		3);
	snprintf(text, sizeof(text),
		 "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%.2fmm\" height=\"%.2fmm\" "
		 "viewBox=\"0 0 %.2f %.2f\">\n"
		 "<rect id=\"outline\" x=\"10\" y=\"10\" width=\"%.2f\" height=\"%.2f\"/>\n"
		 "<path id=\"fold\" stroke=\"#000\" d=\"M10 %.2f h%.2f\"/>\n"
		 "<circle cx=\"%.2f\" cy=\"%.2f\" r=\"5\"/>\n</svg>\n",
		 width + 20, height + 20, width + 20, height + 20, width, height, 10 + fold, width,
		 10 + width / 2, 10 + fold * 1.5);
	scene_write(scene, "card.svg", text);
}

static void a_card_in_the_starters_measures_has_no_findings(void **state)
{
	static const char *const FORMATS[] = {"ISO A6", "US A7", "DL", "60 mm x 50 mm"};
	for (size_t i = 0; i < sizeof(FORMATS) / sizeof(FORMATS[0]); i++) {
		struct ran job = CUTLINT(*state, "job", "--format", FORMATS[i], "--stock",
					 "80 lb cover", "--power", "20 W", "--spine", "top");
		assert_int_equal(job.status, 0);
		assert_string_equal(job.err, "");
		scene_write(*state, "cutlint.job", job.out);
		write_card(*state, job.out);
		ran_finish(&job);
		struct ran ran = CUTLINT(*state, "check", "--fail-on=note", "card.svg");
		assert_string_equal(ran.out, "");
		assert_int_equal(ran.status, 0);
		ran_finish(&ran);
	}
}

/* All keys of all rules, with the '#' of "#key = value" taken away. */
static void every_rule_stands_in_the_starter_with_its_defaults(void **state)
{
	struct ran job = CUTLINT(*state, "job");
	char *whole = test_calloc(1, job.out_length + 1), *to = whole;
	for (const char *at = job.out; *at; at++) {
		bool start = at == job.out || at[-1] == '\n';
		if (!start || *at != '#' || at[1] == ' ')
			*to++ = *at;
	}
	assert_has(whole, "\n[rule bridge-width]\nseverity = error\nerror = 0.35 mm  # ");
	scene_write(*state, "cutlint.job", whole);
	scene_write(*state, "good.svg", GOOD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "--fail-on=never", "good.svg");
	assert_int_equal(ran.status, 0);
	ran_finish(&ran);
	ran_finish(&job);
	test_free(whole);
}

/* One `#` taken away is enough: the option stands in the section of its rule already. */
static void an_option_of_the_starter_counts_once_its_mark_is_gone(void **state)
{
	struct ran job = CUTLINT(*state, "job");
	char *mark = strstr(job.out, "\n#sole-error = ");
	assert_non_null(mark);
	mark[1] = ' ';
	scene_write(*state, "cutlint.job", job.out);
	scene_write(*state, "good.svg", GOOD_DRAWING);
	struct ran ran = CUTLINT(*state, "check", "--fail-on=never", "good.svg");
	assert_int_equal(ran.status, 0);
	ran_finish(&ran);
	ran_finish(&job);
}

static void the_lists_name_what_can_be_asked_for(void **state)
{
	PRINTS(*state, "ISO A6     105.00 x  148.00    210.00 x  148.00    105.00 x  296.00   C6\n",
	       "job", "--list");
	PRINTS(*state, "80 lb cover        216   0.29\n", "job", "--list");
	REFUSES(*state, "near names are 'US A2'", "job", "--format", "US A22");
	REFUSES(*state, "did you mean 'top'?", "job", "--spine", "tpo");
	REFUSES(*state, "option '--power' takes 0.1 W to 500 W", "job", "--power", "900 W");
	REFUSES(*state, "takes options only", "job", "ISO A6");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SCENE(the_kerf_is_half_of_hole_less_part),
		SCENE(several_measures_give_their_mean),
		SCENE(the_printed_line_is_one_of_the_job_file),
		SCENE(nonsense_is_refused),
		SCENE(what_is_hard_to_believe_is_said),
		SCENE(the_help_shows_the_cautions),
		SCENE(a_card_in_the_starters_measures_has_no_findings),
		SCENE(every_rule_stands_in_the_starter_with_its_defaults),
		SCENE(an_option_of_the_starter_counts_once_its_mark_is_gone),
		SCENE(the_lists_name_what_can_be_asked_for),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
