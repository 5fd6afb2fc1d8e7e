/* rule_check.h - one rule at work on one design: what stands behind include/cutlint/rule.h. */
#ifndef ENGINE_RULE_CHECK_H
#define ENGINE_RULE_CHECK_H

#include "base/arena.h"
#include "engine/configure.h"
#include "engine/edit.h"
#include "engine/finding.h"

/* A finding as the rule holds it. Those of one rule make a list. */
struct cutlint_finding {
	struct finding found;
	struct cutlint_check *check;
	struct cutlint_finding *next;
	uint32_t related_capacity, measure_capacity, figure_capacity, edit_capacity;
};

struct cutlint_check {
	struct arena *arena;
	const struct cutlint_design *design;
	const struct job *job;
	const struct cutlint_sheet *sheet;
	const struct cutlint_rule *rule; /* the one at work */
	struct cutlint_finding *first, *last;
	uint32_t count;
	const char *reason;           /* why it could not look; NULL if it could */
	struct edit_facts facts;      /* of the drawing, for edits */
	struct cutlint_finding dummy; /* what a rule gets where memory ran out */
};

/* More findings of one rule than any person reads: a rule gone wild, stopped before memory is. */
#define FINDINGS_MOST 100000u

/*
 * Runs a rule. Afterwards `check` holds its findings, and the reason if it could not look at all
 * or not to the end. `check` starts from {.arena, .design, .job, .sheet}.
 */
void rule_check_run(struct cutlint_check *check, const struct setup_rule *rule);

#endif
