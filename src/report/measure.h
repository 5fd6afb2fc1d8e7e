/* measure.h - the figures of every outline, and their totals by role. */
#ifndef REPORT_MEASURE_H
#define REPORT_MEASURE_H

#include "base/arena.h"
#include "base/text.h"
#include "cutlint/model.h"
#include "svg/load.h"

struct measured_outline {
	uint32_t line, column;
	const char *element; /* its name for people */
	const char *id;      /* NULL without one */
	enum cutlint_role role;
	bool closed;
	double length_mm;
	double area_mm2; /* without sign; 0 for an open outline */
	struct cutlint_box box;
};

struct measured_total {
	uint32_t outline_count, closed_count;
	double length_mm, area_mm2; /* area: the sum of the closed outlines', overlaps twice */
};

struct measures {
	const struct cutlint_design *design;
	struct measured_outline *outlines;
	uint32_t count;
	struct measured_total totals[CUTLINT_ROLE_COUNT];
	uint32_t unburned[CUTLINT_UNBURNED_OTHER + 1]; /* shapes that are not burned, by reason */
	uint32_t clipped, dashed;                      /* burned, though seen otherwise */
	const struct svg_report *reading; /* what the reader said, by kind; shapes in templates */
};

/* Returns 0, or -1 where memory ran out. The figures live in the arena. */
int measure_design(struct measures *out, struct arena *arena, const struct cutlint_design *design,
		   const struct svg_report *reading);

/* A word for why a shape is not burned: "display". */
const char *measure_reason(enum cutlint_unburned reason);

/* "error", "warning" or "note". */
const char *measure_level(enum notice_level level);

/* Adds a table for people. */
void measure_add_text(struct text *out, const struct measures *measures);

/* Adds one JSON object; its fields are documented in docs/output.md. Returns 0 or -1. */
int measure_add_json(struct text *out, const struct measures *measures);

#endif
