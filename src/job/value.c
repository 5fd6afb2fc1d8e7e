#include "job/value.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"
#include "job/unit.h"
#include "job/word.h"

/* A value while it is read. */
struct cursor {
	const char *text, *figure, *at, *end; /* the figure starts behind white space */
	enum value_kind kind;
	struct value_error *error;
};

CUTLINT_PRINTF(4, 5)
static int refuse(struct cursor *cursor, const char *from, const char *to, const char *format, ...)
{
	cursor->error->offset = (unsigned)(from - cursor->text);
	cursor->error->length = (unsigned)(to - from);
	va_list arguments;
	va_start(arguments, format);
	vsnprintf(cursor->error->text, sizeof(cursor->error->text), format, arguments);
	va_end(arguments);
	return -1;
}

static struct shown_word show(const char *from, const char *to)
{
	return word_shown(from, (size_t)(to - from));
}

static bool is_space(char c)
{
	return c == ' ' || c == '\t';
}

static void skip_spaces(struct cursor *cursor)
{
	while (cursor->at < cursor->end && is_space(*cursor->at))
		cursor->at++;
}

/* A run of digits at `at`, as a number; its end, or `at` itself where there is none. */
static const char *read_digits(const char *at, const char *end, double *out)
{
	const char *from = at;
	while (at < end && *at >= '0' && *at <= '9')
		at++;
	if (at > from)
		number_parse(from, at, out);
	return at;
}

/*
 * "1/8" and "3 5/8", as sizes in inches are written. Leaves the cursor where it is if there is no
 * fraction.
 */
static int read_fraction(struct cursor *cursor, bool *found, double *out)
{
	const char *at = cursor->at, *end = cursor->end;
	double sign = *at == '-' ? -1 : 1, whole = 0, above, below;
	at += *at == '-' || *at == '+';

	const char *slash = read_digits(at, end, &above);
	if (slash > at && slash < end && is_space(*slash)) {
		whole = above;
		for (at = slash; at < end && is_space(*at);)
			at++;
		slash = read_digits(at, end, &above);
	}
	const char *last = slash > at && slash < end && *slash == '/'
				   ? read_digits(slash + 1, end, &below)
				   : NULL;
	*found = last && last > slash + 1;
	if (!*found)
		return 0;
	if (!(above < below))
		return refuse(cursor, at, last, "the fraction '%s' is not below 1",
			      show(at, last).text);
	*out = sign * (whole + above / below);
	cursor->at = last;
	return 0;
}

static int read_number(struct cursor *cursor, double *out)
{
	bool fraction = false;
	if (cursor->kind == VALUE_LENGTH && cursor->at < cursor->end &&
	    read_fraction(cursor, &fraction, out) < 0)
		return -1;
	if (fraction)
		return 0;

	size_t length = number_parse(cursor->at, cursor->end, out);
	const char *after = cursor->at + length;
	if (length == 0)
		return refuse(cursor, cursor->at, cursor->end, "'%s' is not %s",
			      show(cursor->at, cursor->end).text, unit_list(cursor->kind)->noun);
	if (after + 1 < cursor->end && *after == ',' && after[1] >= '0' && after[1] <= '9')
		return refuse(cursor, after, after + 1,
			      "numbers are written with a point, not a comma");
	if (!isfinite(*out))
		return refuse(cursor, cursor->at, after, "'%s' is too large",
			      show(cursor->at, after).text);
	cursor->at = after;
	return 0;
}

/* What a value without unit may be: a number, a whole number, or a share from 0 to 1. */
static int check_bare(struct cursor *cursor, double value)
{
	const struct units *units = unit_list(cursor->kind);
	struct shown_word written = show(cursor->figure, cursor->at);
	if (cursor->kind == VALUE_COUNT && (value != floor(value) || value < 0))
		return refuse(cursor, cursor->figure, cursor->at, "'%s' is not a whole number",
			      written.text);
	if (cursor->kind == VALUE_SHARE && !(value >= 0 && value <= 1))
		return refuse(cursor, cursor->figure, cursor->at,
			      "'%s' without unit is not from 0 to 1; write '%s %%'", written.text,
			      written.text);
	if (cursor->kind == VALUE_SHARE || units->count == 0)
		return 0;

	char list[80];
	word_hint(list, sizeof(list), "", units->names, units->count);
	return refuse(cursor, cursor->figure, cursor->at, "missing unit behind '%s'; %s",
		      written.text, list);
}

