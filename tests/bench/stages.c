/*
 * stages FILE - CPU seconds of the stages of a check but the rules': the reading, then what each
 * further need of the rules adds to the sheet. All in one process, one after the other.
 */
#include <stdio.h>
#include <time.h>

#include "cutlint/rule.h"
#include "job/job.h"
#include "job/roles.h"
#include "sheet/build.h"
#include "svg/load.h"

/* The rule hole-size asks for exact figures up to this by default. */
#define HOLE_LIMIT_MM 0.2

static const struct stage {
	const char *name;
	uint32_t need;
} STAGES[] = {
	{"cards and doubled lines", CUTLINT_NEEDS_CARDS},
	{"traced strokes", CUTLINT_NEEDS_OVERLAPS},
	{"ends", CUTLINT_NEEDS_ENDS},
	{"faces and holes", CUTLINT_NEEDS_HOLES},
	{"parts and necks", CUTLINT_NEEDS_NECKS},
	{"crossings", CUTLINT_NEEDS_CROSSINGS},
	{"tips", CUTLINT_NEEDS_TIPS},
};

static double seconds(void)
{
	return (double)clock() / CLOCKS_PER_SEC;
}

/* NULL, with what was wrong on stderr. */
static struct cutlint_design *read_drawing(struct arena *arena, const char *path, struct job **job)
{
	struct notices notices = {.arena = arena};
	struct cutlint_design *design = NULL;
	if (job_load(arena, NULL, &notices, job) == 0) {
		const struct svg_options options = {.flatness_mm = (*job)->facts.flatness_mm};
		if (svg_load(arena, path, path, &options, &notices, &design) != 0 ||
		    job_assign_roles(*job, design, &notices) != 0)
			design = NULL;
	}
	if (!design)
		fprintf(stderr, "stages: cannot read '%s'\n", path);
	return design;
}

/* CPU seconds to build a sheet with these needs; below 0 where memory ran out. */
static double build(const struct cutlint_design *design, const struct cutlint_job *facts,
		    uint32_t needs)
{
	struct arena *arena = arena_create();
	double start = seconds();
	const struct sheet_question question = {.needs = needs, .hole_limit_mm = HOLE_LIMIT_MM};
	uint32_t crowded;
	bool built = arena && sheet_build(arena, design, facts, &question, &crowded);
	double spent = seconds() - start;
	arena_destroy(arena);
	return built ? spent : -1;
}

static int print_stages(const struct cutlint_design *design, const struct cutlint_job *facts)
{
	uint32_t needs = 0;
	double before = 0;
	for (size_t i = 0; i < sizeof(STAGES) / sizeof(*STAGES); i++) {
		needs |= STAGES[i].need;
		double spent = build(design, facts, needs);
		if (spent < 0)
			return 1;
		double more = spent - before;
		printf(", %s %.3f s", STAGES[i].name, more > 0 ? more : 0);
		before = spent;
	}
	printf("\n");
	return 0;
}

int main(int argc, char **argv)
{
	if (argc != 2) {
		fprintf(stderr, "usage: stages FILE\n");
		return 2;
	}
	struct arena *arena = arena_create();
	struct job *job = NULL;
	double start = seconds();
	struct cutlint_design *design = arena ? read_drawing(arena, argv[1], &job) : NULL;
	int status = 1;
	if (design) {
		printf("reading %.3f s", seconds() - start);
		status = print_stages(design, &job->facts);
	}
	if (job)
		job_finish(job);
	arena_destroy(arena);
	return status;
}
