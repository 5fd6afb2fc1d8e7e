#include "engine/check.h"

#include <string.h>

#include "engine/isolate.h"
#include "engine/place.h"
#include "engine/priority.h"
#include "engine/reference.h"
#include "engine/silence.h"
#include "job/lettering.h"
#include "job/roles.h"
#include "model/private.h"
#include "sheet/build.h"
#include "svg/say.h"

static enum cutlint_severity severity_of(enum notice_level level)
{
	switch (level) {
	case NOTICE_NOTE:
		return CUTLINT_NOTE;
	case NOTICE_WARNING:
		return CUTLINT_WARNING;
	case NOTICE_ERROR:
	case NOTICE_FATAL:
		break;
	}
	return CUTLINT_ERROR;
}

static void take_notice(const struct notice *notice, const struct source *source, const char *file,
			struct findings *findings)
{
	struct finding *finding = findings_add(findings);
	if (!finding)
		return;
	struct source_position position = source_position(source, notice->byte);
	*finding = (struct finding){.rule = notice->code,
				    .severity = severity_of(notice->level),
				    .message = notice->message,
				    .suggestion = notice->suggestion,
				    .place = {.file = file,
					      .line = position.line,
					      .column = position.column,
					      .byte = notice->byte,
					      .length = notice->length}};
	if (place_set_element(&finding->place, findings->arena, notice->element) < 0)
		findings->failed = true;
}

void check_take_notices(const struct notices *notices, const struct source *source,
			const char *file, struct findings *findings, struct troubles *troubles)
{
	for (uint32_t i = 0; i < notices->count; i++) {
		const struct notice *notice = &notices->items[i];
		if (!source->lines || strcmp(notice->code, NOTICE_UNREADABLE) == 0)
			trouble_add_notice(troubles, source, notice);
		else
			take_notice(notice, source, file, findings);
	}
	if (notices->fatal_count && !notices->count)
		troubles->failed = true;
}

/* Reads the file's bytes and builds the design. Returns NULL where the file can't be used. */
static struct cutlint_design *load(struct arena *arena, const char *path, const char *name,
				   const struct setup *setup, const struct svg_limits *limits,
				   struct notices *notices, struct check_result *result)
{
	struct cutlint_design *design = NULL;
	struct svg_options options = {.flatness_mm = setup->flatness_mm,
				      .unit_mm = setup->job->unit_mm,
				      .limits = *limits,
				      .report = &result->reading};
	int loaded = svg_load(arena, path, name, &options, notices, &design);
	result->unreadable = loaded < 0;
	return loaded < 0 ? NULL : design;
}

static int assign_roles(struct arena *arena, const struct setup *setup,
			struct cutlint_design *design, struct check_result *result)
{
	struct notices notices = {.arena = arena};
	int assigned = job_assign_roles(setup->job, design, &notices);
	if (assigned == 0)
		assigned = job_mark_lettering(setup->job, design, &notices);
	check_take_notices(&notices, &setup->job->source, setup->job->source.name,
			   &result->findings, &result->troubles);
	if (assigned < 0)
		result->unreadable = true;
	return assigned;
}

struct cutlint_design *check_read(struct arena *arena, const char *path, const char *name,
				  const struct setup *setup, const struct svg_limits *limits,
				  struct check_result *result)
{
	struct notices notices = {.arena = arena};
	struct cutlint_design *design = load(arena, path, name, setup, limits, &notices, result);
	if (design && assign_roles(arena, setup, design, result) < 0)
		design = NULL;
	if (design && reference_leave_out(&notices, design) < 0)
		result->troubles.failed = true;
	check_take_notices(&notices, &result->reading.source, name, &result->findings,
			   &result->troubles);
	return design;
}

/* What every picture shows, whatever the rules in force need. */
static const uint32_t PICTURE_NEEDS = CUTLINT_NEEDS_CARDS | CUTLINT_NEEDS_NECKS;

