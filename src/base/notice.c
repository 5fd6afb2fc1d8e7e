#include "base/notice.h"

#include <stdarg.h>
#include <stdbool.h>
#include <string.h>

#include "base/text.h"

static bool grow(struct notices *notices)
{
	if (notices->count < notices->capacity)
		return true;
	uint32_t capacity = notices->capacity ? notices->capacity * 2 : 16;
	struct notice *items = ARENA_ARRAY(notices->arena, struct notice, capacity);
	if (!items)
		return false;
	if (notices->count)
		memcpy(items, notices->items, notices->count * sizeof(*items));
	notices->items = items;
	notices->capacity = capacity;
	return true;
}

struct notice *notice_add(struct notices *notices, enum notice_level level, const char *code,
			  uint32_t byte, uint32_t length, const char *format, ...)
{
	notices->fatal_count += level == NOTICE_FATAL;
	if (!grow(notices))
		return NULL;
	va_list arguments;
	va_start(arguments, format);
	const char *message = text_vkeep(notices->arena, format, arguments);
	va_end(arguments);
	if (!message)
		return NULL;

	struct notice *notice = &notices->items[notices->count++];
	*notice = (struct notice){
		.level = level, .code = code, .byte = byte, .length = length, .message = message};
	return notice;
}

void notice_suggest(struct notices *notices, struct notice *notice, const char *format, ...)
{
	if (!notice)
		return;
	va_list arguments;
	va_start(arguments, format);
	notice->suggestion = text_vkeep(notices->arena, format, arguments);
	va_end(arguments);
}
