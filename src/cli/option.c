#define _GNU_SOURCE /* getopt_long */
#include <stdlib.h>
#include <string.h>

#include "cli/command.h"
#include "job/nearest.h"

const char *const colour_words[] = {
	[COLOUR_AUTO] = "auto", [COLOUR_ALWAYS] = "always", [COLOUR_NEVER] = "never", NULL};

void option_start(void)
{
	/* Zero makes glibc's getopt forget the arguments that it saw before. */
	optind = 0;
	opterr = 0;
}

static const struct option *option_of(const struct option *options, int value)
{
	for (; options->name; options++) {
		if (options->val == value)
			return options;
	}
	return NULL;
}

static const char *nearest_option(const char *word, const struct option *options)
{
	size_t count = 0;
	while (options[count].name)
		count++;
	const char **names = calloc(count + 1, sizeof(*names));
	if (!names)
		return NULL;
	for (size_t i = 0; i < count; i++)
		names[i] = options[i].name;
	const char *near = nearest_word(word, names, count);
	free(names);
	return near;
}

/* "--fale-on=never" is about the word "fale-on". */
static void say_unknown(const char *argument, const struct option *options)
{
	char word[64] = "";
	const char *start = argument + strspn(argument, "-");
	size_t length = strcspn(start, "=");
	if (length < sizeof(word))
		memcpy(word, start, length);
	const char *near = nearest_option(word, options);
	if (near)
		say_error("there is no option '%s'; did you mean '--%s'?", argument, near);
	else
		say_error("there is no option '%s'", argument);
}

static void say_fault(int result, char **argv, const struct option *options)
{
	const struct option *known = optopt ? option_of(options, optopt) : NULL;
	const char *argument = argv[optind - 1];
	if (result == ':')
		say_error("option '%s' needs a value", argument);
	else if (known)
		say_error("option '--%s' takes no value", known->name);
	else if (optopt)
		say_error("there is no option '-%c'", optopt);
	else
		say_unknown(argument, options);
}

int option_next(int argc, char **argv, const char *letters, const struct option *options)
{
	optopt = 0;
	int result = getopt_long(argc, argv, letters, options, NULL);
	if (result != ':' && result != '?')
		return result;
	say_fault(result, argv, options);
	return OPTION_FAULT;
}

int option_word(const char *option, const char *value, const char *const *words)
{
	size_t count = 0;
	for (; words[count]; count++) {
		if (strcmp(words[count], value) == 0)
			return (int)count;
	}
	struct text list = {0};
	const char *near = nearest_word(value, words, count);
	for (size_t i = 0; i < count; i++)
		text_format(&list, "%s%s", i ? ", " : "", words[i]);
	if (near)
		say_error("option '%s' does not take '%s'; did you mean '%s'? It takes one of %s",
			  option, value, near, list.failed ? "its words" : list.bytes);
	else
		say_error("option '%s' does not take '%s'; it takes one of %s", option, value,
			  list.failed ? "its words" : list.bytes);
	text_finish(&list);
	return -1;
}
