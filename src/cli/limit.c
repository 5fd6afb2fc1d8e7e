#include "cli/limit.h"

#include <string.h>

#include "base/number.h"
#include "cli/command.h"
#include "job/nearest.h"

static int say_unknown(const char *name)
{
	const char *names[SVG_LIMIT_COUNT];
	for (size_t i = 0; i < SVG_LIMIT_COUNT; i++)
		names[i] = svg_limit_row((enum svg_limit)i)->name;
	const char *near = nearest_word(name, names, SVG_LIMIT_COUNT);
	struct text list = {0};
	for (size_t i = 0; i < SVG_LIMIT_COUNT; i++)
		text_format(&list, "%s%s", i ? ", " : "", names[i]);
	if (near)
		say_error("there is no limit '%s'; did you mean '%s'?", name, near);
	else
		say_error("there is no limit '%s'; there are %s", name,
			  list.failed ? "others" : list.bytes);
	text_finish(&list);
	return -1;
}

static int take_value(struct svg_limits *limits, enum svg_limit limit, const char *value)
{
	const struct svg_limit_row *row = svg_limit_row(limit);
	const char *end = value + strlen(value);
	double number;
	size_t length = number_parse(value, end, &number);
	if (!length || value + length != end || !(number >= 1 && number <= row->most) ||
	    number != (double)(uint32_t)number) {
		say_error("limit '%s' takes a whole number from 1 to %u, not '%s'", row->name,
			  row->most, value);
		return -1;
	}
	limits->values[limit] = (uint32_t)number;
	return 0;
}

int limit_take(struct svg_limits *limits, const char *text)
{
	char name[32] = "";
	const char *equals = strchr(text, '=');
	if (!equals) {
		say_error("option '--limit' takes NAME=VALUE, not '%s'", text);
		return -1;
	}
	size_t length = (size_t)(equals - text);
	if (length < sizeof(name))
		memcpy(name, text, length);
	for (size_t i = 0; i < SVG_LIMIT_COUNT; i++) {
		if (strcmp(name, svg_limit_row((enum svg_limit)i)->name) == 0)
			return take_value(limits, (enum svg_limit)i, equals + 1);
	}
	return say_unknown(name);
}
