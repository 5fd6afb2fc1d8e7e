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

/*
 * A rule that finds more is one gone wild, stopped before memory is: so many, or one for each
 * vertex of a drawing that has more.
 */
#define FINDINGS_MOST 100000u

/*
 * Runs a rule. Afterwards `check` holds its findings, and the reason if it could not look at all
 * or not to the end. `check` starts from {.arena, .design, .job, .sheet}.
 */
void rule_check_run(struct cutlint_check *check, const struct setup_rule *rule);

/* What a rule gets where memory ran out: nothing is to be kept in it. */
bool rule_check_is_dummy(const struct cutlint_finding *finding);

/*
 * Room for one more item in a list of a finding, an array, and a copy of a text, "" for NULL. NULL
 * where memory ran out, which stops the rule.
 */
void *rule_check_room(struct cutlint_check *check, void *items, uint32_t count, uint32_t *capacity,
		      size_t size);
void *rule_check_array(struct cutlint_check *check, size_t count, size_t size);
const char *rule_check_copy(struct cutlint_check *check, const char *string);

#endif
