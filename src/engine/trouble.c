#include "engine/trouble.h"

#include <stdarg.h>
#include <string.h>

#include "base/text.h"
#include "engine/grow.h"

static struct trouble *add(struct troubles *troubles)
{
	struct trouble *items = list_grow(troubles->arena, troubles->items, troubles->count,
					  &troubles->capacity, sizeof(*items));
	if (!items) {
		troubles->failed = true;
		return NULL;
	}
	troubles->items = items;
	struct trouble *trouble = &items[troubles->count];
	*trouble = (struct trouble){0};
	return trouble;
}

void trouble_add(struct troubles *troubles, const char *format, ...)
{
	struct trouble *trouble = add(troubles);
	va_list arguments;
	va_start(arguments, format);
	const char *message = text_vkeep(troubles->arena, format, arguments);
	va_end(arguments);
	if (!trouble || !message) {
		troubles->failed = true;
		return;
	}
	trouble->message = message;
	troubles->count++;
}

void trouble_add_notice(struct troubles *troubles, const struct source *source,
			const struct notice *notice)
{
	struct trouble *trouble = add(troubles);
	if (!trouble)
		return;
	trouble->message = notice->message;
	trouble->suggestion = notice->suggestion;
	if (source->lines && strcmp(notice->code, NOTICE_UNREADABLE) != 0) {
		struct source_position position = source_position(source, notice->byte);
		trouble->file = source->name;
		trouble->line = position.line;
		trouble->column = position.column;
	}
	troubles->count++;
}

void trouble_add_fatal(struct troubles *troubles, const struct source *source,
		       const struct notices *notices)
{
	uint32_t count = troubles->count;
	for (uint32_t i = 0; i < notices->count; i++) {
		if (notices->items[i].level == NOTICE_FATAL)
			trouble_add_notice(troubles, source, &notices->items[i]);
	}
	/* A notice can be lost where memory ran out; its being fatal must not be. */
	if (notices->fatal_count && troubles->count == count)
		troubles->failed = true;
}

bool troubles_any(const struct troubles *troubles)
{
	return troubles->count || troubles->failed;
}

static bool has_message(const struct troubles *troubles, const char *message)
{
	for (uint32_t i = 0; i < troubles->count; i++) {
		if (!troubles->items[i].file && strcmp(troubles->items[i].message, message) == 0)
			return true;
	}
	return false;
}

void troubles_append(struct troubles *troubles, const struct troubles *more)
{
	troubles->failed = troubles->failed || more->failed;
	for (uint32_t i = 0; i < more->count; i++) {
		bool again = !more->items[i].file && has_message(troubles, more->items[i].message);
		struct trouble *trouble = again ? NULL : add(troubles);
		if (!trouble)
			continue;
		*trouble = more->items[i];
		troubles->count++;
	}
}
