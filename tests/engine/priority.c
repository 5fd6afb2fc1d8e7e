#include "engine/priority.h"

#include <math.h>

#include "fresh.h"

static struct finding *add(struct findings *findings, const char *rule, const char *element,
			   double x)
{
	struct finding *finding = findings_add(findings);
	*finding = (struct finding){
		.rule = rule,
		.message = "",
		.place = {.file = "a.svg", .element = element, .at = {x, 0}, .on_sheet = true}};
	return finding;
}

/* One of path#a with a figure. */
static struct finding *add_measured(struct findings *findings, const char *rule, double x,
				    struct finding_measure *measure)
{
	struct finding *finding = add(findings, rule, "path#a", x);
	finding->measures = measure;
	finding->measure_count = 1;
	return finding;
}

static void a_duplicate_hides_the_sliver_at_its_place(void **state)
{
	struct findings findings = {.arena = *state};
	add(&findings, "bridge-width", "path#a", 10.5);
	add(&findings, "hole-size", "path#a", 9.5);
	add(&findings, "duplicate-outline", "path#a", 10);
	priority_apply(&findings);
	assert_int_equal(findings.count, 1);
	assert_string_equal(findings.items[0].rule, "duplicate-outline");
}

static void a_bridge_elsewhere_or_of_another_element_stays(void **state)
{
	struct findings findings = {.arena = *state};
	add(&findings, "duplicate-outline", "path#a", 10);
	add(&findings, "bridge-width", "path#a", 12);
	add(&findings, "bridge-width", "path#b", 10);
	add(&findings, "closed-path", "path#a", 10);
	priority_apply(&findings);
	assert_int_equal(findings.count, 4);
}

static void the_other_line_of_a_duplicate_counts_too(void **state)
{
	struct findings findings = {.arena = *state};
	struct finding_place other = {.element = "path#b", .at = {10, 0}, .on_sheet = true};
	struct finding *duplicate = add(&findings, "duplicate-outline", "path#a", 10);
	duplicate->related = &other;
	duplicate->related_count = 1;
	add(&findings, "bridge-width", "path#b", 10);
	priority_apply(&findings);
	assert_int_equal(findings.count, 1);
}

/* A ring of 0.30 mm: its opening may be found anywhere along the two traced edges. */
static void the_sliver_between_traced_edges_is_theirs_wherever_it_is_found(void **state)
{
	static struct finding_measure apart = {"apart", "mm", 0.30, 0.5};
	static struct finding_measure ring = {"inscribed circle", "mm", 0.301, 0.5};
	static struct finding_measure dot = {"inscribed circle", "mm", 0.40, 0.5};
	struct findings findings = {.arena = *state};
	add_measured(&findings, "duplicate-outline", 10, &apart);
	add_measured(&findings, "hole-size", 30, &ring);
	add_measured(&findings, "hole-size", 30, &dot);
	priority_apply(&findings);
	assert_int_equal(findings.count, 2);
	assert_true(findings.items[1].measures == &dot);
}

/* A margin and a thin wall at one edge: equally grave, then each graver than the other. */
static void of_an_edge_margin_and_a_thin_wall_the_graver_stays(void **state)
{
	static struct finding_measure drawn = {"drawn", "mm", 0.50, 1};
	static const struct {
		enum cutlint_severity margin, wall;
		const char *stays;
	} CASES[] = {{CUTLINT_ERROR, CUTLINT_ERROR, "card-margin"},
		     {CUTLINT_ERROR, CUTLINT_WARNING, "card-margin"},
		     {CUTLINT_WARNING, CUTLINT_ERROR, "bridge-width"}};
	for (size_t i = 0; i < 3; i++) {
		struct findings findings = {.arena = *state};
		add_measured(&findings, "card-margin", 10, &drawn)->severity = CASES[i].margin;
		add_measured(&findings, "bridge-width", 10, &drawn)->severity = CASES[i].wall;
		priority_apply(&findings);
		assert_int_equal(findings.count, 1);
		assert_string_equal(findings.items[0].rule, CASES[i].stays);
	}
}

static void a_bridge_of_another_width_is_not_the_wall_at_the_edge(void **state)
{
	static struct finding_measure margin_mm = {"drawn", "mm", 0.50, 1};
	static struct finding_measure bridge_mm = {"drawn", "mm", 0.60, 1};
	struct findings findings = {.arena = *state};
	add_measured(&findings, "card-margin", 10, &margin_mm)->severity = CUTLINT_ERROR;
	add_measured(&findings, "bridge-width", 10, &bridge_mm);
	priority_apply(&findings);
	assert_int_equal(findings.count, 2);
}

/* Silencing a margin must not hide a wall that is too thin all the same. */
static void a_silenced_judgement_of_a_width_hides_no_other(void **state)
{
	static const struct silence silence = {.rule = "card-margin", .reason = "a torn edge"};
	static struct finding_measure drawn = {"drawn", "mm", 0.50, 1};
	struct findings findings = {.arena = *state};
	struct finding *margin = add_measured(&findings, "card-margin", 10, &drawn);
	margin->severity = CUTLINT_ERROR;
	margin->silence = &silence;
	add_measured(&findings, "bridge-width", 10, &drawn);
	priority_apply(&findings);
	assert_int_equal(findings.count, 2);
}