static int read_unit(struct cursor *cursor, double *out)
{
	const struct units *units = unit_list(cursor->kind);
	const char *from = cursor->at, *to = cursor->end;
	if (units->count == 0)
		return refuse(cursor, from, to, "unexpected '%s' behind the number",
			      show(from, to).text);
	for (size_t i = 0; i < units->count; i++) {
		const struct unit *unit = &units->list[i];
		if (strlen(unit->name) == (size_t)(to - from) &&
		    memcmp(unit->name, from, (size_t)(to - from)) == 0) {
			*out = *out * unit->times / unit->by;
			return 0;
		}
	}
	char hint[80];
	struct shown_word written = show(from, to);
	word_hint(hint, sizeof(hint), written.text, units->names, units->count);
	return refuse(cursor, from, to, "unknown unit '%s' of %s; %s", written.text, units->noun,
		      hint);
}

static int read_flag(struct cursor *cursor, double *out)
{
	static const char *const WORDS[] = {"no", "yes"};
	struct shown_word written = show(cursor->at, cursor->end);
	size_t at = word_find(written.text, WORDS, 2);
	if (at == 2)
		return refuse(cursor, cursor->at, cursor->end, "'%s' is neither yes nor no",
			      written.text);
	*out = (double)at;
	return 0;
}

int value_parse(const char *text, enum value_kind kind, double *out, struct value_error *error)
{
	struct cursor cursor = {text, text, text, text + strlen(text), kind, error};
	skip_spaces(&cursor);
	while (cursor.end > cursor.at && is_space(cursor.end[-1]))
		cursor.end--;
	cursor.figure = cursor.at;
	if (kind == VALUE_FLAG)
		return read_flag(&cursor, out);

	double value;
	if (read_number(&cursor, &value) < 0)
		return -1;
	const char *number_end = cursor.at;
	skip_spaces(&cursor);
	int result = cursor.at < cursor.end ? read_unit(&cursor, &value) : 0;
	if (result == 0 && cursor.at == cursor.end) {
		cursor.at = number_end;
		result = check_bare(&cursor, value);
	}
	if (result == 0)
		*out = value;
	return result;
}

enum value_kind value_kind_of_option(enum cutlint_option_kind kind)
{
	switch (kind) {
	case CUTLINT_OPTION_LENGTH:
		return VALUE_LENGTH;
	case CUTLINT_OPTION_AREA:
		return VALUE_AREA;
	case CUTLINT_OPTION_ANGLE:
		return VALUE_ANGLE;
	case CUTLINT_OPTION_SHARE:
		return VALUE_SHARE;
	case CUTLINT_OPTION_FLAG:
		return VALUE_FLAG;
	case CUTLINT_OPTION_NUMBER:
	case CUTLINT_OPTION_WORD:
		break;
	}
	return VALUE_NUMBER;
}

/*
 * The figure whose reading in the unit gives the value exactly, and of several such neighbours the
 * one that is shortest to write. False where none does.
 */
static bool figure_in_unit(double value, const struct unit *unit, char out[32])
{
	if (value == 0) {
		memcpy(out, "0", 2);
		return true;
	}
	double figure = value * unit->by / unit->times;
	for (int i = 0; i < 3; i++)
		figure = nextafter(figure, -INFINITY);

	bool found = false;
	for (int i = 0; i < 7; i++, figure = nextafter(figure, INFINITY)) {
		char written[32];
		if (figure * unit->times / unit->by != value)
			continue;
		number_format(figure, written);
		if (!found || strlen(written) < strlen(out))
			memcpy(out, written, sizeof(written));
		found = true;
	}
	return found;
}

void value_format(double value, enum value_kind kind, char out[48])
{
	const struct units *units = unit_list(kind);
	char figure[32];
	if (kind == VALUE_FLAG) {
		snprintf(out, 48, "%s", value != 0 ? "yes" : "no");
		return;
	}
	for (size_t i = 0; i < units->count; i++) {
		if (!figure_in_unit(value, &units->list[i], figure))
			continue;
		snprintf(out, 48, "%s %s", figure, units->list[i].name);
		return;
	}
	number_format(value, figure);
	snprintf(out, 48, "%s", figure);
}
