/* configure.h - rules as one job wants them: which are on, with which options. */
#ifndef ENGINE_CONFIGURE_H
#define ENGINE_CONFIGURE_H

#include "engine/registry.h"
#include "job/job.h"

/* One rule that is on. */
struct setup_rule {
	const struct module *module;
	const void *options; /* a filled struct of the rule's options_size */
	bool severity_given; /* the job overrides the severity of all its findings */
	enum cutlint_severity severity;
};

/* A job with its rules; it and all that it points to live in one arena. */
struct setup {
	const struct job *job;
	const struct registry *registry; /* NULL where no rules are looked at */
	struct setup_rule *rules;        /* sorted by name */
	uint32_t rule_count;             /* those that are on */
	uint32_t needs;                  /* the geometry that any of them needs */
	double neck_limit_mm;
	double hole_limit_mm; /* the largest length that a rule measuring holes asks for */
	double flatness_mm;   /* the job's, or a tenth of the smallest positive limit in force */
};

/*
 * Fills the options from the descriptors' defaults and the job's `[rule NAME]` sections. Unknown
 * rules, required modules that are missing, unknown options and values that can't be taken become
 * fatal notices at their place in the job. Returns 0 or -1.
 */
int configure(struct arena *arena, const struct registry *registry, const struct job *job,
	      struct notices *notices, struct setup *out);

#endif