static void say_crowded(const struct check_options *options, const struct cutlint_design *design,
			uint32_t outline, struct check_result *result)
{
	const struct cutlint_shape *shape = &design->shapes[design->outlines[outline].shape];
	struct notices notices = {.arena = result->findings.arena};
	struct svg_say say = {.notices = &notices, .limits = &options->limits};
	svg_say_limit(&say, SVG_LIMIT_CROSSINGS, shape->element, svg_tag_span(shape->element),
		      "lines cross each other in too many places");
	check_take_notices(&notices, &result->reading.source, design->file, &result->findings,
			   &result->troubles);
	result->unreadable = true;
}

/* NULL where there is none, which is said. */
static struct cutlint_sheet *build_sheet(struct arena *arena, const struct setup *setup,
					 const struct check_options *options,
					 const struct cutlint_design *design,
					 struct check_result *result)
{
	const struct sheet_question question = {
		.needs = setup->needs | (options->pictured ? PICTURE_NEEDS : 0),
		.neck_limit_mm = setup->neck_limit_mm,
		.hole_limit_mm = setup->hole_limit_mm,
		.most_crossings = svg_limit_of(&options->limits, SVG_LIMIT_CROSSINGS),
		.picture = options->pictured ? &result->picture : NULL};
	uint32_t crowded;
	struct cutlint_sheet *sheet =
		sheet_build(arena, design, &setup->job->facts, &question, &crowded);
	if (crowded != CUTLINT_NONE)
		say_crowded(options, design, crowded, result);
	else if (!sheet)
		trouble_add(&result->troubles, "cannot check '%s': out of memory", design->file);
	return sheet;
}

static void run_rules(struct arena *arena, const struct setup *setup,
		      const struct check_options *options, const struct cutlint_design *design,
		      struct check_result *result)
{
	progress_tell(options->progress, "working out the sheet", NULL, 0, 0);
	struct cutlint_sheet *sheet = build_sheet(arena, setup, options, design, result);
	if (!sheet)
		return;
	result->sheet = sheet;
	struct rules_run run = {.setup = setup,
				.arena = arena,
				.design = design,
				.sheet = sheet,
				.findings = &result->findings,
				.troubles = &result->troubles,
				.limit_s = options->rule_limit_s,
				.progress = options->progress};
	if (options->isolated)
		isolate_run(&run);
	else
		isolate_run_here(&run);
}

/*
 * Silences come before the order of causes, so that one whose finding another explains has been of
 * use; what rules left undone can't be told from what there is not.
 */
static void finish(struct arena *arena, const struct setup *setup,
		   const struct cutlint_design *design, struct check_result *result)
{
	struct silences silences = {.arena = arena, .design = design};
	if (design) {
		silences_read(&silences, &result->findings);
		silences_apply(&silences, &result->findings);
	}
	result->met = ARENA_ARRAY(arena, bool, setup->stretch_count);
	if (result->met)
		silences_apply_stretches(setup, &result->findings, result->met);
	else
		result->findings.failed = true;
	priority_apply(&result->findings);
	if (!troubles_any(&result->troubles))
		silences_report_unused(&silences, setup, &result->findings);
}

void check_drawing(struct arena *arena, const char *path, const char *name,
		   const struct setup *setup, const struct check_options *options,
		   struct check_result *result)
{
	progress_tell(options->progress, "reading", NULL, 0, 0);
	const struct cutlint_design *design =
		check_read(arena, path, name, setup, &options->limits, result);
	if (design) {
		result->usable = true;
		result->design = design;
		result->flatness_mm = design->flatness_mm;
		result->coverage = coverage_count(design);
		coverage_report(&result->coverage, design, &setup->job->facts, &result->findings);
		run_rules(arena, setup, options, design, result);
	}
	finish(arena, setup, design, result);
	findings_sort(&result->findings);
}

bool check_failed(const struct check_result *result)
{
	return result->unreadable || result->findings.failed || troubles_any(&result->troubles);
}
