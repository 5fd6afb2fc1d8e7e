/* value.h - values with units, as job files and options write them. */
#ifndef JOB_VALUE_H
#define JOB_VALUE_H

#include <stdbool.h>

#include "cutlint/rule.h"

enum value_kind {
	VALUE_LENGTH,   /* mm; mm cm in pt px um */
	VALUE_AREA,     /* mm²; mm2 cm2 in2 */
	VALUE_ANGLE,    /* radians; deg rad */
	VALUE_SHARE,    /* 0.2; % or a plain number from 0 to 1 */
	VALUE_SPEED,    /* mm/s; mm/s mm/min in/min in/s */
	VALUE_POWER,    /* W; W mW */
	VALUE_GRAMMAGE, /* g/m²; g/m2 gsm */
	VALUE_NUMBER,
	VALUE_COUNT, /* a whole number */
	VALUE_FLAG   /* yes no */
};

/* Why a value was refused: one sentence without full stop, in the caller's buffer. */
struct value_error {
	char text[256];
	unsigned offset, length; /* the faulty part of the text */
};

/* Reads all of `text`. Returns 0, or -1 with a reason that names the nearest valid unit. */
int value_parse(const char *text, enum value_kind kind, double *out, struct value_error *error);

/* The kind that an option's values have (not for words). */
enum value_kind value_kind_of_option(enum cutlint_option_kind kind);

/* Writes a value of the kind as a job file would: "0.35 mm". `out` holds 48 bytes. */
void value_format(double value, enum value_kind kind, char out[48]);

#endif
