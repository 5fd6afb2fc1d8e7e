/* pattern.h - one pattern that gives a role (PCRE2). */
#ifndef JOB_PATTERN_H
#define JOB_PATTERN_H

#define PCRE2_CODE_UNIT_WIDTH 8
#include <pcre2.h>
#include <stdbool.h>

#include "job/reading.h"

/* What of a shape a pattern is seen against. */
enum pattern_subject { PATTERN_NAME, PATTERN_FILL, PATTERN_STROKE };

struct pattern {
	enum cutlint_role role;
	enum pattern_subject subject;
	const struct job_entry *entry;
	pcre2_code *code;
};

struct job_roles {
	struct pattern *patterns;
	uint32_t count;
	bool default_words;
};

/* Compiles the entry's value into the pattern, whose subject is set. False after a mistake. */
bool pattern_compile(struct reading *reading, const struct job_entry *entry,
		     struct pattern *pattern);

/* What matching needs beside a pattern. Start from {0}. */
struct pattern_matcher {
	pcre2_match_context *context;
	pcre2_match_data *data;
	uint64_t searched; /* bytes so far */
};

/* Returns 0, or -1 where memory ran out. Finish it in any case. */
int pattern_matcher_init(struct pattern_matcher *matcher);
void pattern_matcher_finish(struct pattern_matcher *matcher);

struct pattern_result {
	bool matched;
	bool reached; /* one of the matches ends behind `own` */
};

/*
 * Searches `text` from left to right, also for matches that overlap, until one ends behind the
 * first `own` bytes. Returns 0, or -1 with a fatal notice at the pattern where it takes more work
 * than its limits allow.
 */
int pattern_search(struct pattern_matcher *matcher, const struct pattern *pattern, const char *text,
		   size_t length, size_t own, struct notices *notices, struct pattern_result *out);

#endif
