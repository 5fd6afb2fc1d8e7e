/* option.h - one setting of a rule: from text to its place in the rule's options struct. */
#ifndef ENGINE_OPTION_H
#define ENGINE_OPTION_H

#include <stdbool.h>

#include "base/text.h"
#include "cutlint/rule.h"
#include "job/value.h"

/* Bytes that an option of this kind takes in the struct; 0 for no such kind. */
size_t option_size(enum cutlint_option_kind kind);

/* How many options a rule has. */
size_t option_count(const struct cutlint_rule *rule);

/* The option of this name, NULL without one. */
const struct cutlint_option *option_find(const struct cutlint_rule *rule, const char *name);

/* How many words a WORD option has. */
size_t option_word_count(const struct cutlint_option *option);

/*
 * Reads `text` and, if it is valid and within the range, writes it into the options struct. Returns
 * 0, or -1 with the reason.
 */
int option_parse(const struct cutlint_option *option, const char *text, void *options,
		 struct value_error *error);

/* The value of a LENGTH option, 0 for other kinds. */
double option_length_mm(const struct cutlint_option *option, const void *options);

/* Adds what may be written: "0.1 mm to 5 mm", "yes or no", "one, two or three". */
void option_add_range(struct text *text, const struct cutlint_option *option);

#endif
