/* starter.h - a job file to begin with, for one format and one stock. */
#ifndef JOB_STARTER_H
#define JOB_STARTER_H

#include "base/text.h"
#include "cutlint/job.h"
#include "job/stock.h"

struct starter {
	const char *format;         /* as the job writes it: "ISO A6", "105 mm x 148 mm" */
	double width_mm, height_mm; /* folded, portrait as the format has it */
	const char *envelope;       /* NULL: none is known for it */
	struct stock stock;
	enum cutlint_spine spine;
	enum cutlint_side side;
	double kerf_mm;
	double power_w; /* 0: not known; then the recipes are left to be filled in */
};

/*
 * The one of the named formats that `text` means ("A5" is "ISO A5"), or two lengths. Returns 0, or
 * -1 with a reason that lists near names.
 */
int starter_set_format(struct starter *starter, const char *text, struct value_error *error);

/* The open card: twice the folded one, side by side along the spine. */
void starter_flat(const struct starter *starter, double *width_mm, double *height_mm);

/*
 * Adds the job file's text. Lines that begin with `#` and no space are keys that are left out; the
 * rest of the comments explain.
 */
void starter_write(struct text *out, const struct starter *starter);

/* Adds one line a named format: its name, folded and open measures, and its envelope. */
void starter_list_formats(struct text *out);

/* Adds one line a named stock: its name, grammage and caliper. */
void starter_list_stocks(struct text *out);

#endif
