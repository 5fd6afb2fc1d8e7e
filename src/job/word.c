#include "job/word.h"

#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "base/utf8.h"
#include "job/nearest.h"

#define SHOWN_MOST 40u

/* The bytes of the first characters that fit. */
static size_t fitting(const char *text, size_t most)
{
	size_t length = 0;
	for (;;) {
		size_t step = utf8_length((const unsigned char *)text + length);
		if (text[length] == '\0' || length + (step ? step : 1) > most)
			return length;
		length += step ? step : 1;
	}
}

struct shown_word word_shown(const char *word, size_t length)
{
	struct shown_word shown = {"?"};
	struct text copy = {0}, escaped = {0};
	text_add(&copy, word, length < 4 * SHOWN_MOST ? length : 4 * SHOWN_MOST);
	if (!copy.failed)
		text_add_escaped(&escaped, copy.bytes);
	if (escaped.bytes) {
		size_t kept = fitting(escaped.bytes, SHOWN_MOST);
		snprintf(shown.text, sizeof(shown.text), "%.*s%s", (int)kept, escaped.bytes,
			 kept < escaped.length ? "..." : "");
	} else if (!copy.failed) {
		shown.text[0] = '\0';
	}
	text_finish(&copy);
	text_finish(&escaped);
	return shown;
}

static void list_words(char *out, size_t size, const char *const *words, size_t count)
{
	size_t length = 0;
	for (size_t i = 0; i < count && length < size; i++) {
		const char *before = i == 0 ? "write " : i + 1 < count ? ", " : " or ";
		int added = snprintf(out + length, size - length, "%s%s", before, words[i]);
		length += added > 0 ? (size_t)added : 0;
	}
}

void word_hint(char *out, size_t size, const char *word, const char *const *words, size_t count)
{
	const char *near = *word ? nearest_word(word, words, count) : NULL;
	out[0] = '\0';
	if (near)
		snprintf(out, size, "did you mean '%s'?", near);
	else
		list_words(out, size, words, count);
}

size_t word_find(const char *word, const char *const *words, size_t count)
{
	size_t at = 0;
	while (at < count && strcmp(word, words[at]) != 0)
		at++;
	return at;
}
