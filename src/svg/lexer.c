#define _GNU_SOURCE /* memrchr */
#include "svg/lexer.h"

#include <string.h>

static bool is_space(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

static uint32_t find_back(const char *bytes, uint32_t end, char wanted)
{
	const char *found = memrchr(bytes, wanted, end);
	return found ? (uint32_t)(found - bytes) : 0;
}

struct cutlint_span svg_lex_tag(const char *bytes, uint32_t length, uint32_t end)
{
	uint32_t start = find_back(bytes, end, '<');
	while (end < length && bytes[end] != '>')
		end++;
	return (struct cutlint_span){start, end < length ? end + 1 - start : end - start};
}

struct cutlint_span svg_lex_reference(const char *bytes, uint32_t end)
{
	uint32_t start = find_back(bytes, end, '&');
	return (struct cutlint_span){start, end - start};
}

/* Past the next `text`; at the end where there is none. */
static uint32_t skip_past(const char *bytes, uint32_t length, uint32_t at, const char *text)
{
	const char *found = at < length ? strstr(bytes + at, text) : NULL;
	return found ? (uint32_t)(found - bytes) + (uint32_t)strlen(text) : length;
}

/* Past the tag that starts at a `<`; counts its equals signs that stand outside of quotes. */
static uint32_t skip_tag(const char *bytes, uint32_t length, uint32_t at, uint32_t *attributes)
{
	*attributes = 0;
	for (; at < length && bytes[at] != '>'; at++) {
		*attributes += bytes[at] == '=';
		if (bytes[at] != '"' && bytes[at] != '\'')
			continue;
		const char *close = memchr(bytes + at + 1, bytes[at], length - at - 1);
		at = close ? (uint32_t)(close - bytes) : length - 1;
	}
	return at;
}

uint32_t svg_lex_crowded(const char *bytes, uint32_t length, uint32_t most)
{
	uint32_t at = 0;
	for (;;) {
		const char *open = at < length ? memchr(bytes + at, '<', length - at) : NULL;
		if (!open)
			return CUTLINT_NONE;
		uint32_t start = (uint32_t)(open - bytes), attributes = 0;
		if (strncmp(open, "<!--", 4) == 0)
			at = skip_past(bytes, length, start + 4, "-->");
		else if (strncmp(open, "<![CDATA[", 9) == 0)
			at = skip_past(bytes, length, start + 9, "]]>");
		else if (open[1] == '!' || open[1] == '?' || open[1] == '/')
			at = start + 1;
		else
			at = skip_tag(bytes, length, start + 1, &attributes);
		if (attributes > most)
			return start;
	}
}

static void skip_spaces(struct svg_lexer *lexer)
{
	while (lexer->at < lexer->end && is_space(lexer->bytes[lexer->at]))
		lexer->at++;
}

static bool ends_name(char c)
{
	return is_space(c) || c == '=' || c == '/' || c == '>';
}

static struct cutlint_span read_name(struct svg_lexer *lexer)
{
	uint32_t start = lexer->at;
	while (lexer->at < lexer->end && !ends_name(lexer->bytes[lexer->at]))
		lexer->at++;
	return (struct cutlint_span){start, lexer->at - start};
}

struct svg_lexer svg_lexer_start(const char *bytes, struct cutlint_span tag)
{
	struct svg_lexer lexer = {bytes, tag.byte + 1, tag.byte + tag.length};
	read_name(&lexer);
	return lexer;
}

bool svg_lexer_next(struct svg_lexer *lexer, struct cutlint_span *name, struct cutlint_span *value)
{
	skip_spaces(lexer);
	*name = read_name(lexer);
	if (name->length == 0)
		return false;
	skip_spaces(lexer);
	lexer->at++; /* the equals sign */
	skip_spaces(lexer);
	if (lexer->at >= lexer->end)
		return false;

	char quote = lexer->bytes[lexer->at++];
	const char *start = lexer->bytes + lexer->at;
	const char *close = memchr(start, quote, lexer->end - lexer->at);
	if (!close)
		return false;
	*value = (struct cutlint_span){lexer->at, (uint32_t)(close - start)};
	lexer->at += value->length + 1;
	return true;
}
