/* text.c - one finding, one trouble, one line. */
#include <string.h>

#include "report/report.h"

/* ECMA-48, select graphic rendition. */
#define BOLD  "\x1b[1m"
#define RESET "\x1b[0m"

static const char *const SEVERITY_COLOURS[CUTLINT_ERROR + 1] = {
	[CUTLINT_NOTE] = "\x1b[1;36m",
	[CUTLINT_WARNING] = "\x1b[1;33m",
	[CUTLINT_ERROR] = "\x1b[1;31m",
};

static void add_severity(struct text *out, enum cutlint_severity severity, bool colour)
{
	if (colour)
		text_add_string(out, SEVERITY_COLOURS[severity]);
	text_format(out, "%s:", severity_word(severity));
	if (colour)
		text_add_string(out, RESET);
	text_add_string(out, " ");
}

static void add_place(struct text *out, const char *file, uint32_t line, uint32_t column,
		      bool colour)
{
	if (colour)
		text_add_string(out, BOLD);
	text_add_escaped(out, file ? file : "cutlint");
	if (file && line)
		text_format(out, ":%u:%u", line, column);
	text_add_string(out, ":");
	if (colour)
		text_add_string(out, RESET);
	text_add_string(out, " ");
}

static void add_element(struct text *out, const struct finding_place *place, const char *message)
{
	if (place->element && !strstr(message, place->element))
		text_format(out, " (%s)", place->element);
}

static void add_suggestion(struct text *out, const char *suggestion)
{
	if (!suggestion)
		return;
	text_add_string(out, "  suggestion: ");
	text_add_escaped(out, suggestion);
	text_add_string(out, "\n");
}

static void add_related(struct text *out, const struct finding_place *place, bool colour)
{
	const char *what = place->text ? place->text : "see also";
	add_place(out, place->file, place->line, place->column, colour);
	add_severity(out, CUTLINT_NOTE, colour);
	text_add_escaped(out, what);
	add_element(out, place, what);
	text_add_string(out, "\n");
}

static void add_finding(struct text *out, const struct finding *finding, bool colour)
{
	const struct finding_place *place = &finding->place;
	add_place(out, place->file, place->line, place->column, colour);
	add_severity(out, finding->severity, colour);
	text_add_escaped(out, finding->message);
	if (finding->job) {
		text_add_string(out, "; with ");
		text_add_escaped(out, finding->job);
	}
	add_element(out, place, finding->message);
	text_format(out, " [%s]\n", finding->rule);
	add_suggestion(out, finding->suggestion);
	for (uint32_t i = 0; i < finding->related_count; i++)
		add_related(out, &finding->related[i], colour);
}

void report_findings(struct text *out, const struct findings *findings, bool colour)
{
	for (uint32_t i = 0; i < findings->count; i++) {
		if (!findings->items[i].silence)
			add_finding(out, &findings->items[i], colour);
	}
}

void report_troubles(struct text *out, const struct troubles *troubles, bool colour)
{
	for (uint32_t i = 0; i < troubles->count; i++) {
		const struct trouble *trouble = &troubles->items[i];
		add_place(out, trouble->file, trouble->line, trouble->column, colour);
		add_severity(out, CUTLINT_ERROR, colour);
		text_add_escaped(out, trouble->message);
		text_add_string(out, "\n");
		add_suggestion(out, trouble->suggestion);
	}
	if (troubles->failed)
		report_own(out, CUTLINT_ERROR, "out of memory", colour);
}

void report_own(struct text *out, enum cutlint_severity severity, const char *message, bool colour)
{
	add_place(out, NULL, 0, 0, colour);
	add_severity(out, severity, colour);
	text_add_escaped(out, message);
	text_add_string(out, "\n");
}
