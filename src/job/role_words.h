/* role_words.h - the plain words that give a role where no pattern does. */
#ifndef JOB_ROLE_WORDS_H
#define JOB_ROLE_WORDS_H

#include "cutlint/model.h"

/*
 * The role that a name says by its words: whole words, case ignored, a plural s allowed; what is no
 * letter parts words. "as-seen", "guide" and "skip" win wherever they stand (the first of them in
 * this order); else the last word counts, as in "card outline". CUTLINT_ROLE_COUNT without any.
 */
enum cutlint_role role_words_find(const char *name, size_t length);

#endif
