#include "report/json.h"

#include <math.h>
#include <string.h>

#include "base/utf8.h"

/*
 * 15 significant digits write figures as they were rounded, never as 0.10000000000000001.
 */
#define DIGITS 15

json_t *json_of_string(const char *string)
{
	if (!string)
		return json_null();
	if (utf8_valid(string, strlen(string)))
		return json_string(string);
	struct text text = {0};
	text_add_escaped(&text, string);
	json_t *escaped = text.failed ? NULL : json_string(text.bytes);
	text_finish(&text);
	return escaped;
}

json_t *json_of_figure(double value)
{
	if (!isfinite(value))
		return json_null();
	double rounded = round(value * 1e6) / 1e6;
	return json_real(rounded == 0 ? 0.0 : rounded);
}

static int add(const char *bytes, size_t length, void *out)
{
	struct text *text = out;
	text_add(text, bytes, length);
	return text->failed ? -1 : 0;
}

/* jansson itself does not notice all failures of what it writes into; the text keeps them. */
int json_add_text(struct text *out, const json_t *value, int indent)
{
	size_t layout = JSON_ENCODE_ANY | (indent ? JSON_INDENT(indent) : JSON_COMPACT);
	size_t flags = layout | JSON_REAL_PRECISION(DIGITS);
	if (!value || json_dump_callback(value, add, out, flags) < 0)
		out->failed = true;
	return out->failed ? -1 : 0;
}
