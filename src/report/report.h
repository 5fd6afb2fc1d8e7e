/* report.h - findings and troubles as text for people and editors. */
#ifndef REPORT_REPORT_H
#define REPORT_REPORT_H

#include <stdbool.h>

#include "base/text.h"
#include "engine/finding.h"
#include "engine/trouble.h"

/*
 * Adds findings in the GNU Coding Standards' form for error messages:
 *     file:line:column: severity: message (element) [rule]
 *       suggestion: what to change
 *     file:line:column: note: what the related place is (element)
 * Columns count code points. The element is left out where the message names it. Findings that are
 * silenced are left out. Where several jobs are tried, "; with a.job" follows the message of what
 * is not found with all of them.
 */
void report_findings(struct text *out, const struct findings *findings, bool colour);

/* Adds troubles in the same form; those without a place as "cutlint: error: message". */
void report_troubles(struct text *out, const struct troubles *troubles, bool colour);

/* Adds "cutlint: note: message" and the like: the command's own voice. */
void report_own(struct text *out, enum cutlint_severity severity, const char *message, bool colour);

/* Findings counted over all files. */
struct tally {
	uint32_t by_severity[CUTLINT_ERROR + 1]; /* those that count */
	uint32_t silenced;
	uint32_t file_count, failed_count; /* failed: not checked, or not by all rules */
};

void tally_add(struct tally *tally, const struct findings *findings);

/* Adds a line such as "2 errors, 1 warning in 1 file; 3 silenced". */
void report_tally(struct text *out, const struct tally *tally);

#endif