static void a_silenced_duplicate_still_hides_its_slivers(void **state)
{
	static const struct silence silence = {.rule = "duplicate-outline",
					       .reason = "thick stock"};
	struct findings findings = {.arena = *state};
	add(&findings, "bridge-width", "path#a", 10.5);
	add(&findings, "duplicate-outline", "path#a", 10)->silence = &silence;
	priority_apply(&findings);
	assert_int_equal(findings.count, 1);
	assert_string_equal(findings.items[0].rule, "duplicate-outline");
}

/* Under 1 mm², 0.5 mm and 2 mm: a speck, wherever it lies. One figure at its limit is enough. */
static void what_counts_many_stands_for_those_within_all_its_limits(void **state)
{
	static struct finding_measure limits[] = {{"area", "mm²", 0.01, 1},
						  {"inscribed circle", "mm", NAN, 0.5},
						  {"length", "mm", NAN, 2}};
	static struct finding_measure speck[] = {{"inscribed circle", "mm", 0.3, 0.5},
						 {"area", "mm²", 0.1, NAN},
						 {"length", "mm", 0.4, NAN}};
	static struct finding_measure slot[] = {{"inscribed circle", "mm", 0.3, 0.5},
						{"area", "mm²", 0.6, NAN},
						{"length", "mm", 2, NAN}};
	struct findings findings = {.arena = *state};
	struct finding *finding = add(&findings, "speck", "path#a", 10);
	finding->measures = limits;
	finding->measure_count = 3;
	finding = add(&findings, "hole-size", "path#b", 90);
	finding->measures = speck;
	finding->measure_count = 3;
	finding = add(&findings, "hole-size", "path#b", 95);
	finding->measures = slot;
	finding->measure_count = 3;
	add(&findings, "hole-size", "path#b", 97);
	priority_apply(&findings);
	assert_int_equal(findings.count, 3);
	assert_true(findings.items[1].measures == slot);
}

/* The spot of a crossing or of a loose part's bridge is known to PRIORITY_SPOT_MM. */
static void at_a_spot_means_within_a_hundredth_of_a_millimetre(void **state)
{
	static const char *const PAIRS[][2] = {
		{"crossing-cuts", "loose-part"}, {"crossing-cuts", "bridge-width"},
		{"loose-part", "bridge-width"},  {"bridge-width", "weak-hold"},
		{"closed-path", "weak-hold"},    {"crossing-cuts", "fine-tip"}};
	for (size_t i = 0; i < sizeof PAIRS / sizeof PAIRS[0]; i++) {
		for (int beyond = 0; beyond < 2; beyond++) {
			struct findings findings = {.arena = *state};
			add(&findings, PAIRS[i][0], "path#a", 0);
			add(&findings, PAIRS[i][1], "path#a", beyond ? 0.0101 : 0.0099);
			priority_apply(&findings);
			assert_int_equal(findings.count, beyond ? 2 : 1);
			assert_string_equal(findings.items[0].rule, PAIRS[i][0]);
		}
	}
}

static void a_crossing_within_a_millimetre_of_a_duplicate_is_its_end(void **state)
{
	for (int beyond = 0; beyond < 2; beyond++) {
		struct findings findings = {.arena = *state};
		add(&findings, "duplicate-outline", "path#a", 0);
		add(&findings, "crossing-cuts", "path#a", beyond ? 1.001 : 0.999);
		priority_apply(&findings);
		assert_int_equal(findings.count, beyond ? 2 : 1);
	}
}

/* A gap of 0.60 at a line's end, and a bridge near by: drawn as wide, or 0.06 wider, or graver. */
static void a_gap_stands_for_the_bridge_that_it_is_unless_that_is_graver(void **state)
{
	static struct finding_measure gap = {"drawn", "mm", 0.60, 0.15},
				      same = {"drawn", "mm", 0.64, 1},
				      wider = {"drawn", "mm", 0.66, 1};
	static const struct {
		struct finding_measure *bridge;
		double x;
		enum cutlint_severity gap, severity;
		uint32_t left;
	} CASES[] = {{&same, 0.9, CUTLINT_ERROR, CUTLINT_ERROR, 1},
		     {&same, 0.9, CUTLINT_ERROR, CUTLINT_WARNING, 1},
		     {&same, 0.9, CUTLINT_WARNING, CUTLINT_ERROR, 2},
		     {&same, 1.1, CUTLINT_ERROR, CUTLINT_ERROR, 2},
		     {&wider, 0.9, CUTLINT_ERROR, CUTLINT_ERROR, 2}};
	for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
		struct findings findings = {.arena = *state};
		add_measured(&findings, "closed-path", 0, &gap)->severity = CASES[i].gap;
		add_measured(&findings, "bridge-width", CASES[i].x, CASES[i].bridge)->severity =
			CASES[i].severity;
		priority_apply(&findings);
		assert_int_equal(findings.count, CASES[i].left);
	}
}

