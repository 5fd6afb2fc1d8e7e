/* silence.c - what a drawing silences, and what it says wrongly. */
#include "engine/silence.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "fresh.h"
#include "svg/load.h"

#define HEAD                                                                                       \
	"<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:c=\"urn:cutlint:drawing\" width=\"9mm\" " \
	"height=\"9mm\">\n"

/* A drawing with its words, and the findings that are tried on it. */
struct tried {
	struct silences silences;
	struct findings findings;
};

static struct tried read_drawing(struct arena *arena, const char *text)
{
	struct notices notices = {.arena = arena};
	struct svg_options options = {.flatness_mm = 0.005};
	struct cutlint_design *design;
	assert_int_equal(
		svg_load_bytes(arena, text, strlen(text), "a.svg", &options, &notices, &design), 0);
	struct tried tried = {.silences = {.arena = arena, .design = design},
			      .findings = {.arena = arena}};
	silences_read(&tried.silences, &tried.findings);
	return tried;
}

/* A finding at an element, by its place in the document. */
static struct finding *find(struct tried *tried, const char *rule, uint32_t index)
{
	struct finding *finding = findings_add(&tried->findings);
	*finding = (struct finding){.rule = rule,
				    .severity = CUTLINT_WARNING,
				    .message = "",
				    .place = {.file = "a.svg", .index = index}};
	return finding;
}

static const struct silence *silence_of(struct arena *arena, const char *text, const char *rule,
					uint32_t index)
{
	struct tried tried = read_drawing(arena, text);
	assert_int_equal(tried.findings.count, 0);
	find(&tried, rule, index);
	silences_apply(&tried.silences, &tried.findings);
	return tried.findings.items[0].silence;
}

static void a_silence_keeps_its_reason_and_its_place(void **state)
{
	static const char TEXT[] =
		HEAD "<g><path c:silence=' speck :  from the scan; a:b '/></g></svg>";
	const struct silence *silence = silence_of(*state, TEXT, "speck", 2);
	assert_non_null(silence);
	assert_string_equal(silence->rule, "speck");
	assert_string_equal(silence->reason, "from the scan");
	assert_string_equal(silence->place.file, "a.svg");
	assert_string_equal(silence->place.element, "/svg/g[1]/path[1]");
	assert_int_equal(silence->place.line, 2);
	assert_int_equal(silence->place.byte, strstr(TEXT, "speck :") - TEXT);
	assert_int_equal(silence->place.length, strlen("speck :  from the scan"));

	silence = silence_of(*state, TEXT, "a", 2);
	assert_non_null(silence);
	assert_string_equal(silence->reason, "b");
}

static void it_holds_for_the_element_and_what_stands_in_it(void **state)
{
	static const char TEXT[] =
		HEAD "<g><g c:silence='speck: dust'><path/></g><path/></g></svg>";
	assert_null(silence_of(*state, TEXT, "speck", 0));
	assert_null(silence_of(*state, TEXT, "speck", 1));
	assert_non_null(silence_of(*state, TEXT, "speck", 2));
	assert_non_null(silence_of(*state, TEXT, "speck", 3));
	assert_null(silence_of(*state, TEXT, "speck", 4));
	assert_null(silence_of(*state, TEXT, "hole-size", 3));
}

static void on_the_root_it_holds_for_the_drawing_but_not_for_the_job(void **state)
{
	static const char TEXT[] =
		"<svg xmlns='http://www.w3.org/2000/svg' xmlns:c='urn:cutlint:drawing' "
		"width='9mm' height='9mm' c:silence='speck: dust'><path/></svg>";
	assert_non_null(silence_of(*state, TEXT, "speck", 0));
	assert_non_null(silence_of(*state, TEXT, "speck", 1));
	struct tried tried = read_drawing(*state, TEXT);
	find(&tried, "speck", 0)->place.in_job = true;
	silences_apply(&tried.silences, &tried.findings);
	assert_null(tried.findings.items[0].silence);
}

static void the_innermost_word_counts_and_all_that_match_are_of_use(void **state)
{
	struct tried tried = read_drawing(
		*state,
		HEAD "<g c:severity='speck error: x' c:silence='speck: outer'>"
		     "<path c:severity='speck note: y' c:silence='speck: inner'/></g></svg>");
	find(&tried, "speck", 2);
	silences_apply(&tried.silences, &tried.findings);
	assert_string_equal(tried.findings.items[0].silence->reason, "inner");
	assert_int_equal(tried.findings.items[0].severity, CUTLINT_NOTE);
	struct setup setup = {0};
	silences_report_unused(&tried.silences, &setup, &tried.findings);
	assert_int_equal(tried.findings.count, 1);
}

/* The same figure against a limit from below, and against one from above. */
static bool reaches(struct arena *arena, const char *limit, double value, double rule_limit,
		    const char *unit)
{
	char text[256];
	snprintf(text, sizeof(text), HEAD "<path c:silence='speck %s: known'/></svg>", limit);
	struct finding_measure measures[] = {{"drawn", unit, value, NAN},
					     {"width", unit, value, rule_limit}};
	struct tried tried = read_drawing(arena, text);
	assert_int_equal(tried.findings.count, 0);
	struct finding *finding = find(&tried, "speck", 1);
	finding->measures = measures;
	finding->measure_count = 2;
	silences_apply(&tried.silences, &tried.findings);
	return tried.findings.items[0].silence != NULL;
}

