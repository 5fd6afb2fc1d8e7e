#include "svg/say.h"

#include <stdarg.h>
#include <string.h>

#include "base/text.h"

static struct svg_heard *heard_of(struct svg_say *say, const char *code)
{
	size_t most = sizeof(say->heard) / sizeof(*say->heard);
	size_t i = 0;
	while (i + 1 < most && say->heard[i].code && strcmp(say->heard[i].code, code) != 0)
		i++;
	if (!say->heard[i].code)
		say->heard[i].code = code;
	return &say->heard[i];
}

static bool held_back(struct svg_say *say, enum notice_level level, const char *code)
{
	if (say->quiet && level != NOTICE_FATAL)
		return true;
	struct svg_heard *heard = heard_of(say, code);
	if (level > heard->level)
		heard->level = level;
	return heard->count++ >= svg_limit_of(say->limits, SVG_LIMIT_NOTICES) &&
	       level != NOTICE_FATAL;
}

struct notice *svg_say(struct svg_say *say, enum notice_level level, const char *code,
		       const struct cutlint_element *element, struct cutlint_span at,
		       const char *format, ...)
{
	if (held_back(say, level, code))
		return NULL;
	struct text text = {0};
	va_list arguments;
	va_start(arguments, format);
	text_vformat(&text, format, arguments);
	va_end(arguments);

	/* It may quote the file: control characters must not reach a terminal. */
	struct text safe = {0};
	text_add_escaped(&safe, text.bytes ? text.bytes : code);
	struct notice *notice = notice_add(say->notices, level, code, at.byte, at.length, "%s",
					   safe.bytes ? safe.bytes : code);
	say->failed = say->failed || !notice || text.failed || safe.failed;
	text_finish(&text);
	text_finish(&safe);
	if (notice)
		notice->element = element;
	return notice;
}

void svg_say_limit(struct svg_say *say, enum svg_limit limit, const struct cutlint_element *element,
		   struct cutlint_span at, const char *format, ...)
{
	const struct svg_limit_row *row = svg_limit_row(limit);
	struct text text = {0};
	va_list arguments;
	va_start(arguments, format);
	text_vformat(&text, format, arguments);
	va_end(arguments);
	struct notice *notice =
		svg_say(say, NOTICE_FATAL, "too-large", element, at, "%s (limit %s: %u)",
			text.bytes ? text.bytes : "", row->name, svg_limit_of(say->limits, limit));
	say->failed = say->failed || text.failed;
	text_finish(&text);
	svg_suggest(say, notice, "if the drawing is meant to be so, raise the limit: --limit %s=N",
		    row->name);
}

void svg_suggest(struct svg_say *say, struct notice *notice, const char *format, ...)
{
	if (!notice)
		return;
	struct text text = {0};
	va_list arguments;
	va_start(arguments, format);
	text_vformat(&text, format, arguments);
	va_end(arguments);
	notice_suggest(say->notices, notice, "%s", text.bytes ? text.bytes : "");
	say->failed = say->failed || text.failed || !notice->suggestion;
	text_finish(&text);
}

void svg_say_rest(struct svg_say *say)
{
	uint32_t most = svg_limit_of(say->limits, SVG_LIMIT_NOTICES);
	for (size_t i = 0; i < sizeof(say->heard) / sizeof(*say->heard); i++) {
		const struct svg_heard *heard = &say->heard[i];
		if (heard->count <= most)
			continue;
		struct notice *notice =
			notice_add(say->notices, heard->level, heard->code, 0, 0,
				   "%u more of this kind are not listed (limit notices: %u)",
				   heard->count - most, most);
		notice_suggest(say->notices, notice,
			       "to see them all, raise it: --limit notices=N");
	}
}

struct cutlint_span svg_tag_span(const struct cutlint_element *element)
{
	return element ? element->start_tag : (struct cutlint_span){0};
}
