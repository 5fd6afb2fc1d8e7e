/* worker.h - the process that the rules run in. */
#ifndef ENGINE_WORKER_H
#define ENGINE_WORKER_H

#include <stdint.h>

#include "engine/isolate.h"
#include "engine/rule_check.h"

/* What a rule of this run starts from. */
struct cutlint_check worker_check(const struct rules_run *run);

/*
 * Runs the rules from number `first` on, writes frames into the pipe, and ends the process.
 */
_Noreturn void worker_run(const struct rules_run *run, uint32_t first, int pipe);

#endif
