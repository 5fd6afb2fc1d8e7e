#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/utf8.h"

void text_finish(struct text *text)
{
	free(text->bytes);
	*text = (struct text){0};
}

static bool reserve(struct text *text, size_t more)
{
	if (text->failed)
		return false;
	size_t needed = text->length + more + 1;
	if (needed <= text->capacity)
		return true;

	size_t capacity = text->capacity ? text->capacity : 64;
	while (capacity < needed)
		capacity *= 2;
	char *bytes = realloc(text->bytes, capacity);
	if (!bytes) {
		text->failed = true;
		return false;
	}
	text->bytes = bytes;
	text->capacity = capacity;
	return true;
}

void text_add(struct text *text, const char *bytes, size_t length)
{
	if (!reserve(text, length))
		return;
	if (length)
		memcpy(text->bytes + text->length, bytes, length);
	text->length += length;
	text->bytes[text->length] = '\0';
}

void text_add_string(struct text *text, const char *string)
{
	text_add(text, string, strlen(string));
}

void text_vformat(struct text *text, const char *format, va_list arguments)
{
	va_list again;
	va_copy(again, arguments);
	int length = vsnprintf(NULL, 0, format, again);
	va_end(again);
	if (length < 0 || !reserve(text, (size_t)length))
		return;
	vsnprintf(text->bytes + text->length, (size_t)length + 1, format, arguments);
	text->length += (size_t)length;
}

void text_format(struct text *text, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	text_vformat(text, format, arguments);
	va_end(arguments);
}

/*
 * Line and paragraph separator, and the marks that turn the direction of writing (U+2028 to U+202E,
 * U+2066 to U+2069): a terminal may break the line there, or show what follows in another order.
 */
static bool turns_line(const unsigned char *at)
{
	if (at[0] != 0xe2)
		return false;
	return (at[1] == 0x80 && at[2] >= 0xa8 && at[2] <= 0xae) ||
	       (at[1] == 0x81 && at[2] >= 0xa6 && at[2] <= 0xa9);
}

static bool is_control(const unsigned char *at, size_t length)
{
	bool c1 = *at == 0xc2 && length == 2 && at[1] < 0xa0;
	return *at < 0x20 || *at == 0x7f || c1 || (length == 3 && turns_line(at));
}

void text_add_escaped(struct text *text, const char *string)
{
	const unsigned char *at = (const unsigned char *)string;
	while (*at) {
		size_t length = utf8_length(at);
		if (length == 0 || is_control(at, length)) {
			const unsigned char *end = at + (length ? length : 1);
			for (; at < end; at++)
				text_format(text, "\\x%02x", *at);
			continue;
		}
		text_add(text, (const char *)at, length);
		at += length;
	}
}

char *text_keep(struct text *text, struct arena *arena)
{
	char *kept = text->failed ? NULL : arena_copy(arena, text->bytes, text->length);
	text_finish(text);
	return kept;
}

char *text_vkeep(struct arena *arena, const char *format, va_list arguments)
{
	struct text text = {0};
	text_vformat(&text, format, arguments);
	return text_keep(&text, arena);
}

void text_add_sentence(struct text *text, const char *phrase)
{
	size_t length = strlen(phrase);
	char first = phrase[0];
	if (first >= 'a' && first <= 'z')
		first = (char)(first - 'a' + 'A');
	text_add(text, &first, 1);
	text_add(text, phrase + 1, length - 1);
	if (phrase[length - 1] != '.')
		text_add_string(text, ".");
}
