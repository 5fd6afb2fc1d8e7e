/* configure.h - rules as one job wants them: which are on, with which options. */
#ifndef ENGINE_CONFIGURE_H
#define ENGINE_CONFIGURE_H

#include "engine/finding.h"
#include "engine/registry.h"
#include "job/job.h"

/* One rule that is on. */
struct setup_rule {
	const struct module *module;
	const void *options; /* a filled struct of the rule's options_size */
	bool severity_given; /* the job overrides the severity of all its findings */
	enum cutlint_severity severity;
	const struct silence *silence; /* of all its findings; NULL: none */
};

/* A stretch of files of the job that takes the drawing. */
struct setup_stretch {
	uint32_t number; /* among the job's */
	struct silence silence;
	bool off;    /* it silences its rule */
	bool judges; /* it sets a severity: it should meet a finding */
};

/* A job with its rules; it and all that it points to live in one arena. */
struct setup {
	const struct job *job;
	const struct registry *registry;       /* NULL where no rules are looked at */
	struct setup_rule *rules;              /* sorted by name */
	uint32_t rule_count;                   /* those that are on */
	const struct setup_stretch *stretches; /* in the order of the job */
	uint32_t stretch_count;
	uint32_t needs; /* the geometry that any of them needs */
	double neck_limit_mm;
	double hole_limit_mm; /* the largest length that a rule measuring holes asks for */
	double flatness_mm;   /* the job's, or a tenth of the smallest positive limit in force */
};

/*
 * Fills the options from the descriptors' defaults and the job's `[rule NAME]` sections. Unknown
 * rules, required modules that are missing, unknown options and values that can't be taken become
 * fatal notices at their place in the job, those of stretches of files included. These are not
 * followed: see configure_for. Returns 0 or -1.
 */
int configure(struct arena *arena, const struct registry *registry, const struct job *job,
	      struct notices *notices, struct setup *out);

/*
 * The same setup as a drawing of this path needs it, with the stretches of files that take it. A
 * rule that one of them switches off is on with a silence, so that what it finds is kept. Returns
 * 0, or -1 with a fatal notice.
 */
int configure_for(struct arena *arena, const struct setup *base, const char *drawing,
		  struct notices *notices, struct setup *out);

#endif
