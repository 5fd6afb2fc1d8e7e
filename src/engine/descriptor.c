#include "engine/descriptor.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "engine/option.h"
#include "job/job.h"

#define KNOWN_NEEDS                                                                                \
	(CUTLINT_NEEDS_CARDS | CUTLINT_NEEDS_NECKS | CUTLINT_NEEDS_HOLES | CUTLINT_NEEDS_ENDS |    \
	 CUTLINT_NEEDS_OVERLAPS | CUTLINT_NEEDS_CROSSINGS | CUTLINT_NEEDS_TIPS)

/* A module's options struct is of this size at most: a wild figure is a broken descriptor. */
#define MOST_OPTION_BYTES ((size_t)64 * 1024)

static bool is_word(const char *name)
{
	if (*name < 'a' || *name > 'z')
		return false;
	return name[strspn(name, "abcdefghijklmnopqrstuvwxyz0123456789-")] == '\0';
}

/* The only fields that may be read before they are known to fit. */
static int verify_version(const struct cutlint_rule *rule, size_t bytes, struct text *why)
{
	if (bytes < offsetof(struct cutlint_rule, size) + sizeof(rule->size)) {
		text_format(why, "its symbol %s is not a rule's descriptor", CUTLINT_RULE_SYMBOL);
		return -1;
	}
	if (rule->abi != CUTLINT_RULE_ABI) {
		text_format(why, "it is built for rule ABI %u, this cutlint takes %u",
			    (unsigned)rule->abi, CUTLINT_RULE_ABI);
		return -1;
	}
	if (rule->size != sizeof(*rule) || bytes < sizeof(*rule)) {
		text_format(why, "its descriptor has %zu bytes, one of rule ABI %u has %zu",
			    bytes < rule->size ? bytes : (size_t)rule->size, CUTLINT_RULE_ABI,
			    sizeof(*rule));
		return -1;
	}
	return 0;
}

static int verify_texts(const struct cutlint_rule *rule, const char *stem, struct text *why)
{
	if (!rule->name || !is_word(rule->name)) {
		text_add_string(why, "its rule has no name of lower-case letters, digits and '-'");
		return -1;
	}
	if (strcmp(rule->name, stem) != 0) {
		text_format(why, "its rule is named '%s', not like the file", rule->name);
		return -1;
	}
	if (!rule->summary || !*rule->summary) {
		text_add_string(why, "its rule has no summary");
		return -1;
	}
	if (!rule->advice || !*rule->advice) {
		text_add_string(why, "its rule has no advice");
		return -1;
	}
	return 0;
}

static int verify_duty(const struct cutlint_rule *rule, struct text *why)
{
	if (!rule->check) {
		text_add_string(why, "its rule has no check function");
		return -1;
	}
	if ((unsigned)rule->severity > CUTLINT_ERROR) {
		text_add_string(why, "its severity is none of note, warning and error");
		return -1;
	}
	if (rule->needs & ~(uint32_t)KNOWN_NEEDS) {
		text_add_string(why, "it needs geometry that this cutlint does not know");
		return -1;
	}
	if (rule->options_size > MOST_OPTION_BYTES) {
		text_format(why, "its options struct of %zu bytes is too large",
			    rule->options_size);
		return -1;
	}
	return 0;
}

/* Whether the option's bytes lie inside the struct, where its type may lie. */
static bool fits(const struct cutlint_option *option, size_t options_size)
{
	size_t size = option_size(option->kind);
	return option->offset <= options_size && size <= options_size - option->offset &&
	       option->offset % size == 0;
}

static bool has_range(const struct cutlint_option *option)
{
	if (option->kind == CUTLINT_OPTION_FLAG || option->kind == CUTLINT_OPTION_WORD)
		return true;
	return isfinite(option->least) && isfinite(option->most) && option->least <= option->most;
}

/* What a `[rule ...]` section of a job says beside options. */
static bool is_reserved(const char *name)
{
	return strcmp(name, "severity") == 0 || strcmp(name, JOB_FILES_KEY) == 0 ||
	       strcmp(name, JOB_REASON_KEY) == 0;
}

static const char *option_fault(const struct cutlint_option *option, size_t options_size)
{
	if (!is_word(option->name) || is_reserved(option->name))
		return "has a name that the job file can't use";
	if (!option_size(option->kind))
		return "is of no known kind";
	if (!fits(option, options_size))
		return "lies outside the options struct";
	if (!option->fallback || !option->meaning || !*option->meaning)
		return "has no default or no meaning";
	if (option->kind == CUTLINT_OPTION_WORD && !option_word_count(option))
		return "has no words to choose from";
	if (!has_range(option))
		return "has no valid range";
	if (option->neck_limit && option->kind != CUTLINT_OPTION_LENGTH)
		return "is a neck limit but no length";
	return NULL;
}

static bool named_before(const struct cutlint_option *options, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (strcmp(options[i].name, options[count].name) == 0)
			return true;
	}
	return false;
}

static int verify_option(const struct cutlint_rule *rule, size_t number, void *scratch,
			 struct text *why)
{
	const struct cutlint_option *option = &rule->options[number];
	const char *fault = option_fault(option, rule->options_size);
	if (!fault && named_before(rule->options, number))
		fault = "is there twice";
	if (fault) {
		text_format(why, "its option '%s' %s", option->name, fault);
		return -1;
	}
	struct value_error error;
	if (option_parse(option, option->fallback, scratch, &error) < 0) {
		text_format(why, "the default of its option '%s' can't be taken: %s", option->name,
			    error.text);
		return -1;
	}
	return 0;
}

static int verify_options(const struct cutlint_rule *rule, struct text *why)
{
	void *scratch = calloc(1, rule->options_size + 1);
	if (!scratch) {
		text_add_string(why, "out of memory");
		return -1;
	}
	int result = 0;
	for (size_t i = 0; i < option_count(rule) && result == 0; i++)
		result = verify_option(rule, i, scratch, why);
	free(scratch);
	return result;
}

int descriptor_verify(const struct cutlint_rule *rule, const char *stem, size_t bytes,
		      struct text *why)
{
	if (verify_version(rule, bytes, why) < 0 || verify_texts(rule, stem, why) < 0 ||
	    verify_duty(rule, why) < 0)
		return -1;
	return verify_options(rule, why);
}