/* What explains is itself explained: both effects go, whatever the order. */
static void a_cause_that_is_dropped_still_explains(void **state)
{
	struct findings findings = {.arena = *state};
	add(&findings, "bridge-width", "path#a", 0);
	add(&findings, "loose-part", "path#a", 0);
	add(&findings, "crossing-cuts", "path#a", 0);
	priority_apply(&findings);
	assert_int_equal(findings.count, 1);
	assert_string_equal(findings.items[0].rule, "crossing-cuts");
}

/* A star that crosses itself at x 10 has an opening of 2 mm about x 11; one about x 13 is its own.
 */
static void an_opening_comes_of_the_crossing_at_its_corner(void **state)
{
	static struct finding_measure length = {"length", "mm", 2, NAN};
	struct findings findings = {.arena = *state};
	add(&findings, "crossing-cuts", "path#a", 10);
	for (int i = 0; i < 2; i++) {
		add_measured(&findings, "hole-size", 11 + 2 * i, &length);
	}
	priority_apply(&findings);
	assert_int_equal(findings.count, 2);
	assert_true(findings.items[1].place.at.x == 13);
}

static void an_opening_where_two_elements_cross_is_said_too(void **state)
{
	static struct finding_measure length = {"length", "mm", 2, NAN};
	struct finding_place other = {.element = "path#b", .at = {10, 0}, .on_sheet = true};
	struct findings findings = {.arena = *state};
	struct finding *crossing = add(&findings, "crossing-cuts", "path#a", 10);
	crossing->related = &other;
	crossing->related_count = 1;
	add_measured(&findings, "hole-size", 11, &length);
	priority_apply(&findings);
	assert_int_equal(findings.count, 2);
}

static void a_panel_comes_off_by_the_cut_along_its_fold(void **state)
{
	static struct finding_measure scored = {"scored", "mm", 148, NAN};
	struct findings findings = {.arena = *state};
	add_measured(&findings, "duplicate-outline", 10, &scored);
	add(&findings, "duplicate-outline", "path#b", 10);
	add(&findings, "loose-part", "path#a", 70);
	add(&findings, "loose-part", "path#b", 70);
	priority_apply(&findings);
	assert_int_equal(findings.count, 3);
	assert_string_equal(findings.items[2].place.element, "path#b");
}

static void of_a_cut_and_lettering_at_one_edge_the_graver_stays(void **state)
{
	static struct finding_measure drawn = {"drawn", "mm", 2.95, 3};
	for (int grave = 0; grave < 2; grave++) {
		struct findings findings = {.arena = *state};
		add_measured(&findings, "card-margin", 10, &drawn)->severity =
			grave ? CUTLINT_ERROR : CUTLINT_WARNING;
		add_measured(&findings, "name-fit", 10, &drawn)->severity = CUTLINT_WARNING;
		priority_apply(&findings);
		assert_int_equal(findings.count, 1);
		assert_string_equal(findings.items[0].rule, grave ? "card-margin" : "name-fit");
	}
}

/* Of two things that lettering does wrong the fold's rule says only the one at the fold. */
static void a_cut_near_the_fold_is_said_by_the_folds_rule(void **state)
{
	static struct finding_measure fold = {"from the fold", "mm", 2, 3};
	static struct finding_measure wide = {"wide", "mm", 70, 60};
	struct findings findings = {.arena = *state};
	add(&findings, "fold-clearance", "path#a", 10);
	add_measured(&findings, "name-fit", 20, &fold);
	add_measured(&findings, "name-fit", 10, &wide);
	priority_apply(&findings);
	assert_int_equal(findings.count, 2);
	assert_true(findings.items[1].measures == &wide);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		FRESH(of_a_cut_and_lettering_at_one_edge_the_graver_stays),
		FRESH(a_cut_near_the_fold_is_said_by_the_folds_rule),
		FRESH(a_duplicate_hides_the_sliver_at_its_place),
		FRESH(a_bridge_elsewhere_or_of_another_element_stays),
		FRESH(the_other_line_of_a_duplicate_counts_too),
		FRESH(the_sliver_between_traced_edges_is_theirs_wherever_it_is_found),
		FRESH(of_an_edge_margin_and_a_thin_wall_the_graver_stays),
		FRESH(a_bridge_of_another_width_is_not_the_wall_at_the_edge),
		FRESH(a_silenced_judgement_of_a_width_hides_no_other),
		FRESH(a_silenced_duplicate_still_hides_its_slivers),
		FRESH(what_counts_many_stands_for_those_within_all_its_limits),
		FRESH(at_a_spot_means_within_a_hundredth_of_a_millimetre),
		FRESH(a_crossing_within_a_millimetre_of_a_duplicate_is_its_end),
		FRESH(a_gap_stands_for_the_bridge_that_it_is_unless_that_is_graver),
		FRESH(a_cause_that_is_dropped_still_explains),
		FRESH(an_opening_comes_of_the_crossing_at_its_corner),
		FRESH(an_opening_where_two_elements_cross_is_said_too),
		FRESH(a_panel_comes_off_by_the_cut_along_its_fold),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
