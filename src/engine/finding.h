/* finding.h - what was found: by rules, by the readers of drawing and job, about modules. */
#ifndef ENGINE_FINDING_H
#define ENGINE_FINDING_H

#include <stdbool.h>

#include "base/arena.h"
#include "base/source.h"
#include "cutlint/rule.h"

struct finding_place {
	const char *file;
	uint32_t line, column; /* 0: no line */
	uint32_t byte, length;
	const char *element; /* its name for people, NULL for none */
	uint32_t index;      /* of the element in the design; 0, the root, for the whole file */
	struct cutlint_xy at;
	bool on_sheet;
	bool in_job;      /* it stands in the job file */
	const char *text; /* of a related place: what it is */
};

struct finding_measure {
	const char *what, *unit;
	double value, limit;
};

/* What a picture of the finding shows to scale, as drawn. */
enum figure_kind { FIGURE_SPAN, FIGURE_CIRCLE, FIGURE_WAY, FIGURE_OUTLINE, FIGURE_SHAPE };

struct finding_figure {
	enum figure_kind kind;
	struct cutlint_xy from, to; /* of a span; a circle's centre; corners of the others' box */
	double diameter_mm;         /* of a circle; else 0 */
	double length_mm;           /* of a span, a way and an outline; else 0 */
	uint32_t outline;           /* one of the drawing's */
	const struct cutlint_xy *points; /* of a way and a shape: a chain */
	uint32_t point_count;
	const char *label; /* of a shape; may be NULL */
};

/* One edit of the drawing's text; length 0 inserts. */
struct finding_edit {
	uint32_t byte, length;
	const char *text;
};

/* What silences findings, and why. */
struct silence {
	const char *rule;
	const char *reason;         /* never empty */
	struct finding_place place; /* an attribute of the drawing, or a section of the job */
};

struct finding {
	const char *rule; /* the rule, or the reader's code: "path-data" */
	enum cutlint_severity severity;
	const char *message;
	const char *suggestion; /* NULL without one */
	struct finding_place place;
	struct finding_place *related;
	struct finding_measure *measures;
	struct finding_figure *figures;
	struct finding_edit *edits; /* made together */
	uint32_t related_count, measure_count, figure_count, edit_count;
	const char *job; /* the jobs with which it is found, if not with all that are tried */
	const struct silence *silence; /* NULL: it counts; else it is kept, but for reports only */
};

/* A list of findings; start from {.arena = ...}. */
struct findings {
	struct arena *arena;
	struct finding *items;
	uint32_t count, capacity;
	bool failed; /* memory ran out */
};

/* A zeroed one at the list's end. NULL where memory ran out. */
struct finding *findings_add(struct findings *findings);

/*
 * Adds one that is cutlint's own, with its message formatted and its place copied. NULL where
 * memory ran out.
 */
struct finding *findings_say(struct findings *findings, const char *code,
			     enum cutlint_severity severity, const struct finding_place *place,
			     const char *format, ...) CUTLINT_PRINTF(5, 6);

/* Sets the suggestion of a finding in the list. Takes NULL for it. */
void findings_suggest(struct findings *findings, struct finding *finding, const char *format, ...)
	CUTLINT_PRINTF(3, 4);

/*
 * Sorts by file as given, what rules say of the job file last, then byte, rule, message: the same
 * bytes for every run.
 */
void findings_sort(struct findings *findings);

/* "note", "warning", "error". */
const char *severity_word(enum cutlint_severity severity);

#endif
