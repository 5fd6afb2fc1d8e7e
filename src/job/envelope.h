/* envelope.h - sizes of envelopes. */
#ifndef JOB_ENVELOPE_H
#define JOB_ENVELOPE_H

#include "job/paper.h"

/*
 * Reads the inner size of an envelope: a name ("C6", "DL", "US A7") or two lengths. Returns 0, or
 * -1 with a reason.
 */
int envelope_parse(const char *text, struct paper_size *out, struct value_error *error);

/* For a card's size that names an envelope: true, with the card that fits as the reason. */
bool envelope_refuse(const char *text, struct value_error *error);

/* The envelope that a card is usually sent in: "C6" for "ISO A6". NULL without one. */
const char *envelope_for(const char *card);

#endif
