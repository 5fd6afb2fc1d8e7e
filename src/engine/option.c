#include "engine/option.h"

#include <stdio.h>
#include <string.h>

#include "job/nearest.h"

size_t option_size(enum cutlint_option_kind kind)
{
	switch (kind) {
	case CUTLINT_OPTION_LENGTH:
	case CUTLINT_OPTION_AREA:
	case CUTLINT_OPTION_ANGLE:
	case CUTLINT_OPTION_SHARE:
	case CUTLINT_OPTION_NUMBER:
		return sizeof(double);
	case CUTLINT_OPTION_FLAG:
		return sizeof(bool);
	case CUTLINT_OPTION_WORD:
		return sizeof(unsigned);
	}
	return 0;
}

size_t option_count(const struct cutlint_rule *rule)
{
	size_t count = 0;
	while (rule->options && rule->options[count].name)
		count++;
	return count;
}

const struct cutlint_option *option_find(const struct cutlint_rule *rule, const char *name)
{
	for (size_t i = 0; i < option_count(rule); i++) {
		if (strcmp(rule->options[i].name, name) == 0)
			return &rule->options[i];
	}
	return NULL;
}

size_t option_word_count(const struct cutlint_option *option)
{
	size_t count = 0;
	while (option->words && option->words[count])
		count++;
	return count;
}

static int refuse(struct value_error *error, const char *text, const char *why)
{
	snprintf(error->text, sizeof(error->text), "%s", why);
	error->offset = 0;
	error->length = (unsigned)strlen(text);
	return -1;
}

static int parse_word(const struct cutlint_option *option, const char *text, unsigned *out,
		      struct value_error *error)
{
	size_t count = option_word_count(option);
	for (size_t i = 0; i < count; i++) {
		if (strcmp(option->words[i], text) == 0) {
			*out = (unsigned)i;
			return 0;
		}
	}
	const char *near = nearest_word(text, option->words, count);
	struct text why = {0};
	text_format(&why, "'%.40s' is no such word; ", text);
	if (near) {
		text_format(&why, "did you mean '%s'?", near);
	} else {
		text_add_string(&why, "it takes ");
		option_add_range(&why, option);
	}
	int result = refuse(error, text, why.failed ? "no such word" : why.bytes);
	text_finish(&why);
	return result;
}

static int check_range(const struct cutlint_option *option, const char *text, double value,
		       struct value_error *error)
{
	if (value >= option->least && value <= option->most)
		return 0;
	struct text why = {0};
	text_format(&why, "'%.40s' is out of range; it takes ", text);
	option_add_range(&why, option);
	int result = refuse(error, text, why.failed ? "out of range" : why.bytes);
	text_finish(&why);
	return result;
}

int option_parse(const struct cutlint_option *option, const char *text, void *options,
		 struct value_error *error)
{
	unsigned char *place = (unsigned char *)options + option->offset;
	*error = (struct value_error){0};
	if (option->kind == CUTLINT_OPTION_WORD) {
		unsigned word;
		if (parse_word(option, text, &word, error) < 0)
			return -1;
		memcpy(place, &word, sizeof(word));
		return 0;
	}

	double value;
	if (value_parse(text, value_kind_of_option(option->kind), &value, error) < 0)
		return -1;
	if (option->kind == CUTLINT_OPTION_FLAG) {
		bool flag = value != 0;
		memcpy(place, &flag, sizeof(flag));
		return 0;
	}
	if (check_range(option, text, value, error) < 0)
		return -1;
	memcpy(place, &value, sizeof(value));
	return 0;
}

double option_length_mm(const struct cutlint_option *option, const void *options)
{
	double value = 0;
	if (option->kind == CUTLINT_OPTION_LENGTH)
		memcpy(&value, (const unsigned char *)options + option->offset, sizeof(value));
	return value;
}

static void add_words(struct text *text, const struct cutlint_option *option)
{
	size_t count = option_word_count(option);
	for (size_t i = 0; i < count; i++) {
		text_add_string(text, option->words[i]);
		if (i + 2 < count)
			text_add_string(text, ", ");
		else if (i + 2 == count)
			text_add_string(text, " or ");
	}
}

void option_add_range(struct text *text, const struct cutlint_option *option)
{
	if (option->kind == CUTLINT_OPTION_FLAG) {
		text_add_string(text, "yes or no");
		return;
	}
	if (option->kind == CUTLINT_OPTION_WORD) {
		add_words(text, option);
		return;
	}
	char least[48], most[48];
	value_format(option->least, value_kind_of_option(option->kind), least);
	value_format(option->most, value_kind_of_option(option->kind), most);
	text_format(text, "%s to %s", least, most);
}
