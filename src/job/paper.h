/* paper.h - sizes of cards. */
#ifndef JOB_PAPER_H
#define JOB_PAPER_H

#include "job/value.h"

struct paper_size {
	double width_mm, height_mm;
};

/*
 * Reads a named size ("ISO A6", "US A6", "DL", and plain "A5" where one system only has the name)
 * or two lengths ("105 mm x 148 mm"). Returns 0, or -1 with a reason.
 */
int paper_parse(const char *text, struct paper_size *out, struct value_error *error);

/* Reads two lengths: "105 mm x 148 mm". Returns 0, or -1 with a reason that calls it `what`. */
int paper_parse_lengths(const char *text, const char *what, struct paper_size *out,
			struct value_error *error);

/* Whether a text is meant as two lengths, not as a name. */
bool paper_is_lengths(const char *text);

#endif
