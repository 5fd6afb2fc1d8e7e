/* lettering.h - which shapes are lettering that differs from card to card. */
#ifndef JOB_LETTERING_H
#define JOB_LETTERING_H

#include "job/reading.h"

/* Reads the `[lettering]` section. */
void job_read_lettering(struct reading *reading, const struct job_section *section);

/* Frees what it owns outside the arena. */
void job_lettering_finish(struct job *job);

/*
 * Sets `lettering` of every shape of art: the outermost element, from the root down, whose path of
 * names the section's pattern matches. Roles must be set. Returns 0, or -1 with a fatal notice.
 */
int job_mark_lettering(const struct job *job, struct cutlint_design *design,
		       struct notices *notices);

#endif