static void a_limit_accepts_what_is_no_worse(void **state)
{
	assert_true(reaches(*state, "0.30 mm", 0.30, 0.5, "mm"));
	assert_true(reaches(*state, "0.30 mm", 0.31, 0.5, "mm"));
	assert_false(reaches(*state, "0.30 mm", 0.29, 0.5, "mm"));
	assert_true(reaches(*state, "1.5 deg", 1.4, 1, "deg"));
	assert_false(reaches(*state, "1.5 deg", 1.6, 1, "deg"));
	assert_true(reaches(*state, "0.4 mm2", 0.41, 1, "mm²"));
	assert_true(reaches(*state, "0.30", 0.28, 0.25, "J/mm"));
	assert_false(reaches(*state, "0.30", 0.32, 0.25, "J/mm"));
	assert_true(reaches(*state, "20 %", 0.2, 0.1, ""));
}

/* A figure that prints as 0.30 is one for whoever writes down what the message said. */
static void figures_count_as_they_are_printed(void **state)
{
	assert_true(reaches(*state, "0.30 mm", 0.2951, 0.5, "mm"));
	assert_false(reaches(*state, "0.30 mm", 0.2949, 0.5, "mm"));
	assert_true(reaches(*state, "0.30 mm", 0.3049, 0.1, "mm"));
}

static void a_limit_of_another_kind_accepts_nothing(void **state)
{
	assert_false(reaches(*state, "0.30 mm", 0.4, 0.5, "mm²"));
	assert_false(reaches(*state, "0.30", 0.4, 0.5, "mm"));
	assert_false(reaches(*state, "0.30 mm2", 0.4, 0.5, "deg"));
}

static void assert_said(struct arena *arena, const char *attribute, const char *message)
{
	char text[256];
	snprintf(text, sizeof(text), HEAD "<path %s/></svg>", attribute);
	struct tried tried = read_drawing(arena, text);
	assert_int_equal(tried.silences.count, 0);
	assert_int_equal(tried.findings.count, 1);
	assert_string_equal(tried.findings.items[0].rule, "bad-silence");
	assert_int_equal(tried.findings.items[0].severity, CUTLINT_WARNING);
	assert_int_equal(tried.findings.items[0].place.line, 2);
	assert_string_equal(tried.findings.items[0].message, message);
}

static void what_cannot_be_followed_is_said(void **state)
{
	assert_said(*state, "c:silence=''", "an empty silence");
	assert_said(*state, "c:silence=' '", "an empty silence");
	assert_said(*state, "c:silence='speck'", "'speck' has no reason, so it is not followed");
	assert_said(*state, "c:silence='speck: '", "'speck' has no reason, so it is not followed");
	assert_said(*state, "c:silence=': dust'", "a silence without a rule's name");
	assert_said(*state, "c:severity='speck: dust'",
		    "'' is no severity; there are note, warning and error");
	assert_said(*state, "c:severity='speck off: dust'",
		    "'off' is no severity; there are note, warning and error");
	assert_said(*state, "c:rule='speck: dust'",
		    "there is no attribute 'rule' in cutlint's namespace");
}

static void entities_in_a_value_cost_only_the_exact_place(void **state)
{
	static const char TEXT[] =
		HEAD "<path c:silence='x: 1 &lt; 2; speck: dust &amp; dirt'/></svg>";
	const struct silence *silence = silence_of(*state, TEXT, "speck", 1);
	assert_string_equal(silence->reason, "dust & dirt");
	assert_int_equal(silence->place.byte, strstr(TEXT, "x: 1") - TEXT);
}

static void a_silence_without_use_is_a_finding_each(void **state)
{
	struct tried tried = read_drawing(
		*state, HEAD "<path c:silence='speck: dust; hole-size: pricks'/></svg>");
	find(&tried, "speck", 1);
	silences_apply(&tried.silences, &tried.findings);
	struct setup setup = {0};
	silences_report_unused(&tried.silences, &setup, &tried.findings);
	assert_int_equal(tried.findings.count, 2);
	assert_string_equal(tried.findings.items[1].rule, "unused-silence");
	assert_string_equal(tried.findings.items[1].message,
			    "this silence of 'hole-size' silences nothing");
}

static void a_rule_that_the_job_switched_off_leaves_its_silences_alone(void **state)
{
	struct registry registry = {.arena = *state};
	struct troubles troubles = {.arena = *state};
	registry_add_folder(&registry, SOUND_FOLDER, &troubles);
	struct setup_rule omega = {.module = registry_find(&registry, "omega")};
	struct setup setup = {.registry = &registry, .rules = &omega, .rule_count = 1};
	struct tried tried =
		read_drawing(*state, HEAD "<path c:silence='alpha: a; omega: b; omaga: c'/></svg>");
	silences_report_unused(&tried.silences, &setup, &tried.findings);
	assert_int_equal(tried.findings.count, 2);
	assert_string_equal(tried.findings.items[0].message,
			    "this silence of 'omega' silences nothing");
	assert_string_equal(tried.findings.items[1].suggestion, "did you mean 'omega'?");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(a_silence_keeps_its_reason_and_its_place),
		FRESH(it_holds_for_the_element_and_what_stands_in_it),
		FRESH(on_the_root_it_holds_for_the_drawing_but_not_for_the_job),
		FRESH(the_innermost_word_counts_and_all_that_match_are_of_use),
		FRESH(a_limit_accepts_what_is_no_worse),
		FRESH(figures_count_as_they_are_printed),
		FRESH(a_limit_of_another_kind_accepts_nothing),
		FRESH(what_cannot_be_followed_is_said),
		FRESH(entities_in_a_value_cost_only_the_exact_place),
		FRESH(a_silence_without_use_is_a_finding_each),
		FRESH(a_rule_that_the_job_switched_off_leaves_its_silences_alone),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
