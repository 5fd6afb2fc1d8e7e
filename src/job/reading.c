#include "job/reading.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "job/word.h"

#define MISTAKES_MOST 100u

void job_mistake(struct reading *reading, uint32_t byte, uint32_t length, const char *format, ...)
{
	if (reading->mistakes > MISTAKES_MOST)
		return;
	if (reading->mistakes++ == MISTAKES_MOST) {
		notice_add(reading->notices, NOTICE_FATAL, "job", reading->job->source.length, 0,
			   "more than %u mistakes; the rest is not shown", MISTAKES_MOST);
		return;
	}
	struct text text = {0};
	va_list arguments;
	va_start(arguments, format);
	text_vformat(&text, format, arguments);
	va_end(arguments);
	notice_add(reading->notices, NOTICE_FATAL, "job", byte, length, "%s",
		   text.failed || !text.bytes ? "out of memory" : text.bytes);
	text_finish(&text);
}

void job_mistake_value(struct reading *reading, const struct job_entry *entry, unsigned offset,
		       unsigned length, const char *message)
{
	const struct source *source = &reading->job->source;
	uint32_t from = job_value_byte(source, entry, offset);
	uint32_t to = job_value_byte(source, entry, offset + length);
	job_mistake(reading, from, to - from, "%s", message);
}

void job_mistake_word(struct reading *reading, uint32_t byte, uint32_t length, const char *what,
		      const char *word, const char *where, const char *const *words, size_t count)
{
	char hint[200];
	word_hint(hint, sizeof(hint), word, words, count);
	job_mistake(reading, byte, length, "unknown %s '%s'%s; %s", what,
		    word_shown(word, strlen(word)).text, where, hint);
}

uint32_t job_value_byte(const struct source *source, const struct job_entry *entry, unsigned offset)
{
	uint32_t byte = entry->value_byte, end = byte + entry->value_length;
	bool quoted = byte > 0 && source->bytes[byte - 1] == '"';
	if (!quoted)
		return offset < entry->value_length ? byte + offset : end;
	for (; offset > 0 && byte < end; offset--)
		byte += source->bytes[byte] == '\\' ? 2 : 1;
	return byte < end ? byte : end;
}
