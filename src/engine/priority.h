/* priority.h - one cause, one finding. */
#ifndef ENGINE_PRIORITY_H
#define ENGINE_PRIORITY_H

#include "engine/finding.h"

/*
 * Drops findings that only repeat, at the same place, the cause of another one: see the table in
 * priority.c. Two findings are at the same place if they name one element in common (their own or
 * that of a related place) at most PRIORITY_NEAR_MM apart on the sheet.
 */
void priority_apply(struct findings *findings);

#define PRIORITY_NEAR_MM 1.0

#endif
