/*
 * fingerprint.h - what tells a finding from the others of its drawing and stays the same while the
 * drawing changes elsewhere.
 *
 * It is a digest of: the rule; the elements of its place and of its related places; where on them
 * it lies; and a number, from 0, among those that are equal in all of this, in the order of the
 * findings. An element is known by its tag and id. One without an id is known by the tags from the
 * nearest ancestor that has one, and by its attributes that place and draw it, in the order of
 * their names. Where it lies is measured on the sheet from the first point of the element, in
 * tenths of a millimetre. In a job file it is the text of the place.
 *
 * So it changes with what is drawn, not with lines and columns, the order of attributes, white
 * space, style, or where elements stand on the sheet. Neither the file nor the message is part of
 * it.
 */
#ifndef REPORT_FINGERPRINT_H
#define REPORT_FINGERPRINT_H

#include "base/source.h"
#include "engine/finding.h"

/* Digits of a fingerprint. */
#define FINGERPRINT_LENGTH 32

/* Those of one drawing's findings. */
struct fingerprints;

/* The design may be NULL. NULL where memory ran out. Destroy with fingerprints_destroy. */
struct fingerprints *fingerprints_create(const struct cutlint_design *design,
					 const struct source *job);
/* Takes NULL. */
void fingerprints_destroy(struct fingerprints *fingerprints);

/* Writes the fingerprint of the next finding. Returns 0, or -1 where memory ran out. */
int fingerprints_next(struct fingerprints *fingerprints, const struct finding *finding,
		      char out[FINGERPRINT_LENGTH + 1]);

#endif
