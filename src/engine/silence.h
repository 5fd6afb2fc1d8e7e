/*
 * silence.h - what the maker has looked at and accepts, written on the drawing's elements in the
 * namespace REMARK_NAMESPACE. Each holds for the element and all that stands in it:
 *
 *     cutlint:silence="RULE: reason"             its findings are silenced
 *     cutlint:silence="RULE 0.30 mm: reason"     those whose figure is no worse than that
 *     cutlint:severity="RULE note: reason"       its findings get this severity
 *
 * Several stand one behind the other, parted by `;`.
 */
#ifndef ENGINE_SILENCE_H
#define ENGINE_SILENCE_H

#include "engine/configure.h"
#include "engine/finding.h"

struct remark_word; /* one entry of an attribute */

/* All of a drawing. Start from {.arena = ..., .design = ...}. */
struct silences {
	struct arena *arena;
	const struct cutlint_design *design;
	struct remark_word *words; /* in document order */
	uint32_t count, capacity;
};

/*
 * Reads the drawing's attributes. One that can't be read or gives no reason silences nothing and
 * becomes a finding `bad-silence`. Where memory ran out, the findings are failed.
 */
void silences_read(struct silences *silences, struct findings *findings);

/*
 * Silences findings that name an element, by their own place or a related one; of several words the
 * innermost counts. What rules say of the job file is not the drawing's to silence.
 */
void silences_apply(struct silences *silences, struct findings *findings);

/*
 * Silences what rules find that the job has switched off for a stretch of files with this drawing,
 * the job's own lines included. `met` has a flag for each stretch of the setup: set where its rule
 * has a finding.
 */
void silences_apply_stretches(const struct setup *setup, struct findings *findings, bool *met);

/*
 * Adds a finding `unused-silence` for each that met no finding, unless the job has switched its
 * rule off: then that can't be told.
 */
void silences_report_unused(const struct silences *silences, const struct setup *setup,
			    struct findings *findings);

#endif
