/* remark.h - the text of one attribute that speaks to cutlint, word by word. */
#ifndef ENGINE_REMARK_H
#define ENGINE_REMARK_H

#include "engine/finding.h"
#include "job/value.h"
#include "model/private.h"

enum remark_kind { REMARK_SILENCE, REMARK_SEVERITY };

/* "RULE: reason", "RULE LIMIT: reason" or "RULE LEVEL: reason". */
struct remark_word {
	enum remark_kind kind;
	struct silence silence; /* of a severity, too: its rule, reason and place */
	const struct cutlint_element *element;
	enum cutlint_severity severity; /* of REMARK_SEVERITY */
	bool limited;                   /* only figures that are no worse than `limit` */
	enum value_kind limit_kind;
	double limit; /* in the kind's unit */
	bool used;    /* it has met a finding */
};

/* An attribute while it is read. */
struct remark_reader {
	const struct cutlint_design *design;
	const struct remark *remark;
	struct findings *findings; /* for what is wrong with it */
	enum remark_kind kind;
	const char *at; /* NULL: nothing is left */
};

/* An attribute of the namespace that there is none of becomes a finding and has no words. */
void remark_start(struct remark_reader *reader, const struct cutlint_design *design,
		  const struct remark *remark, struct findings *findings);

/*
 * The next word that is whole; those that are not become findings `bad-silence`. False where there
 * is no more.
 */
bool remark_next(struct remark_reader *reader, struct remark_word *out);

/*
 * Whether a finding's figure is no worse than the word's limit: that of its first measure of this
 * kind that has a limit. Figures count as they are printed, to the hundredth. True without a limit.
 */
bool remark_reaches(const struct remark_word *word, const struct finding *finding);

#endif
