/* isolate.h - rules at work in a process of their own, so that a bad one costs only itself. */
#ifndef ENGINE_ISOLATE_H
#define ENGINE_ISOLATE_H

#include "base/progress.h"
#include "engine/configure.h"
#include "engine/finding.h"
#include "engine/trouble.h"

/* All rules in force on one design. */
struct rules_run {
	const struct setup *setup;
	struct arena *arena;
	const struct cutlint_design *design;
	const struct cutlint_sheet *sheet;
	struct findings *findings;       /* where the findings go */
	struct troubles *troubles;       /* where failures go */
	double limit_s;                  /* the longest that one rule may take; 0: without end */
	const struct progress *progress; /* may be NULL */
};

/*
 * Runs the rules in one forked process, which sends the findings of a rule when it is done. A rule
 * that crashes, ends the process, runs past the limit or sends rubbish loses its own findings and
 * becomes a trouble; another process does the rules behind it. The process has no standard input
 * and its standard output leads nowhere.
 */
void isolate_run(const struct rules_run *run);

/* Runs the rules in this very process, for debuggers: there is no limit and no protection. */
void isolate_run_here(const struct rules_run *run);

#endif
