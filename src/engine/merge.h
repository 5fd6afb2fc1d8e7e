/* merge.h - what one drawing gets from several jobs, as one list. */
#ifndef ENGINE_MERGE_H
#define ENGINE_MERGE_H

#include "engine/finding.h"

/*
 * Moves to `out` the findings of `count` jobs with their names, sorted: once what all of them find;
 * what only some find names these ("thin.job and black.job").
 */
void findings_merge(struct findings *out, const struct findings *each, const char *const *names,
		    uint32_t count);

#endif
