/* memory.c - where memory runs out there is no log, rather than one that lacks something. */
#include <jansson.h>
#include <string.h>

#include "base/arena.h"
#include "failing.h"
#include "report/sarif.h"
#include "svg/load.h"
#include "unit.h"

static const char DRAWING[] = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" "
			      "height=\"9mm\"><path d=\"M0 0h5v5z\"/></svg>";

static const struct cutlint_option OPTIONS[] = {
	{"least", CUTLINT_OPTION_LENGTH, 0, "1 mm", 0, 9, NULL, false, "the least"},
	{.name = NULL},
};

static const struct cutlint_rule RULE = {.name = "some-rule",
					 .summary = "something",
					 .advice = "change it",
					 .severity = CUTLINT_ERROR,
					 .options = OPTIONS,
					 .options_size = sizeof(double)};

struct scene {
	struct arena *arena;
	struct cutlint_design *design;
	struct svg_report report;
	struct source job;
	struct finding items[3];
	struct findings findings;
};

static struct finding_place RELATED = {.file = "a.svg", .index = 1, .text = "the other"};
static struct finding_measure MEASURE = {.what = "width", .unit = "mm", .value = 1, .limit = 2};
static struct finding_edit EDIT = {.byte = 5, .length = 2, .text = "z"};
static const struct silence SILENCE = {
	.rule = "some-rule", .reason = "as it should be", .place = {.file = "a.svg", .length = 4}};

static void set_scene(struct scene *scene)
{
	struct notices notices = {.arena = scene->arena};
	struct svg_options options = {.report = &scene->report};
	assert_int_equal(svg_load_bytes(scene->arena, DRAWING, sizeof(DRAWING) - 1, "a.svg",
					&options, &notices, &scene->design),
			 0);
	source_index(&scene->job, scene->arena, "shop.job", "[burn]\n", 7);
	scene->items[0] = (struct finding){.rule = "some-rule",
					   .message = "thin",
					   .suggestion = "widen it",
					   .place = {.file = "a.svg", .index = 1, .on_sheet = true},
					   .related = &RELATED,
					   .measures = &MEASURE,
					   .edits = &EDIT,
					   .related_count = 1,
					   .measure_count = 1,
					   .edit_count = 1};
	scene->items[1] = (struct finding){.rule = "xml-syntax",
					   .message = "broken",
					   .place = {.file = "a.svg", .byte = 3, .length = 3},
					   .silence = &SILENCE};
	scene->items[2] = (struct finding){.rule = "some-rule",
					   .message = "hot",
					   .place = {.file = "shop.job", .in_job = true}};
	scene->findings = (struct findings){.items = scene->items, .count = 3};
}

/* Returns the log, or NULL where there is none. */
static char *write_log(const struct scene *scene)
{
	struct module module = {.file = "some-rule.so", .rule = &RULE};
	struct registry registry = {.modules = &module, .count = 1};
	struct text text = {0};
	struct sarif_input input = {.drawing = &scene->report.source,
				    .job = &scene->job,
				    .design = scene->design,
				    .findings = &scene->findings};
	struct sarif *sarif = sarif_create("1");
	int result = sarif ? 0 : -1;
	if (sarif) {
		sarif_add_rules(sarif, &registry);
		sarif_add_drawing(sarif, &input);
		sarif_add_drawing(sarif, &input);
		sarif_add_error(sarif, "something failed");
		result = sarif_add_log(&text, sarif, 2);
	}
	sarif_destroy(sarif);
	if (result == 0)
		return text.bytes;
	text_finish(&text);
	return NULL;
}

/* The logs are longer than cmocka would show. */
static void assert_whole(const char *log, const char *whole, long allowed)
{
	size_t same = 0;
	while (log[same] && log[same] == whole[same])
		same++;
	if (log[same] != whole[same])
		fail_msg("allocation %ld failed, and the log has '%.40s' for '%.40s'", allowed,
			 log + same, whole + same);
}

/* The linker sends the project's own allocations to failing.h, jansson is told to. */
static void run_out_everywhere(bool once)
{
	struct scene scene = {.arena = arena_create()};
	set_scene(&scene);
	char *whole = write_log(&scene);
	assert_non_null(whole);
	for (long allowed = 0;; allowed++) {
		assert_true(allowed < 100000);
		failing_start(allowed, once);
		char *log = write_log(&scene);
		bool failed = failing_stop();
		/* A library may get over a failure. */
		if (log)
			assert_whole(log, whole, allowed);
		free(log);
		if (!failed)
			break;
	}
	free(whole);
	arena_destroy(scene.arena);
}

static void memory_that_has_run_out_gives_no_log(void **state)
{
	(void)state;
	run_out_everywhere(false);
}

static void one_allocation_that_fails_gives_no_log(void **state)
{
	(void)state;
	run_out_everywhere(true);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(memory_that_has_run_out_gives_no_log),
		cmocka_unit_test(one_allocation_that_fails_gives_no_log),
	};
	json_set_alloc_funcs(malloc, free);
	return cmocka_run_group_tests(tests, NULL, NULL);
}
