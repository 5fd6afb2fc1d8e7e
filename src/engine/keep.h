/* keep.h - findings that outlive the drawing in which they were met. */
#ifndef ENGINE_KEEP_H
#define ENGINE_KEEP_H

#include "engine/finding.h"

/* Copies a finding to `kept`, unless the same stands there; one that counts wins over a silenced
 * one. */
void findings_keep(struct findings *kept, const struct finding *finding);

/*
 * Takes what is said of the job file out of `findings` and keeps it in `kept`.
 */
void findings_keep_job(struct findings *kept, struct findings *findings);

#endif
