#include "engine/coverage.h"

#include "engine/place.h"

static const char *const UNBURNED_WORDS[CUTLINT_UNBURNED_OTHER + 1] = {
	[CUTLINT_UNBURNED_DISPLAY] = "with display none",
	[CUTLINT_UNBURNED_VISIBILITY] = "with visibility hidden",
	[CUTLINT_UNBURNED_OPACITY] = "with opacity 0",
	[CUTLINT_UNBURNED_PAINT] = "without fill and stroke",
	[CUTLINT_UNBURNED_TEXT] = "text",
	[CUTLINT_UNBURNED_IMAGE] = "raster pictures",
	[CUTLINT_UNBURNED_OTHER] = "without an outline",
};

struct coverage coverage_count(const struct cutlint_design *design)
{
	struct coverage coverage = {.first_unnamed = CUTLINT_NONE, .first_dashed = CUTLINT_NONE};
	for (uint32_t i = 0; i < design->shape_count; i++) {
		const struct cutlint_shape *shape = &design->shapes[i];
		if (!cutlint_role_burned(shape->role)) {
			coverage.reference[shape->role]++;
			continue;
		}
		if (shape->unburned != CUTLINT_BURNED) {
			coverage.unburned[shape->unburned]++;
			continue;
		}
		if (!shape->outline_count)
			continue;
		coverage.burned++;
		if (shape->dashed && shape->stroke.kind != CUTLINT_PAINT_NONE &&
		    cutlint_role_cuts(shape->role) && coverage.dashed++ == 0)
			coverage.first_dashed = i;
		if (shape->role == CUTLINT_ROLE_ART && !shape->role_named) {
			if (coverage.unnamed++ == 0)
				coverage.first_unnamed = i;
		}
	}
	return coverage;
}

static void add_count(struct text *text, uint32_t count, const char *how, const char *word)
{
	if (count)
		text_format(text, "%s%u %s%s", text->length ? ", " : "", count, how, word);
}

void coverage_add_left_out(struct text *text, const struct coverage *coverage)
{
	struct text list = {0};
	for (int i = CUTLINT_UNBURNED_DISPLAY; i <= CUTLINT_UNBURNED_OTHER; i++)
		add_count(&list, coverage->unburned[i], "", UNBURNED_WORDS[i]);
	for (int i = 0; i < CUTLINT_ROLE_COUNT; i++)
		add_count(&list, coverage->reference[i], "with the role ",
			  cutlint_role_word((enum cutlint_role)i));
	if (list.length)
		text_add(text, list.bytes, list.length);
	text->failed = text->failed || list.failed;
	text_finish(&list);
}

static void report_nothing(const struct coverage *coverage, const struct cutlint_design *design,
			   struct findings *findings)
{
	struct cutlint_place root = cutlint_place_design(design);
	struct finding_place place = place_for(findings, design, &root);
	struct text left_out = {0};
	coverage_add_left_out(&left_out, coverage);
	findings->failed = findings->failed || left_out.failed;
	struct finding *finding;
	if (left_out.length) {
		finding = findings_say(findings, "nothing-to-burn", CUTLINT_ERROR, &place,
				       "nothing to burn: all shapes are left out (%s)",
				       left_out.bytes);
		findings_suggest(findings, finding,
				 "give what is to be burned a visible fill or stroke and a role "
				 "that is burned, and turn text into paths");
	} else {
		finding = findings_say(findings, "nothing-to-burn", CUTLINT_ERROR, &place,
				       "nothing to burn: the drawing has no lines");
		findings_suggest(findings, finding, "draw the lines that are to be burned");
	}
	text_finish(&left_out);
}

static struct finding_place shape_place(struct findings *findings,
					const struct cutlint_design *design, uint32_t shape)
{
	struct cutlint_place place = cutlint_place_element(design->shapes[shape].element);
	return place_for(findings, design, &place);
}

static void report_unnamed(const struct coverage *coverage, const struct cutlint_design *design,
			   struct findings *findings)
{
	struct finding_place place = shape_place(findings, design, coverage->first_unnamed);
	struct finding *finding =
		findings_say(findings, "unnamed-art", CUTLINT_NOTE, &place,
			     "%u %s burned as art that no pattern of the job names, from here on",
			     coverage->unnamed, coverage->unnamed == 1 ? "shape is" : "shapes are");
	findings_suggest(findings, finding,
			 "name a role for them in the job's [roles] section, such as art, guide "
			 "or skip");
}

static void report_dashed(const struct coverage *coverage, const struct cutlint_design *design,
			  struct findings *findings)
{
	struct finding_place place = shape_place(findings, design, coverage->first_dashed);
	struct finding *finding =
		findings_say(findings, "dashes", CUTLINT_WARNING, &place,
			     "%u dashed %s burned as if solid, from here on", coverage->dashed,
			     coverage->dashed == 1 ? "line is" : "lines are");
	findings_suggest(findings, finding,
			 "draw each dash as a line of its own, or name the line as a fold in the "
			 "job's [roles] section if it is a score");
}

void coverage_report(const struct coverage *coverage, const struct cutlint_design *design,
		     const struct cutlint_job *job, struct findings *findings)
{
	if (!coverage->burned)
		report_nothing(coverage, design, findings);
	if (job->art_named && coverage->unnamed)
		report_unnamed(coverage, design, findings);
	if (coverage->dashed)
		report_dashed(coverage, design, findings);
}
