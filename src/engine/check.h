/* check.h - one drawing, from its file to its findings. */
#ifndef ENGINE_CHECK_H
#define ENGINE_CHECK_H

#include "base/progress.h"
#include "engine/configure.h"
#include "engine/coverage.h"
#include "engine/finding.h"
#include "engine/trouble.h"
#include "sheet/picture.h"
#include "svg/load.h"

struct check_options {
	double rule_limit_s;             /* the longest that one rule may take; 0: without end */
	bool isolated;                   /* rules run in a process of their own */
	struct svg_limits limits;        /* of the reader */
	bool pictured;                   /* the result holds what a picture shows */
	const struct progress *progress; /* NULL: nobody wants to hear of it */
};

/* Start from {.findings.arena = ..., .troubles.arena = ...}. */
struct check_result {
	struct findings findings; /* sorted */
	struct troubles troubles; /* any: the drawing was not checked, or not by all rules */
	bool usable;              /* the drawing could be read: `coverage` is set */
	struct coverage coverage;
	double flatness_mm;
	struct svg_report reading; /* the text, and how many notices of each kind */
	bool unreadable;           /* the reader could not use the drawing: its findings say why */
	const struct cutlint_design *design; /* NULL where the drawing can't be used */
	const struct cutlint_sheet *sheet;   /* NULL where memory ran out; so for the design */
	struct sheet_picture picture;        /* set with the sheet, if it was asked for */
	bool *met; /* a flag for each stretch of files of the setup: its rule has a finding */
};

/*
 * The first half of check_drawing: reads a drawing and gives its shapes their roles. NULL where it
 * can't be used.
 */
struct cutlint_design *check_read(struct arena *arena, const char *path, const char *name,
				  const struct setup *setup, const struct svg_limits *limits,
				  struct check_result *result);

/*
 * Reads a drawing ("-" is standard input; `name` is shown to people), gives its shapes their roles,
 * computes what the rules in force need, runs them, and sorts what was found. All that the result
 * points to lives in `arena`.
 */
void check_drawing(struct arena *arena, const char *path, const char *name,
		   const struct setup *setup, const struct check_options *options,
		   struct check_result *result);

/* Adds the notices of a reader as findings; what could not be read at all becomes a trouble. */
void check_take_notices(const struct notices *notices, const struct source *source,
			const char *file, struct findings *findings, struct troubles *troubles);

/* Whether the command could not check: exit status 2. */
bool check_failed(const struct check_result *result);

#endif
