/* json.h - values of a report as JSON, on top of jansson. */
#ifndef REPORT_JSON_H
#define REPORT_JSON_H

#include <jansson.h>

#include "base/text.h"

/*
 * A string, null for NULL. File names need not be UTF-8 and JSON must be: then bytes that are not
 * come as \xHH. NULL where memory ran out, as in all of these.
 */
json_t *json_of_string(const char *string);

/* A figure rounded to six decimals, for lengths a nanometre; null for what is not finite. */
json_t *json_of_figure(double value);

/* Adds a value as text, in one line or with `indent` spaces a level. Returns 0, or -1: it is not
 * whole. */
int json_add_text(struct text *out, const json_t *value, int indent);

#endif
