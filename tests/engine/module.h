/* module.h - what the modules of these tests have in common. */
#ifndef TESTS_MODULE_H
#define TESTS_MODULE_H

#include "cutlint/rule.h"

/* The fields that every sound descriptor has. */
#define SOUND(rule_name)                                                                           \
	.abi = CUTLINT_RULE_ABI, .size = sizeof(struct cutlint_rule), .name = (rule_name),         \
	.summary = "a rule of the tests", .advice = "nothing to do", .severity = CUTLINT_WARNING

static inline enum cutlint_outcome looked(struct cutlint_check *check, const void *options)
{
	(void)check;
	(void)options;
	return CUTLINT_LOOKED;
}

/* An options struct with one length. */
struct one_length {
	double length_mm;
};

/* A descriptor with the options in OPTIONS. */
#define RULE_WITH_OPTIONS(rule_name)                                                               \
	const struct cutlint_rule cutlint_rule = {SOUND(rule_name), .options = OPTIONS,            \
						  .options_size = sizeof(struct one_length),       \
						  .check = looked}

#endif
