/* caution.h - what to mind where a beam burns; docs/cautions.md in short. */
#ifndef PROOF_CAUTION_H
#define PROOF_CAUTION_H

#include "proof/writer.h"

/* A section of the page. */
void caution_write(struct writer *writer);

#endif
